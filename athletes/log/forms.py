"""The form of one logged set, and the filter of the list."""

from datetime import date, timedelta
from typing import Any

from django import forms
from django.utils import timezone

from athletes.log.pull_form import PULL_FIELDS, PullForm, blank_first
from athletes.models import LiftSet
from athletes.models.choices import (
    GaveWay,
    InNewStyle,
    Lift,
    MissPosition,
    Result,
    RuleReason,
    Shape,
    ShapeRegion,
    Style,
    WeightUnit,
)
from athletes.units.efforts import parse_effort
from athletes.units.loads import UnreadableAmount, parse_load
from athletes.units.typed import NumberField, read_amount

EARLIEST = date(1950, 1, 1)
MISS_RESULTS = (Result.MISSED, Result.STOPPED_PAIN, Result.NO_LIFT)
ROUNDED = (Shape.ROUNDED_BEFORE, Shape.ROUNDED_DURING)

SET_FIELDS = [
    "day",
    "load_typed",
    "load_unit",
    "reps_tried",
    "reps_made",
    "effort_typed",
    "result",
    "rule_reason",
    "miss_position",
    "second_position",
    "gave_way",
    "shape",
    "shape_region",
    "slowest_at",
    "what_changed",
    "pull_seconds",
    "depth_verified",
    "in_new_style",
    "is_test",
    "note",
]


