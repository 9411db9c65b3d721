"""A meet as the rules run it: order of lifting, changes left, time left, subtotals, places and rivals.

The default rules are from memory; the meet's own rule book and its officials decide, so every number is
editable in `MeetRules`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from math import floor

from analysis.core.records.plain import CoreError

LIFTS = ("squat", "bench", "deadlift")


class AttemptRefused(CoreError):
    """An attempt or a change that the rule set does not allow; the reason names the rule."""


@dataclass(frozen=True, slots=True)
class MeetRules:
    """An editable rule set; changes[lift] are the changes allowed of the first, second and third attempt."""

    step_kg: float = 2.5
    changes: Mapping[str, tuple[int, int, int]] = field(
        default_factory=lambda: {"squat": (1, 0, 0), "bench": (1, 0, 0), "deadlift": (1, 0, 2)}
    )
    seconds_to_declare: int = 60  # after a lift, to hand in the next attempt
    seconds_to_start: int = 60  # after the bar is loaded
    opener_change_minutes: int = 3  # before the first round begins
    source: str = "from memory; the meet's rule book decides"


@dataclass(frozen=True, slots=True)
class Attempt:
    """One attempt: its load, kg, "due", "made", "missed" or "no-lift", and how often its load was changed."""

    load_kg: float
    result: str = "due"
    changes: int = 0


@dataclass(frozen=True, slots=True)
class Entrant:
    """One lifter of the flight; mass in kg, attempts per lift in order."""

    key: str
    lot: int
    body_mass_kg: float
    attempts: Mapping[str, tuple[Attempt, ...]] = field(default_factory=dict)
    rack_note: str = ""

    def of(self, lift: str) -> tuple[Attempt, ...]:
        """The attempts of one lift."""
        return self.attempts.get(lift, ())


def best_of(entrant: Entrant, lift: str) -> float:
    """Heaviest made attempt of a lift, kg; 0 when none is made."""
    return max((a.load_kg for a in entrant.of(lift) if a.result == "made"), default=0.0)


def out_of_total(entrant: Entrant, lift: str) -> bool:
    """Whether all three attempts of a lift are gone without a make."""
    return len(entrant.of(lift)) == 3 and all(a.result in ("missed", "no-lift") for a in entrant.of(lift))


def subtotal(entrant: Entrant) -> float:
    """Best squat plus best bench, kg; 0 when either is missing."""
    bests = [best_of(entrant, lift) for lift in LIFTS[:2]]
    return sum(bests) if all(bests) else 0.0


def total(entrant: Entrant) -> float:
    """Sum of the three bests, kg; 0 until each lift has one."""
    bests = [best_of(entrant, lift) for lift in LIFTS]
    return sum(bests) if all(bests) else 0.0


def attempt_due(entrant: Entrant, lift: str) -> tuple[int, Attempt] | None:
    """Round (1 to 3) and the attempt that waits, or None."""
    for number, attempt in enumerate(entrant.of(lift), start=1):
        if attempt.result == "due":
            return number, attempt
    return None


def order_of_lifting(entrants: Iterable[Entrant], lift: str) -> tuple[tuple[str, int, float], ...]:
    """Who lifts when: (key, round, kg); a round is finished first, then the lighter bar, lot number, body mass."""
    waiting = [(e, due) for e in entrants if (due := attempt_due(e, lift)) is not None]
    waiting.sort(key=lambda w: (w[1][0], w[1][1].load_kg, w[0].lot, w[0].body_mass_kg, w[0].key))
    return tuple((e.key, number, attempt.load_kg) for e, (number, attempt) in waiting)


def lifts_before(order: Sequence[tuple[str, int, float]], key: str) -> int | None:
    """How many attempts come before this lifter's next one; None when none waits."""
    return next((place for place, (one, _, _) in enumerate(order) if one == key), None)


def next_default(previous: Attempt, rules: MeetRules) -> float:
    """The load when nothing is handed in, kg: one step more after a make, the same after a miss."""
    return previous.load_kg + (rules.step_kg if previous.result == "made" else 0.0)


def check_load(entrant: Entrant, lift: str, number: int, load_kg: float, rules: MeetRules) -> None:
    """Raise AttemptRefused when a load breaks the rules: steps, never down, more after a make."""
    if abs(load_kg / rules.step_kg - round(load_kg / rules.step_kg)) > 1e-6:
        raise AttemptRefused("load", f"{load_kg:g} kg is not a multiple of {rules.step_kg:g} kg")
    if number > 1:
        previous = entrant.of(lift)[number - 2]
        least = next_default(previous, rules)
        if load_kg < least - 1e-6:
            word = "made" if previous.result == "made" else "missed"
            raise AttemptRefused("load", f"after {previous.load_kg:g} kg {word} the next is at least {least:g} kg")


