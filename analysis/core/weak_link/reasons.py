"""Why the report says what it says: what each piece of evidence did, and what would change it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

import numpy as np

from analysis.core.estimates.comparable import kind_key, label
from analysis.core.estimates.misses import MissReading, position_of
from analysis.core.records.demands import STRENGTHS
from analysis.core.records.lifts import SetRecord
from analysis.core.records.messages import Message, Value, Verbatim, Words, as_message, load
from analysis.core.records.terms import PLACE_WORDS, SEEN_WORDS, counted, written_day
from analysis.core.records.weak_link import LinkChance, SetInfluence, StyleReading, TestOffer, WeighedMiss
from analysis.core.weak_link.estimate import Estimate
from analysis.core.weak_link.explain import influences
from analysis.core.weak_link.kinds import PreparedLog
from analysis.core.weak_link.posterior import told_chances
from analysis.core.weak_link.words import CONFLICT, LEANING, LINK_WORDS, tenths

MOST = 24


def set_influences(found: Estimate, log: PreparedLog) -> tuple[SetInfluence, ...]:
    """Every piece of evidence with the leading link's chance without it, the strongest first."""
    weights = found.posterior.weights[0]
    limiter = found.posterior.log_best[0, :, found.main].argmin(-1)
    chances = told_chances(np.array([weights[limiter == link].sum() for link in range(4)]))
    leading = int(chances.argmax())
    by_key = {s.key: s for s in log.sets}
    rows = influences(found.problem, found.posterior, 0, found.main, found.found.evidence.stuck)
    moved = [
        SetInfluence(
            *_named(row.what, found, by_key),
            STRENGTHS[leading],
            float(chances[leading]),
            float(told_chances(row.chances)[leading]),
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


# what coaches read from a place, and from it with a round back (common practice, no source)
TRADE_READS = {
    "floor": ("legs",),
    "mid-shin": ("legs", "back"),
    "below-knee": ("back", "hips"),
    "at-knee": ("back", "hips"),
    "mid-thigh": ("hips",),
    "lockout": ("hips",),
}
ROUND = ("back-rounded", "straight-but-round")
TOP = ("mid-thigh", "lockout")


def usual_place(readings: Sequence[MissReading], style: str) -> tuple[str, int, int]:
    """Where most counted misses of a style stop, how many do, and how many have a place at all; "" without any."""
    places = [position_of(r.set) for r in readings if r.counts and r.set.tags.style == style and position_of(r.set)]
    if not places:
        return "", 0, 0
    place, number = Counter(places).most_common(1)[0]
    return place, number, len(places)


def round_at_the_top(readings: Sequence[MissReading], style: str) -> bool:
    """Whether most placed misses of a style stopped near lockout with a round back."""
    rows = [r.set for r in readings if r.counts and r.set.tags.style == style and position_of(r.set)]
    here = [s for s in rows if position_of(s) in TOP and (s.gave_way in ROUND or s.tags.shape.startswith("rounded"))]
    return bool(rows) and 2 * len(here) > len(rows)


def trade_links(readings: Sequence[MissReading], style: str) -> tuple[str, ...]:
    """The links that coaches would suspect from where most misses stopped; none without a noted place."""
    place, number, _ = usual_place(readings, style)
    if not place:
        return ()
    here = [r.set for r in readings if r.counts and r.set.tags.style == style and position_of(r.set) == place]
    round_back = sum(s.gave_way in ROUND for s in here)
    return ("back",) if place in TOP and 2 * round_back >= number else TRADE_READS[place]


def statement(
    main: StyleReading | None,
    named: bool,
    readings: Sequence[MissReading],
    influences: Sequence[SetInfluence],
    test: TestOffer | None,
) -> Words:
    """Model and coaches' reading as one statement: they agree, or differ because of one piece, or the model is open."""
    if main is None:
        return ""
    trade = trade_links(readings, main.style)
    lead = max(main.chances, key=lambda c: c.chance)
    place, number, of = usual_place(readings, main.style)
    stops = f"{number} of {counted(of, 'miss', 'misses')} stopped {PLACE_WORDS[place]}" if place else ""
    suspects = " or ".join(LINK_WORDS[link] for link in trade)
    if not named:
        said = f"What coaches would say: {stops}: {suspects} first. " if trade else ""
        settle = f" {test.text[0].upper()}{test.text[1:]} would tell most." if test else ""
        so_far = "The model is open" if lead.chance < LEANING else "The model so far"
        return f"{said}{so_far}: {open_chances(main.chances)}.{settle}"
    about = f"{LINK_WORDS[lead.link].capitalize()}: {tenths(lead.chance)}."
    if not trade:
        return about
    if lead.link in trade:
        return f"{about} {stops}; what coaches would say agrees."
    differ = f"{about} {stops}; coaches would suspect {suspects}, the model differs"
    conflict = f" {CONFLICT}" if place == "floor" and lead.link in ("hips", "back") else ""
    because = next((i.label for i in influences if i.shift > 0.0), None)
    if because is None:
        return f"{differ}.{conflict}"
    values: dict[str, Value] = {
        "differ": Verbatim(differ),
        "because": as_message(because),
        "conflict": Verbatim(conflict),
    }
    return Message("weak.differs-because", values)


def open_chances(chances: Sequence[LinkChance]) -> str:
    """The two greatest chances and the others in sum: "back 5, hips 3, other 2 in 10"."""
    first, second, *rest = sorted(chances, key=lambda c: -c.chance)
    other = 10 - round(10 * first.chance) - round(10 * second.chance)
    told = f"{first.link} {round(10 * first.chance)}, {second.link} {round(10 * second.chance)}"
    return f"{told}, other {other} in 10" if other > 0 and rest else f"{told} in 10"


def weighed_misses(readings: Sequence[MissReading]) -> tuple[WeighedMiss, ...]:
    """Every miss that is used, with what its note is worth beside a fresh one and why."""
    rows = [r for r in readings if r.counts]
    return tuple(WeighedMiss(r.set.key, r.set.day, r.set.load_kg, r.weight, r.reasons) for r in rows)