class LiftForm(PullForm):
    """One set as it happened. Left empty, reps made follow from the result: all when made, one fewer when missed."""

    load_typed = forms.CharField(
        label="Load on the bar", max_length=20, widget=forms.TextInput({"inputmode": "decimal"})
    )
    load_unit = forms.ChoiceField(label="Unit", choices=WeightUnit.choices)
    reps_tried = forms.IntegerField(label="Reps tried", min_value=1, max_value=100, initial=1)
    reps_made = forms.IntegerField(
        label="Reps made",
        min_value=0,
        max_value=100,
        required=False,
        help_text="Empty: all of them when made, one fewer when missed.",
    )
    effort_typed = forms.CharField(
        label="RPE or reps in reserve",
        max_length=20,
        required=False,
        help_text="RPE as 8, 8.5 or 8-9; reps in reserve as RIR 2 or RIR 1-2.",
    )
    result = forms.ChoiceField(choices=Result.choices, initial=Result.MADE)
    rule_reason = forms.ChoiceField(label="Rule reason", choices=blank_first(RuleReason, "none"), required=False)
    miss_position = forms.ChoiceField(
        label="Stopped where", choices=blank_first(MissPosition, "not seen"), required=False
    )
    second_position = forms.ChoiceField(
        label="Or perhaps", choices=blank_first(MissPosition, "no second place"), required=False
    )
    gave_way = forms.ChoiceField(label="What gave way", choices=blank_first(GaveWay, "not seen"), required=False)
    slowest_at = forms.ChoiceField(
        label="Bar slowest at", choices=blank_first(MissPosition, "not noted"), required=False
    )
    what_changed = forms.ChoiceField(
        label="What changed", choices=blank_first(GaveWay, "nothing, or not noted"), required=False
    )
    shape_region = forms.ChoiceField(
        label="Rounded where", choices=blank_first(ShapeRegion, "not noted"), required=False
    )
    in_new_style = forms.ChoiceField(
        label="In the trial's new style", choices=blank_first(InNewStyle, "no trial"), required=False
    )
    shape = forms.ChoiceField(label="Back at this load", choices=Shape.choices, required=False)
    pull_seconds = NumberField(
        label="Time of the pull, s", what="Time of the pull", low=0.1, high=60, unit=" s", required=False
    )

    class Meta:
        model = LiftSet
        fields = [*SET_FIELDS, *PULL_FIELDS]
        widgets = {"day": forms.DateInput({"type": "date"}, format="%Y-%m-%d"), "note": forms.TextInput()}
        labels = {
            "bar_kind": "Kind of bar",
            "bar": "Bar",
            "straps": "straps",
            "belt": "belt",
            "suit": "suit",
            "dead_stop": "dead stop each rep",
            "paused": "paused",
            "depth_verified": "depth seen: hips level with knees",
            "is_test": "a test, not training",
        }

    def clean_day(self) -> date:
        day = self.cleaned_data["day"]
        if day > timezone.now().date() + timedelta(days=1):
            raise forms.ValidationError(f"{day:%-d %B %Y} is in the future; a set is logged once it was lifted.")
        if day < EARLIEST:
            raise forms.ValidationError(f"{day:%-d %B %Y} is too long ago; check the year.")
        if self.athlete.born and day < self.athlete.born:
            raise forms.ValidationError(f"{day:%-d %B %Y} is before the athlete was born; check the year.")
        return day

    def clean_shape(self) -> str:
        return self.cleaned_data["shape"] or Shape.UNSEEN

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if self.is_as_stored("load_typed", "load_unit"):
            data["load_typed"] = self.instance.load_typed
        elif (load := read_amount(self, "load_typed", "load_unit", parse_load)) is not None:
            self.instance.load_kg = load.value
            data["load_typed"], data["load_unit"] = load.typed, load.unit
        self._clean_effort(data)
        if "result" in data and data.get("reps_tried"):
            self._clean_reps(data)
            self._clean_result(data)
        if data.get("shape_region") and data.get("shape") not in ROUNDED:
            self.add_error("shape_region", "A rounded region was chosen, but the back is not noted as rounded.")
        return data

    def _clean_effort(self, data: dict[str, Any]) -> None:
        if self.is_as_stored("effort_typed"):
            return
        try:
            self.instance.rir_low, self.instance.rir_high = parse_effort(data.get("effort_typed") or "")
        except UnreadableAmount as problem:
            self.add_error("effort_typed", str(problem))

    def _clean_reps(self, data: dict[str, Any]) -> None:
        if "reps_made" in self.errors:
            return
        tried, made, result = data["reps_tried"], data.get("reps_made"), data["result"]
        if made is None:
            made = {Result.MADE: tried, Result.NOT_TRIED: 0}.get(result, tried - 1)
        data["reps_made"] = made
        if made > tried:
            self.add_error("reps_made", f"{made} made of {tried} tried cannot be; type how many were tried above.")
        elif result == Result.MADE and made == 0:
            self.add_error("reps_made", "The result says made, but no rep was made.")
        elif result == Result.MADE and made < tried:
            self.add_error(
                "reps_made", f"{made} made of {tried} tried: then the result is missed, or fewer were tried."
            )
        elif result in (Result.MISSED, Result.NO_LIFT) and made == tried:
            self.add_error(
                "reps_made", f"The result says {Result(result).label}, but all {tried} reps are noted as made."
            )
        elif result == Result.NOT_TRIED and made:
            self.add_error("reps_made", "The result says not tried, but reps are noted as made.")

    def _clean_result(self, data: dict[str, Any]) -> None:
        result = data["result"]
        if result == Result.NO_LIFT and not data.get("rule_reason"):
            self.add_error("rule_reason", "A no lift needs the rule; choose “another rule” when it was not told.")
        if result != Result.NO_LIFT and data.get("rule_reason"):
            self.add_error("rule_reason", "A rule reason belongs to a no lift; change the result or leave this empty.")
        for name in ("miss_position", "gave_way"):
            if data.get(name) and result not in MISS_RESULTS:
                self.add_error(name, "This belongs to a missed lift; for a made one use where the bar was slowest.")
        if data.get("second_position") and not data.get("miss_position"):
            self.add_error("second_position", "A second place needs a first one.")
        for name in ("slowest_at", "what_changed"):
            if data.get(name) and result != Result.MADE:
                self.add_error(name, "This belongs to a made set; for a missed one say where it stopped.")


class LiftFilter(forms.Form):
    """Which sets the list shows; a value that cannot be read is said and shows everything."""

    lift = forms.ChoiceField(choices=blank_first(Lift, "every lift"), required=False)
    style = forms.ChoiceField(choices=blank_first(Style, "every style"), required=False)
    result = forms.ChoiceField(choices=blank_first(Result, "every result"), required=False)
    since = forms.DateField(label="From", required=False, widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))
    until = forms.DateField(label="To", required=False, widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if data.get("since") and data.get("until") and data["since"] > data["until"]:
            self.add_error("until", "The last day lies before the first.")
        return data

    def lookups(self) -> dict[str, object]:
        """The filter as lookups on sets; {} when the form is not valid."""
        if not self.is_valid():
            return {}
        names = {"lift": "lift", "style": "style", "result": "result", "since": "day__gte", "until": "day__lte"}
        return {look: self.cleaned_data[name] for name, look in names.items() if self.cleaned_data[name]}