def changes_left(entrant: Entrant, lift: str, rules: MeetRules) -> int:
    """How often the waiting attempt may still be changed."""
    due = attempt_due(entrant, lift)
    if due is None:
        return 0
    number, attempt = due
    return max(rules.changes[lift][number - 1] - attempt.changes, 0)


def change_attempt(entrant: Entrant, lift: str, load_kg: float, rules: MeetRules) -> Entrant:
    """The entrant with the waiting attempt changed and the change counted, or AttemptRefused."""
    due = attempt_due(entrant, lift)
    if due is None:
        raise AttemptRefused("attempt", "no attempt waits in this lift")
    number, attempt = due
    if changes_left(entrant, lift, rules) < 1:
        allowed = rules.changes[lift][number - 1]
        raise AttemptRefused("change", f"attempt {number} may be changed {allowed} times, and that is used up")
    check_load(entrant, lift, number, load_kg, rules)
    changed = Attempt(load_kg, "due", attempt.changes + 1)
    return _with(entrant, lift, number, changed)


def declare(entrant: Entrant, lift: str, load_kg: float, rules: MeetRules) -> Entrant:
    """The entrant with the next attempt handed in, or AttemptRefused."""
    taken = entrant.of(lift)
    if attempt_due(entrant, lift) is not None or len(taken) == 3:
        raise AttemptRefused("attempt", "an attempt already waits" if len(taken) < 3 else "all three are taken")
    check_load(entrant, lift, len(taken) + 1, load_kg, rules)
    return _with(entrant, lift, len(taken) + 1, Attempt(load_kg))


def record(entrant: Entrant, lift: str, result: str) -> Entrant:
    """The entrant with the waiting attempt's result: made, missed or no-lift."""
    due = attempt_due(entrant, lift)
    if due is None or result not in ("made", "missed", "no-lift"):
        raise AttemptRefused("result", "no attempt waits" if due is None else f"{result!r} is not a result")
    number, attempt = due
    return _with(entrant, lift, number, Attempt(attempt.load_kg, result, attempt.changes))


def _with(entrant: Entrant, lift: str, number: int, attempt: Attempt) -> Entrant:
    attempts = list(entrant.of(lift))
    attempts[number - 1 : number] = [attempt]
    return Entrant(
        entrant.key,
        entrant.lot,
        entrant.body_mass_kg,
        {**entrant.attempts, lift: tuple(attempts)},
        entrant.rack_note,
    )


def seconds_to_declare_left(lift_ended: datetime, now: datetime, rules: MeetRules) -> float:
    """Seconds left to hand in the next attempt, not below 0."""
    return max((lift_ended + timedelta(seconds=rules.seconds_to_declare) - now).total_seconds(), 0.0)


def minutes_until(order: Sequence[tuple[str, int, float]], key: str, seconds_each: float = 60.0) -> float | None:
    """Rough minutes until this lifter's next attempt, at `seconds_each` an attempt (common practice, no source)."""
    before = lifts_before(order, key)
    return None if before is None else before * seconds_each / 60.0


def places(entrants: Iterable[Entrant]) -> tuple[tuple[int, str, float], ...]:
    """(place, key, total, kg) of everyone with a total; equal totals go to the lighter lifter."""
    ranked = sorted((e for e in entrants if total(e)), key=lambda e: (-total(e), e.body_mass_kg, e.lot))
    return tuple((place, e.key, total(e)) for place, e in enumerate(ranked, start=1))


def needed_to_pass(entrant: Entrant, rival_total_kg: float, rival_mass_kg: float, rules: MeetRules) -> float | None:
    """The lightest deadlift, kg, that puts the lifter ahead; None without a subtotal.

    An equal total is enough for the lighter lifter.
    """
    own = subtotal(entrant)
    if not own:
        return None
    missing = rival_total_kg - own
    steps = missing / rules.step_kg
    exact = abs(steps - round(steps)) < 1e-6
    if exact and entrant.body_mass_kg < rival_mass_kg:
        return max(round(steps) * rules.step_kg, rules.step_kg)
    return max((floor(steps + 1e-6) + 1) * rules.step_kg, rules.step_kg)
