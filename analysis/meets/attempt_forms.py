"""Planned loads of an entry, and what the handler says of an attempt."""

from __future__ import annotations

from typing import Any

from django import forms

from analysis.core.meets.day import LIFTS, check_load
from analysis.core.meets.live import Lift as DayLift
from analysis.core.records.plain import CoreError
from analysis.meets.rules import COUNTED, entrant_of, rules_of
from athletes.models import MeetEntry
from athletes.models.choices import Lift, MissPosition, Result, RuleReason, WeightUnit
from athletes.units.efforts import parse_effort
from athletes.units.loads import Amount, UnreadableAmount, parse_load


class PlannedForm(forms.Form):
    """Three loads a coach plans."""

    first = forms.CharField(label="First", max_length=20, widget=forms.TextInput({"inputmode": "decimal"}))
    second = forms.CharField(label="Second", max_length=20, widget=forms.TextInput({"inputmode": "decimal"}))
    third = forms.CharField(label="Third", max_length=20, widget=forms.TextInput({"inputmode": "decimal"}))
    load_unit = forms.ChoiceField(label="Unit", choices=WeightUnit.choices, initial="kg")

    def clean(self) -> dict[str, Any]:
        """Each a load, rising."""
        data, before = super().clean() or self.cleaned_data, 0.0
        for name in ("first", "second", "third"):
            try:
                load = parse_load(data.get(name) or "", data.get("load_unit") or "kg") if name in data else None
            except UnreadableAmount as wrong:
                self.add_error(name, str(wrong))
                continue
            if load is not None and load.value <= before:
                self.add_error(name, f"“{load.typed}” is not more than the attempt before it.")
            if load is not None:
                data[f"{name}_load"], before = load, load.value
        return data

    @property
    def loads(self) -> list[Amount]:
        """The three loads of a valid form."""
        return [self.cleaned_data[f"{name}_load"] for name in ("first", "second", "third")]


class AttemptForm(forms.Form):
    """An attempt handed in, changed or lifted, as the handler says it."""

    lift = forms.ChoiceField(choices=[(lift, Lift(lift).label) for lift in LIFTS])
    number = forms.IntegerField(min_value=1, max_value=4)
    load_typed = forms.CharField(label="Load", max_length=20, widget=forms.TextInput({"inputmode": "decimal"}))
    load_unit = forms.ChoiceField(label="Unit", choices=WeightUnit.choices, required=False)
    result = forms.ChoiceField(required=False, choices=[("", "due"), *((r.value, r.label) for r in Result)])
    reason = forms.ChoiceField(required=False, choices=[("", "not noted"), *MissPosition.choices, *RuleReason.choices])
    saw = forms.CharField(required=False, max_length=120)
    knowing = forms.BooleanField(required=False, label="The officials allow it: keep it all the same")

    def __init__(self, *args: Any, entry: MeetEntry, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.entry = entry

    def clean(self) -> dict[str, Any]:
        """Reads the load and holds it against the rule set."""
        data = super().clean() or self.cleaned_data
        try:
            data["load"] = parse_load(data.get("load_typed") or "", data.get("load_unit") or "kg")
        except UnreadableAmount as wrong:
            self.add_error("load_typed", str(wrong))
            return data
        data["reason"] = fitting_reason(data.get("result", ""), data.get("reason", ""))
        if not self.errors and not data.get("result") and not data.get("knowing"):
            self._hold_against_rules(data)
        return data

    def _hold_against_rules(self, data: dict[str, Any]) -> None:
        """An attempt handed in keeps the steps, never goes down, and uses no change that is not left."""
        lift, number, meet = data["lift"], data["number"], self.entry.meet
        rule_set = rules_of(meet)
        if number > rule_set.attempts:
            self.add_error("number", f"This meet has {rule_set.attempts} attempts a lift.")
            return
        earlier = list(self.entry.attempts.filter(lift=lift, number__lt=number))
        if 1 < number <= COUNTED and len(earlier) == number - 1:
            try:
                check_load(entrant_of(self.entry, (lift,)), lift, number, data["load"].value, rule_set.rules)
            except CoreError as wrong:
                self.add_error("load_typed", f"By the rule set {wrong.reason}.")
        row = self.entry.attempts.filter(lift=lift, number=number).first()
        if row and row.declared_at and not row.result and row.load_kg != data["load"].value and number <= COUNTED:
            allowed = rule_set.rules.changes[lift][number - 1]
            if row.changes >= allowed:
                self.add_error("load_typed", f"Attempt {number} may be changed {allowed} times, and that is used up.")


def fitting_reason(result: str, reason: str) -> str:
    """The reason where it belongs to the result: a place for a miss, a rule for no lift."""
    if result in (Result.MISSED, Result.STOPPED_PAIN):
        return reason if reason in MissPosition.values else ""
    if result == Result.NO_LIFT:
        return reason if reason in RuleReason.values else ""
    return ""


WARM_UPS = ("before_last", "last")


def field(label: str, help_text: str = "") -> forms.CharField:
    """A short typed number."""
    widget = forms.TextInput({"inputmode": "decimal", "autocomplete": "off"})
    return forms.CharField(label=label, required=False, max_length=20, help_text=help_text, widget=widget)


class DayForm(forms.Form):
    """The last two warm-ups, each with its effort or the best its speed points to, and a number that is needed."""

    before_last_load = field("Warm-up before the last")
    before_last_effort = field("Its effort", "RPE, such as RPE 6, or reps left, such as 4.")
    before_last_speed = field("Or the best its speed points to")
    last_load = field("Last warm-up")
    last_effort = field("Its effort")
    last_speed = field("Or the best its speed points to")
    needed_load = field("Need a number", "The deadlift a place or a total asks for.")
    day_unit = forms.ChoiceField(label="Unit", choices=WeightUnit.choices, initial="kg", required=False)

    def clean(self) -> dict[str, Any]:
        """Loads in kg, efforts as reps left; what cannot be read is said at its field."""
        data = super().clean() or self.cleaned_data
        data["warm_ups"] = [one for one in map(self._warm_up, WARM_UPS) if one is not None]
        data["needed"] = self._load("needed_load")
        return data

    def _load(self, name: str) -> float | None:
        text = (self.cleaned_data.get(name) or "").strip()
        if not text:
            return None
        try:
            value = parse_load(text, self.cleaned_data.get("day_unit") or "kg").value
        except UnreadableAmount as wrong:
            self.add_error(name, str(wrong))
            return None
        if not value:
            self.add_error(name, "A load is more than 0.")
            return None
        return value

    def _warm_up(self, name: str) -> DayLift | None:
        load, speed = self._load(f"{name}_load"), self._load(f"{name}_speed")
        effort = (self.cleaned_data.get(f"{name}_effort") or "").strip()
        if load is None:
            if effort or speed:
                self.add_error(f"{name}_load", "Type the load of this warm-up.")
            return None
        left = None
        if effort:
            try:
                ends = [end for end in parse_effort(effort) if end is not None]
            except UnreadableAmount as wrong:
                self.add_error(f"{name}_effort", str(wrong))
                return None
            left = sum(ends) / len(ends) if ends else None
        return DayLift(load, 1, left, speed)
