"""A meet with its rule set, and its entries."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from analysis.core.meets.day import LIFTS
from analysis.meets.rules import RuleSet, lifts_of, rules_of
from athletes.models import Athlete, Meet, MeetEntry
from athletes.models.choices import Style
from athletes.units.fields import NumberField, choice_field, row_field
from athletes.units.loads import Amount, UnreadableAmount, parse_load, parse_mass, parse_total

ORDERS = (
    ("squat bench deadlift", "squat, bench press, deadlift"),
    ("deadlift", "deadlift only"),
    ("bench deadlift", "bench press, deadlift"),
)
RULE_FIELDS = (
    "attempts", "step_kg", "seconds_to_declare", "seconds_to_start", "opener_change_minutes",
    "changes_squat", "changes_bench", "changes_deadlift",
)  # fmt: skip


def changes_words(changes: tuple[int, ...]) -> str:
    """Changes allowed of each attempt, as they are typed: "1, 0, 2"."""
    return ", ".join(str(count) for count in changes)


class ChangesField(forms.CharField):
    """Changes allowed of the first, second and third attempt: three small whole numbers."""

    def clean(self, value: object) -> tuple[int, int, int]:
        text = super().clean(value)
        parts = [part.strip() for part in text.replace(";", ",").split(",")]
        if len(parts) != 3 or not all(part.isascii() and part.isdigit() and int(part) <= 9 for part in parts):
            raise ValidationError(f"“{text}” is not three whole numbers from 0 to 9, such as 1, 0, 2.")
        first, second, third = (int(part) for part in parts)
        return first, second, third


class MeetForm(forms.ModelForm):
    """Name, day, bar, lifts, and the rule set that holds on the day."""

    order = forms.ChoiceField(label="Lifts in their order", choices=ORDERS)
    attempts = forms.IntegerField(
        label="Attempts a lift", min_value=3, max_value=4, help_text="A fourth, if any, stays outside the total."
    )
    step_kg = NumberField(label="Step between loads, kg", what="Step", low=0.5, high=5, unit=" kg")
    seconds_to_declare = forms.IntegerField(
        label="Seconds to hand in the next attempt", min_value=10, max_value=600, help_text="Counted from a result."
    )
    seconds_to_start = forms.IntegerField(
        label="Seconds to begin the lift", min_value=10, max_value=600, help_text="Counted from the bar being ready."
    )
    opener_change_minutes = forms.IntegerField(
        label="Last minutes before a round without changes of openers", min_value=0, max_value=60
    )
    changes_squat = ChangesField(label="Changes allowed, squat", max_length=20, help_text="Of attempts 1, 2 and 3.")
    changes_bench = ChangesField(label="Changes allowed, bench press", max_length=20)
    changes_deadlift = ChangesField(label="Changes allowed, deadlift", max_length=20)

    class Meta:
        model = Meet
        fields = ("name", "day", "bar_kind", "note")
        widgets = {"day": forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")}
        labels = {"bar_kind": "Bar for the deadlift"}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        now = rules_of(self.instance)
        for name, value in told(now).items():
            self.fields[name].initial = value
        if self.instance.pk:
            self.fields["order"].initial = " ".join(lifts_of(self.instance))

    def save(self, commit: bool = True) -> Meet:
        """The meet with its lifts and rules; stored by the service."""
        data = self.cleaned_data
        self.instance.lifts = data["order"].split()
        self.instance.rule_set = {name: data[name] for name in RULE_FIELDS[:5]} | {
            "changes": {lift: list(data[f"changes_{lift}"]) for lift in LIFTS}
        }
        return super().save(commit)


def told(now: RuleSet) -> dict[str, object]:
    """A rule set as the form's fields show it."""
    rules = now.rules
    found: dict[str, object] = {f"changes_{lift}": changes_words(rules.changes[lift]) for lift in LIFTS}
    plain = ("step_kg", "seconds_to_declare", "seconds_to_start", "opener_change_minutes")
    return found | {name: getattr(rules, name) for name in plain} | {"attempts": now.attempts}


