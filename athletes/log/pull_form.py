"""What a plan's line and a logged set have in common: the pull, its bar and its start."""

from typing import Any

from django import forms
from django.db.models import Choices

from athletes.models import Athlete
from athletes.models.choices import LengthUnit, Lift, Start, Style
from athletes.units.loads import Amount, parse_height
from athletes.units.typed import NumberField, read_amount, row_field

PULL_FIELDS = [
    "lift",
    "style",
    "bar",
    "bar_kind",
    "grip",
    "straps",
    "belt",
    "suit",
    "start",
    "start_typed",
    "start_unit",
    "disc_diameter_cm",
    "dead_stop",
    "paused",
]
NO_BAR = "not one of the club's named bars"


def blank_first(choices: type[Choices], words: str) -> list[tuple[str, str]]:
    return [("", words), *choices.choices]


class PullForm(forms.ModelForm):
    """What a plan's line and a logged set share: the pull, its bar and its start."""

    lift = forms.ChoiceField(choices=Lift.choices, initial=Lift.DEADLIFT)
    style = forms.ChoiceField(choices=blank_first(Style, "not a style lift, or not noted"), required=False)
    start_typed = forms.CharField(label="Block height or deficit", max_length=20, required=False)
    start_unit = forms.ChoiceField(label="Its unit", choices=LengthUnit.choices, required=False)
    disc_diameter_cm = NumberField(
        label="Plate diameter, cm",
        what="Plate diameter",
        low=15,
        high=60,
        unit=" cm",
        required=False,
        help_text="45 unless smaller plates put the bar lower.",
    )

    def __init__(self, *args: Any, athlete: Athlete, **extra: Any) -> None:
        super().__init__(*args, **extra)
        self.athlete = athlete
        row_field(self, "bar").queryset = athlete.club.bars.order_by("name")
        row_field(self, "bar").empty_label = NO_BAR
        for name in ("bar_kind", "grip", "start"):
            self.fields[name].required = False
        for field in self.fields.values():
            if isinstance(field, forms.CharField) and not field.required:
                field.widget.attrs.setdefault("autocomplete", "off")

    def clean_disc_diameter_cm(self) -> float:
        return self.cleaned_data["disc_diameter_cm"] or 45.0

    def clean_bar_kind(self) -> str:
        return self.cleaned_data["bar_kind"] or "unknown"

    def clean_grip(self) -> str:
        return self.cleaned_data["grip"] or "unknown"

    def clean_start(self) -> str:
        return self.cleaned_data["start"] or Start.FLOOR

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if data.get("bar"):
            data["bar_kind"] = data["bar"].kind
        if data.get("lift") not in (Lift.DEADLIFT, None) and data.get("style"):
            self.add_error("style", "A style belongs to a deadlift; leave it empty for another lift.")
        self._clean_start_height(data)
        return data

    def is_as_stored(self, *names: str) -> bool:
        """Whether a stored row's typed text and unit come back unchanged: then its canonical value stays too."""
        return self.instance.pk is not None and not set(names) & set(self.changed_data)

    def _clean_start_height(self, data: dict[str, object]) -> None:
        if self.is_as_stored("start", "start_typed", "start_unit"):
            return
        height = read_amount(self, "start_typed", "start_unit", _height)
        if data.get("start") == Start.FLOOR:
            if data.get("start_typed"):
                self.add_error("start_typed", "A height was typed but the start says floor; choose block or deficit.")
            data["start_unit"], self.instance.start_cm = "", 0.0
        elif height is not None:
            data["start_typed"], data["start_unit"] = height.typed, height.unit
            self.instance.start_cm = height.value
        elif "start_typed" not in self.errors:
            self.add_error("start_typed", "Type how high the block is or how deep the deficit, such as 10 cm or 4 in.")


def _height(text: str, unit: str) -> Amount:
    return parse_height(text, unit if unit in ("cm", "in") else "cm")
