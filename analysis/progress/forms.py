"""What a dashboard shows: the footing and the span."""

from typing import Any

from django import forms

from analysis.core.records.training import ProgressBoard
from analysis.progress.page import SPAN_WORDS
from athletes.units.fields import choice_field


class ProgressForm(forms.Form):
    """Which comparable sets, and since when; an unknown choice is said and the usual one is shown."""

    footing = forms.ChoiceField(label="Comparable sets", required=False)
    span = forms.ChoiceField(label="Span", choices=SPAN_WORDS, required=False)

    def __init__(self, *args: Any, board: ProgressBoard, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        choices = [(f.key, f"{f.label} ({f.sessions} days)") for f in board.footings]
        choice_field(self, "footing").choices = choices
        for name, words in (("footing", "These sets are not in this log"), ("span", "There is no such span")):
            self.fields[name].error_messages["invalid_choice"] = f"{words}; the usual ones are shown instead."

    @property
    def chosen(self) -> tuple[str, str]:
        """Footing key ("" for the usual one) and span."""
        data = getattr(self, "cleaned_data", {}) if self.is_valid() or self.is_bound else {}
        return data.get("footing", ""), data.get("span") or SPAN_WORDS[0][0]
