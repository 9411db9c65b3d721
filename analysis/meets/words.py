"""Chances in words with numbers, and attempts as a meet card tells them."""

from __future__ import annotations

from collections.abc import Iterable

from athletes.models import Attempt
from athletes.models.choices import MissPosition, Result, RuleReason

REASONS = dict(MissPosition.choices) | dict(RuleReason.choices)
RESULT_WORDS = dict(Result.choices) | {Result.NO_LIFT: "no lift", Result.STOPPED_PAIN: Result.NOT_TRIED.label}
ODDS = (
    (0.985, "about 49 in 50"),
    (0.925, "about 19 in 20"),
    (0.05, ""),
    (0.02, "about 1 in 30"),
    (0.0, "less than 1 in 50"),
)


def chance_words(chance: float) -> str:
    """ "about 7 in 10"; nearer the ends in twentieths and fiftieths."""
    for least, words in ODDS:
        if chance >= least:
            return words or f"about {max(round(chance * 10), 1)} in 10"
    return ODDS[-1][1]


def attempt_words(row: Attempt) -> str:
    """ "137.5 missed (at the knee)"; what is only planned in brackets; a stop for pain reads as not tried."""
    load = row.load_typed if row.load_unit == "kg" else f"{row.load_typed} {row.load_unit}"
    if not row.result:
        return load if row.declared_at else f"({load})"
    reason = REASONS.get(row.reason, "") if row.result != Result.STOPPED_PAIN else ""
    return f"{load} {RESULT_WORDS[row.result]}" + (f" ({reason})" if reason else "")


def lift_words(rows: Iterable[Attempt], lift: str) -> list[str]:
    """A lift's attempts in words, in order."""
    return [attempt_words(row) for row in sorted(rows, key=lambda r: r.number) if row.lift == lift]