class EntryForm(forms.ModelForm):
    """One lifter of the meet: an athlete of the club, or a rival by a typed name.

    Body mass is asked only of those who may see it; both readings are kept as they were typed.
    """

    own_mass = forms.CharField(
        label="Body mass, own reading", required=False, max_length=20,
        help_text="Such as 82.4 or 181.5 lb. Private: for the coach and the lifter only.",
    )  # fmt: skip
    official_mass = forms.CharField(
        label="Body mass, official", required=False, max_length=20,
        help_text="As the meet wrote it, even where it differs: points and class go by it.",
    )  # fmt: skip
    goal_typed = forms.CharField(
        label="Goal of the day, deadlift", required=False, max_length=20, help_text="Such as 190 or 420 lb."
    )
    subtotal_typed = forms.CharField(
        label="Subtotal so far", required=False, max_length=20,
        help_text="For a lifter whose other lifts are not entered one by one.",
    )  # fmt: skip

    class Meta:
        model = MeetEntry
        fields = (
            "athlete",
            "rival_name",
            "style",
            "lot",
            "goal_typed",
            "subtotal_typed",
            "first_meet",
            "important",
            "note",
        )
        labels = {
            "rival_name": "Or a rival's name",
            "athlete": "Lifter of the club",
            "lot": "Lot number",
            "first_meet": "The lifter's first meet",
            "important": "Important: no style trial runs into it",
        }
        widgets = {"note": forms.TextInput()}

    def __init__(self, *args: Any, meet: Meet, asks_mass: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.meet = self.instance.meet = meet
        choice_field(self, "style").choices = [("", "the most practised one"), *Style.choices]
        self._set_who()
        if asks_mass:
            self.fields["own_mass"].initial = self.instance.mass_typed
            self.fields["official_mass"].initial = self.instance.official_mass_typed
        else:
            del self.fields["own_mass"], self.fields["official_mass"]

    def _set_who(self) -> None:
        if self.instance.pk is None:
            row_field(self, "athlete").queryset = Athlete.objects.filter(club=self.meet.club, active=True)
            row_field(self, "athlete").empty_label = "a rival, named below"
            return
        del self.fields["athlete"]
        if self.instance.athlete_id:
            del self.fields["rival_name"]

    def clean(self) -> dict[str, Any]:
        """One of athlete and rival; amounts read in the lifter's unit."""
        data = super().clean() or self.cleaned_data
        self._check_who(data)
        self._read("goal_typed", "goal_kg", parse_load, "goal_typed")
        self._read("subtotal_typed", "subtotal_kg", parse_total, "subtotal_typed")
        if "own_mass" in self.fields:
            self._read("own_mass", "mass_kg", parse_mass, "mass_typed")
            self._read("official_mass", "official_mass_kg", parse_mass, "official_mass_typed")
        return data

    def _check_who(self, data: dict[str, Any]) -> None:
        if self.instance.pk is not None or self.errors:
            return
        if bool(data.get("athlete")) == bool(data.get("rival_name")):
            self.add_error("rival_name", "Choose a lifter of the club or type a rival's name: one of the two.")
        elif data.get("athlete") and self.meet.entries.filter(athlete=data["athlete"]).exists():
            self.add_error("athlete", f"{data['athlete']} is entered already.")

    def _read(self, field: str, column: str, parse: Any, typed_column: str) -> None:
        text = (self.cleaned_data.get(field) or "").strip()
        athlete = self.cleaned_data.get("athlete") or self.instance.athlete
        try:
            amount = parse(text, athlete.weight_unit if athlete else "kg") if text else None
        except UnreadableAmount as wrong:
            self.add_error(field, str(wrong))
            return
        setattr(self.instance, column, amount.value if amount else None)
        setattr(self.instance, typed_column, with_unit(amount) if amount else "")
        self.cleaned_data[field] = with_unit(amount) if amount else ""


def with_unit(amount: Amount) -> str:
    """The amount as typed, its unit behind it, so that it is read the same way again."""
    return f"{amount.typed} {amount.unit}"
