"""Why the report says what it says: what each piece of evidence did, and what would change it."""

from __future__ import annotations

from analysis.core.estimates.comparable import kind_key, label
from analysis.core.records.demands import STRENGTHS
from analysis.core.records.lifts import SetRecord
from analysis.core.records.messages import Message, Value, Verbatim, Words, as_message, load
from analysis.core.records.terms import PLACE_WORDS, SEEN_WORDS, written_day
from analysis.core.records.weak_link import SetInfluence, TestOffer
from analysis.core.weak_link.estimate import Estimate
from analysis.core.weak_link.explain import influences
from analysis.core.weak_link.kinds import Logged

MOST = 24


def set_influences(found: Estimate, log: Logged) -> tuple[SetInfluence, ...]:
    """Every piece of evidence with the leading link's chance without it, the strongest first."""
    weights = found.posterior.weights[0]
    limiter = found.posterior.log_best[0, :, found.main].argmin(-1)
    chances = [float(weights[limiter == link].sum()) for link in range(4)]
    leading = chances.index(max(chances))
    by_key = {s.key: s for s in log.sets}
    rows = influences(found.problem, found.posterior, 0, found.main, found.found.evidence.stuck)
    moved = [
        SetInfluence(
            *_named(row.what, found, by_key), STRENGTHS[leading], chances[leading], float(row.chances[leading])
        )
        for row in rows
    ]
    return tuple(sorted(moved, key=lambda m: -abs(m.shift))[:MOST])


def _named(what: str, found: Estimate, by_key: dict[str, SetRecord]) -> tuple[tuple[str, ...], Words]:
    """The sets and words of one piece of evidence."""
    sort, _, name = what.partition(":")
    if sort == "stuck":
        return (name,), _stuck_words(by_key[name])
    kind = found.table.kinds[int(name)].key
    words = next((label(k) for k in found.kinds if kind_key(k) == kind), kind)
    if sort == "level":
        return found.found.level_keys[int(name)], f"running best: {words}"
    return found.found.grip_keys.get(int(name), ()), f"grip opened: {words}"


def _stuck_words(one: SetRecord) -> Message:
    values: dict[str, Value] = {"day": Verbatim(written_day(one.day)), "load": load(one.load_kg)}
    if one.result == "made":
        place = PLACE_WORDS.get(one.slowest_at, "not noted")
        return Message("weak.made-slowest", {**values, "place": Verbatim(place)})
    where = " and ".join(PLACE_WORDS[p] for p in one.miss_positions) or "where it stopped is not noted"
    seen = f", {SEEN_WORDS[one.gave_way]}" if one.gave_way in SEEN_WORDS else ""
    return Message("weak.missed-at", {**values, "place": Verbatim(where + seen)})


def would_change(why_not: tuple[Words, ...], test: TestOffer | None) -> tuple[Words, ...]:
    """What would change the reading: the next test's possible results, and what is still missing."""
    lines = [Message("weak.still-open", {"reason": as_message(reason)}) for reason in why_not]
    if test is None:
        return tuple(lines)
    results = {"high": as_message(test.if_high), "low": as_message(test.if_low)}
    return (Message("weak.test-would-say", {"test": Verbatim(test.text), **results}), *lines)
