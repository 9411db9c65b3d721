"""Plan a trial, decide it, tap its sets, set its test day."""

from __future__ import annotations

import re
from datetime import date, timedelta
from typing import Any

from django import forms

from analysis.core.decision.days import is_closed, working_day
from analysis.trials.reading import closed_days
from athletes.models import Athlete, Decision, Trial
from athletes.models.choices import InNewStyle, Style, SuccessMeasure, TrialStatus, Verdict
from athletes.units.fields import choice_field
from athletes.units.loads import UnreadableAmount, parse_load

DAY = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
STOP_RULES = (
    ("pain-twice", "pain in two sessions running ends the trial"),
    ("hip-pain", "hip, groin or glute pain stops the day and narrows the stance"),
    ("two-misses", "two misses end a day"),
    ("soreness", "soreness of 5 or more of 10 two weeks running: back to the old style, then think"),
)


class TrialForm(forms.ModelForm):
    """The plan of a trial; typed loads and their unit are kept beside the kilograms."""

    avoid = forms.CharField(
        label="Dates it must not cross", required=False, max_length=200,
        help_text="Meets, exams, journeys: as 2026-05-09, several with commas.",
    )  # fmt: skip
    stop_rules = forms.MultipleChoiceField(
        label="Stop rules", required=False, choices=STOP_RULES, widget=forms.CheckboxSelectMultiple,
        initial=[key for key, _ in STOP_RULES],
    )  # fmt: skip
    knowing = forms.BooleanField(
        label="I have read the cautions about this plan and start it all the same", required=False
    )

    class Meta:
        model = Trial
        fields = (
            "new_style", "old_style", "started_on", "weeks", "pulls_a_week", "old_style_plan", "baseline_new_typed",
            "baseline_old_typed", "baseline_unit", "no_baseline_reason", "success", "decide_on", "note",
        )  # fmt: skip
        widgets = {"started_on": DAY, "decide_on": DAY}
        labels = {
            "pulls_a_week": "Pulls a week in the new style",
            "old_style_plan": "How the old style is kept lightly",
            "baseline_new_typed": "Baseline, new style",
            "baseline_old_typed": "Baseline, old style",
            "baseline_unit": "Unit of the baselines",
            "no_baseline_reason": "Or why there is no baseline test",
            "success": "What success means",
            "decide_on": "Decision date",
        }
        help_texts = {
            "old_style": "Leave empty for a lifter without a trained style.",
            "weeks": "Usually 10 to 12, at least 8 (common practice, no source).",
            "old_style_plan": "Often one light session in 7 to 14 days at 60 to 75 % (common practice, no source).",
            "baseline_new_typed": "A submaximal test, for example the best triple at RPE 8 as an estimated best.",
        }

    def __init__(self, *args: Any, athlete: Athlete, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.athlete = athlete
        self.instance.athlete = athlete
        self.fields["old_style"].required = False
        choice_field(self, "old_style").choices = [("", "no trained style"), *Style.choices]
        self.fields["started_on"].initial = today
        self.closed = closed_days(athlete.club, today)
        self.fields["decide_on"].initial = working_day(today + timedelta(weeks=12), self.closed)
        self.fields["baseline_unit"].initial = athlete.weight_unit
        choice_field(self, "success").choices = SuccessMeasure.choices

    def clean_avoid(self) -> list[str]:
        """ISO days of the dates that must not be crossed."""
        days = []
        for text in filter(None, re.split(r"[,;\s]+", self.cleaned_data["avoid"].strip())):
            try:
                days.append(date.fromisoformat(text).isoformat())
            except ValueError:
                raise forms.ValidationError(f"“{text}” is not a day; write it as 2026-05-09.") from None
        return days

    def clean(self) -> dict[str, Any]:
        """Cross-checks; each message stands at the field it is about."""
        data = super().clean() or self.cleaned_data
        if data.get("new_style") and data.get("new_style") == data.get("old_style"):
            self.add_error("old_style", "The trial needs two different styles.")
        if data.get("weeks") is not None and not 1 <= data["weeks"] <= 52:
            self.add_error("weeks", f"“{data['weeks']}” weeks: a trial lasts 1 to 52 weeks.")
        if data.get("pulls_a_week") is not None and not 0.25 <= data["pulls_a_week"] <= 7:
            self.add_error("pulls_a_week", f"“{data['pulls_a_week']:g}” pulls a week: 0.25 to 7 is possible.")
        if data.get("started_on") and data.get("decide_on") and data["decide_on"] <= data["started_on"]:
            self.add_error("decide_on", "The decision date must come after the start.")
        if data.get("decide_on") and is_closed(data["decide_on"], self.closed):
            free = working_day(data["decide_on"], self.closed)
            self.add_error("decide_on", f"Nothing is decided on that day; {free:%-d %B %Y} is the next open one.")
        if self.athlete.trials.filter(status=TrialStatus.RUNNING).exists():
            self.add_error(None, "A trial is already running; decide it first.")
        self._read_baselines(data)
        return data

    def _read_baselines(self, data: dict[str, Any]) -> None:
        for side in ("new", "old"):
            typed = data.get(f"baseline_{side}_typed")
            if typed:
                try:
                    amount = parse_load(typed, data.get("baseline_unit") or "kg")
                except UnreadableAmount as wrong:
                    self.add_error(f"baseline_{side}_typed", str(wrong))
                else:
                    setattr(self.instance, f"baseline_{side}_kg", amount.value)
        told = data.get("baseline_new_typed") or data.get("no_baseline_reason")
        if not told:
            self.add_error(
                "no_baseline_reason", "Note a baseline, or why there is none (injury, no time, first lifts)."
            )

    def save(self, commit: bool = True) -> Trial:
        """The trial with its dates and stop rules; stored by the service."""
        self.instance.avoid_dates = self.cleaned_data["avoid"]
        self.instance.stop_rules = [words for key, words in STOP_RULES if key in self.cleaned_data["stop_rules"]]
        return super().save(commit)


class TapForm(forms.Form):
    """Was this set in the new style?"""

    set = forms.IntegerField()
    answer = forms.ChoiceField(choices=[("", "take back"), *InNewStyle.choices], required=False)


class DecisionForm(forms.ModelForm):
    """The coach's verdict with reasons and words for the lifter."""

    decide_on = forms.DateField(
        label="If extended: the new decision date", required=False, widget=DAY,
        help_text="Usually four weeks on (common practice, no source).",
    )  # fmt: skip

    class Meta:
        model = Decision
        fields = ("verdict", "reasons", "words_for_athlete")
        labels = {"words_for_athlete": "In plain words for the lifter", "verdict": "Decision"}
        help_texts = {"reasons": "What decided it: attendance, level, tolerance, the lifter's own wish."}
        widgets = {"reasons": forms.Textarea(attrs={"rows": 4}), "words_for_athlete": forms.Textarea(attrs={"rows": 3})}

    def __init__(self, *args: Any, trial: Trial, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.trial, self.today = trial, today
        self.instance.on = today
        self.fields["verdict"].required = True
        choice_field(self, "verdict").choices = [("", "choose"), *Verdict.choices]

    def clean(self) -> dict[str, Any]:
        """An extension needs a date after today."""
        data = super().clean() or self.cleaned_data
        if data.get("verdict") == Verdict.EXTEND:
            if not data.get("decide_on"):
                self.add_error("decide_on", "An extension needs its new decision date.")
            elif data["decide_on"] <= self.today:
                self.add_error("decide_on", "The new decision date must come after today.")
        return data


class TestDayForm(forms.Form):
    """When the test day is and how hard: never a maximal single for a minor or with pain noted."""

    __test__ = False
    day = forms.DateField(label="Day", widget=DAY)
    reps = forms.IntegerField(label="Reps of the top set", min_value=1, max_value=5, initial=3)
    rpe_cap = forms.FloatField(label="RPE cap", min_value=6, max_value=9, initial=8)

    def __init__(self, *args: Any, today: date, least_reps: int = 1, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.least_reps = least_reps
        self.fields["day"].initial = today

    def clean_reps(self) -> int:
        """Triples at least where a maximal single is not offered."""
        reps = self.cleaned_data["reps"]
        if reps < self.least_reps:
            raise forms.ValidationError(f"For this lifter a test is at least a set of {self.least_reps} reps.")
        return reps
