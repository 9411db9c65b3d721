"""Attempts that read the day: the last two warm-ups and what was lifted, planned again at once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django import forms

from analysis.core.meets import Result as Taken
from analysis.core.meets.live import Lift as DayLift
from analysis.core.meets.live import belief_before, call_for_number, next_call
from analysis.meets.planning import EntryPlan
from analysis.meets.rules import standing_rows
from analysis.meets.words import chance_words
from athletes.models import MeetEntry
from athletes.models.choices import Lift, Result, WeightUnit
from athletes.units.efforts import parse_effort
from athletes.units.loads import UnreadableAmount, parse_load

WARM_UPS = ("before_last", "last")
# Rules of the trade that a plan is held against; common practice, no source.
TRADE = (
    "Nine of ten openers are made: one that could be tripled on a bad day.",
    "Second 3 to 6 % over the opener, third at 100 to 103 % of the best.",
    "A miss of strength is repeated or left; a miss of a rule may go up.",
    "Last warm-up about 90 to 93 % of the opener, 8 to 12 minutes before it.",
)
BASIS = {
    "log": "From the log alone; the opener’s chance comes after the last warm-ups.",
    "warm-ups": "Read from the log and today’s warm-ups.",
    "results": "Read from the log and what was lifted today.",
}
THIRD = {"": "", "day-reads-lower": "Under the usual 100 to 103 %: the day reads lower than the log."}


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


@dataclass(frozen=True, slots=True)
class LiveDay:
    """The next attempt as the day reads: load, chance in words ("" before the warm-ups), what it rests on and why.

    `needed` are the loads that give the best chance of a needed number, with that chance in words.
    """

    attempt: int
    load_kg: float
    words: str
    basis: str
    reason: str
    needed_kg: float | None
    needed: tuple[float, ...]
    needed_words: str


def live_day(entry: MeetEntry, plan: EntryPlan | None, form: DayForm) -> LiveDay | None:
    """The call of the day; None without an estimate, for careful attempts, after three, or once one was not tried."""
    if plan is None or plan.day is None or plan.careful or (form.is_bound and not form.is_valid()):
        return None
    done = [row for row in standing_rows(entry.attempts.all(), Lift.DEADLIFT) if row.result]
    if any(row.result in (Result.NOT_TRIED, Result.STOPPED_PAIN) for row in done):
        return None
    taken = tuple(Taken(row.load_kg, row.result == Result.MADE) for row in done)
    warm_ups = form.cleaned_data["warm_ups"] if form.is_bound else []
    before = belief_before(plan.day, plan.settings)
    call = next_call(before, warm_ups, taken, plan.settings)
    if call is None:
        return None
    needed = form.cleaned_data["needed"] if form.is_bound else None
    loads, chance = call_for_number(before, warm_ups, taken, needed, plan.settings) if needed else ((), 0.0)
    return LiveDay(
        attempt=call.attempt,
        load_kg=call.load_kg,
        words="" if call.chance is None else chance_words(call.chance),
        basis=BASIS[call.basis],
        reason=THIRD[call.third_reason],
        needed_kg=needed,
        needed=loads,
        needed_words=chance_words(chance) if needed else "",
    )
