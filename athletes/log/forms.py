"""The form of one logged set, and the filter of the list."""

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from typing import Any

from django import forms
from django.forms.boundfield import BoundField
from django.utils import timezone

from athletes.log.pull_form import PullForm
from athletes.models import LiftSet
from athletes.models.choices import Lift, Result, Style, choices
from athletes.schema.fields import FieldSpec
from athletes.schema.sets import set_specs
from athletes.units.efforts import parse_effort
from athletes.units.fields import read_amount
from athletes.units.loads import UnreadableAmount, parse_load
from athletes.units.schema_fields import callback, form_fields

EARLIEST = date(1950, 1, 1)
SET_SPECS = {name: spec for name, spec in set_specs().items() if spec.kind != "day"}
FORM_FIELDS = form_fields(SET_SPECS.values())
FORM_FIELDS["reps_tried"].required, FORM_FIELDS["reps_tried"].initial = True, 1


class LiftForm(PullForm):
    """One set as it happened. Left empty, reps made follow from the result: all when made, one fewer when missed."""

    class Meta:
        model = LiftSet
        fields = ["day", *FORM_FIELDS, "bar", "note"]
        formfield_callback = callback(FORM_FIELDS)
        widgets = {"day": forms.DateInput({"type": "date"}, format="%Y-%m-%d"), "note": forms.TextInput()}

    def rule_specs(self) -> Iterable[FieldSpec]:
        return SET_SPECS.values()

    def group(self, name: str) -> Iterator[BoundField]:
        """The boxes of one part of the page, in the order of the schema; a named bar stands before its kind."""
        for spec in SET_SPECS.values():
            if spec.field.group == name:
                if spec.column == "bar_kind":
                    yield self["bar"]
                for column in spec.field.typed or (spec.column,):
                    yield self[column]

    @property
    def groups(self) -> dict[str, list[BoundField]]:
        """The boxes of the page by part."""
        return {name: list(self.group(name)) for name in ("set", "miss", "heavy", "tags", "flags")}

    def clean_day(self) -> date:
        day = self.cleaned_data["day"]
        if day > timezone.now().date() + timedelta(days=1):
            raise forms.ValidationError(f"{day:%-d %B %Y} is in the future; a set is logged once it was lifted.")
        if day < EARLIEST:
            raise forms.ValidationError(f"{day:%-d %B %Y} is too long ago; check the year.")
        if self.athlete.born and day < self.athlete.born:
            raise forms.ValidationError(f"{day:%-d %B %Y} is before the athlete was born; check the year.")
        return day

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


class LiftFilter(forms.Form):
    """Which sets the list shows; a value that cannot be read is said and shows everything."""

    lift = forms.ChoiceField(choices=choices(Lift, "every lift"), required=False)
    style = forms.ChoiceField(choices=choices(Style, "every style"), required=False)
    result = forms.ChoiceField(choices=choices(Result, "every result"), required=False)
    since = forms.DateField(label="From", required=False, widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))
    until = forms.DateField(label="To", required=False, widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if data.get("since") and data.get("until") and data["since"] > data["until"]:
            self.add_error("until", "The last day lies before the first.")
        return data

    def lookups(self) -> dict[str, Any]:
        """The filter as lookups on sets; {} when the form is not valid."""
        if not self.is_valid():
            return {}
        names = {"lift": "lift", "style": "style", "result": "result", "since": "day__gte", "until": "day__lte"}
        return {look: self.cleaned_data[name] for name, look in names.items() if self.cleaned_data[name]}
