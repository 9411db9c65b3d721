"""A meet's rule set and its lifts, from the row; entries and attempts as the core reads them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from analysis.core.meets.day import LIFTS, Attempt, Entrant, MeetRules
from athletes.models import Attempt as AttemptRow
from athletes.models import Meet, MeetEntry
from athletes.models.choices import Result

COUNTED = 3  # attempts that count for the total; a fourth, where a meet allows one, is for a record
DEFAULT = MeetRules()
AS_RULED = {Result.MADE: "made", Result.NO_LIFT: "no-lift", "": "due"}


@dataclass(frozen=True, slots=True)
class RuleSet:
    """The rules of one meet with the attempts a lift it allows."""

    rules: MeetRules
    attempts: int

    def plain(self) -> dict[str, object]:
        """As the board's script reads it."""
        return {
            "step_kg": self.rules.step_kg,
            "changes": {lift: list(count) for lift, count in self.rules.changes.items()},
            "seconds_to_declare": self.rules.seconds_to_declare,
            "seconds_to_start": self.rules.seconds_to_start,
            "attempts": self.attempts,
        }


def rules_of(meet: Meet) -> RuleSet:
    """The meet's own rule set; what it does not say is the usual one."""
    held = meet.rule_set if isinstance(meet.rule_set, dict) else {}
    changes = held.get("changes") or {}
    rules = MeetRules(
        step_kg=held.get("step_kg") or DEFAULT.step_kg,
        changes={lift: tuple(changes.get(lift) or DEFAULT.changes[lift]) for lift in LIFTS},
        seconds_to_declare=held.get("seconds_to_declare") or DEFAULT.seconds_to_declare,
        seconds_to_start=held.get("seconds_to_start") or DEFAULT.seconds_to_start,
        opener_change_minutes=held.get("opener_change_minutes") or DEFAULT.opener_change_minutes,
    )
    return RuleSet(rules, held.get("attempts") or COUNTED)


def lifts_of(meet: Meet) -> tuple[str, ...]:
    """The lifts in the order they are held; a meet that does not say is one of deadlifts."""
    return tuple(lift for lift in meet.lifts if lift in LIFTS) or ("deadlift",)


def after_squat_and_bench(meet: Meet) -> bool:
    """Whether squat and bench stand before the deadlift on the day."""
    lifts = lifts_of(meet)
    place = lifts.index("deadlift") if "deadlift" in lifts else 0
    return {"squat", "bench"} <= set(lifts[:place])


def attempt_of(row: AttemptRow) -> Attempt:
    """One row as the rules see it; what was not tried or stopped counts like a miss."""
    return Attempt(row.load_kg, AS_RULED.get(row.result, "missed"), row.changes)


def standing_rows(rows: Iterable[AttemptRow], lift: str) -> list[AttemptRow]:
    """A lift's rows up to the one that is due: what is only planned after it is left out."""
    kept: list[AttemptRow] = []
    for row in sorted((r for r in rows if r.lift == lift), key=lambda r: r.number):
        kept.append(row)
        if not row.result:
            break
    return kept


def entrant_of(entry: MeetEntry, lifts: tuple[str, ...]) -> Entrant:
    """An entry as the rules see it; body mass stays out, so equal totals are not parted here."""
    rows = list(entry.attempts.all())
    attempts = {lift: tuple(attempt_of(r) for r in standing_rows(rows, lift)[:COUNTED]) for lift in lifts}
    return Entrant(str(entry.pk), entry.lot or 0, 0.0, attempts)
