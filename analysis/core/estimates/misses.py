"""Reading misses: what is left out before any muscle is named, what counts for less, tables, the classical reading.

Left out and shown as their own finding: pain, balance, rule, not tried, a load well under the level or without one; an
opened grip is held against the hands. Tiredness, soreness, a load over the level and a new bar only make a miss count
for less or read otherwise, because leaving those out left nothing of an ordinary log (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import exp, log

from analysis.core.estimates.effort import rpe_of
from analysis.core.estimates.history import sudden_falls
from analysis.core.records.estimates import Finding
from analysis.core.records.lifts import DayRecord, LifterRecord, SetRecord
from analysis.core.records.messages import HEALTH, Message, Verbatim, Words, load
from analysis.core.records.terms import MISS_POSITIONS, PLACE_WORDS
from analysis.core.records.weak_link import MissRow
from analysis.core.records.wording import percent
from analysis.core.settings import DEFAULTS, Settings

POOLED = ("shape", "belt")  # a miss is held against the level of all back shapes, with or without belt
HARD_RPE = 8.5
AFTER_PAIN = timedelta(days=28)  # a sudden fall so long after pain is read as pain (common practice, no source)
FADES_H = 36.0  # hours in which a hard day's tiredness falls to 1 / e (calibration: no published curve found)
SAME_DAY_H = 2.0  # between squats and pulls of one day (common practice, no source)
SORE_LIKE_H = 43.0  # a sore day counts like a hard day so many hours before (calibration)
FATIGUE_STEPS = (0.0, 0.15, 0.30, 0.50, 0.85)  # share of the tiredness that is left, to the nearest
EXCESS_SHARE = 0.5  # of ln(load / level) over the level that is put on the day's strength (calibration)
EXCESS_STEP = 0.0125
TIRED_LESS = 0.5  # of a note's worth that full tiredness takes (calibration)
NEW_BAR_WORTH = 0.5  # of a note on a bar that is still new (calibration)
_TOP = ("mid-thigh", "lockout")
_BALANCE = ("lost-balance", "feet-moved")
_LOW_WORDS = {
    "floor": "stuck at the floor: the start and the legs",
    "mid-shin": "stuck at mid-shin: the start, legs and upper back",
    "below-knee": "stuck just below the knee: upper back and the handover to the hips",
    "at-knee": "stuck at the knee: back position and the handover to the hips",
    "mid-thigh": "stuck at mid-thigh: hips, or a start that was rounded",
    "lockout": "stuck at lockout: hips, or a start that was rounded",
}


@dataclass(frozen=True, slots=True)
class MissReading:
    """One missed lift: `share` of the level on its day (None without a level), `code` "" when it counts.

    `fatigue` (0-1) is what was left of a hard day, `excess` the part of ln(load / level) put on the day's strength,
    `weight` (0-1) what its note is worth beside a fresh one, `reasons` why: codes with a number each.
    """

    set: SetRecord
    share: float | None
    code: str
    reason: Words
    fatigue: float = 0.0
    excess: float = 0.0
    weight: float = 1.0
    reasons: tuple[tuple[str, float], ...] = ()

    @property
    def counts(self) -> bool:
        """Whether it says something about a muscle."""
        return not self.code


Levels = Mapping[str, float | None]  # set key -> level of its kind on its day, kg


def read_misses(
    lifter: LifterRecord, levels: Levels, as_of: date, settings: Settings = DEFAULTS
) -> tuple[MissReading, ...]:
    """Every deadlift within the window that was not made, the latest last, each counted or left out with its reason.

    `levels` holds the running best of the set's kind on the set's day, by set key, for pulls and squats.
    """
    since = as_of - timedelta(weeks=settings["miss.weeks"])
    rows = [s for s in lifter.sets if s.tags.lift == "deadlift" and s.result != "made" and since < s.day <= as_of]
    context = _Context(lifter, levels, as_of, settings, min((s.day for s in rows), default=as_of))
    return tuple(context.judge(one) for one in sorted(rows, key=lambda s: s.day))


class _Context:
    """What must be known about the other rows to judge one miss; `first` is the day of the first."""

    def __init__(self, lifter: LifterRecord, levels: Levels, as_of: date, settings: Settings, first: date) -> None:
        self.levels, self.settings = levels, settings
        self.days: dict[date, DayRecord] = {d.day: d for d in lifter.days}
        falls = sudden_falls(lifter.sets, lifter.days, as_of, settings)
        self.fallen = {key for fall in falls for key in fall.set_keys}
        tiring = first - timedelta(hours=settings["miss.fatigue_hours"])  # what lies before tires none of them
        near = [s for s in lifter.sets if s.day >= tiring]
        self.hard = [s for s in near if is_hard(s, levels.get(s.key), settings)]
        pulls = {(s.tags.bar, s.day) for s in lifter.sets if s.tags.lift == "deadlift"}
        self.pulls_by_bar: dict[str, set[date]] = {}
        for bar, day in pulls:
            self.pulls_by_bar.setdefault(bar, set()).add(day)

    def judge(self, one: SetRecord) -> MissReading:
        level = self.levels.get(one.key)
        share = one.load_kg / level if level else None
        code, reason = self._own_cause(one) or self._load(share) or ("", "")
        if code:
            return MissReading(one, share, code, reason)
        tired, why = self._tiredness(one)
        reasons = list(why)
        weight = 1.0 - TIRED_LESS * tired
        sessions = self._sessions_on(one)
        if sessions is not None:
            reasons.append(("new-bar", float(sessions)))
            weight *= NEW_BAR_WORTH
        excess = 0.0
        if share is not None and share > 1.0:
            most = log(self.settings["miss.too_heavy"])
            excess = round(min(EXCESS_SHARE * log(share), most) / EXCESS_STEP) * EXCESS_STEP
            reasons += [("over", share)] if excess else []
        return MissReading(one, share, "", "", tired, excess, weight, tuple(reasons))

    def _own_cause(self, one: SetRecord) -> tuple[str, Words] | None:
        """What the row itself says."""
        day = self.days.get(one.day)
        if one.result == "stopped-pain" or (day is not None and day.pain_event):
            return "pain", Message("misses.pain", private=HEALTH)
        if one.result == "not-tried":
            return "not-tried", "not tried"
        if one.result == "no-lift":
            return "rule", f"no lift on a rule ({one.rule_reason.replace('-', ' ') or 'not noted'}): the bar was there"
        if one.gave_way == "grip-opened":
            return "grip", "the grip opened: held against the hands, not against legs, hips or back"
        if one.gave_way in _BALANCE:
            return "balance", "balance or feet: not a strength miss"
        if one.key in self.fallen and self._pain_before(one.day):
            return "pain", Message("misses.pain", private=HEALTH)
        return None

    def _pain_before(self, day: date) -> bool:
        return any(d.pain_event and timedelta(0) <= day - d.day <= AFTER_PAIN for d in self.days.values())

    def _tiredness(self, one: SetRecord) -> tuple[float, tuple[tuple[str, float], ...]]:
        """What is left of the last hard day, or of soreness, to the nearest step; and what it was."""
        limit = self.settings["miss.fatigue_hours"]
        before = [h for h in self.hard if _tires(h, one, limit)]
        left, why = 0.0, ""
        if before:
            last = max(before, key=lambda h: h.day)
            gap = 24.0 * (one.day - last.day).days
            left = exp(-(gap or SAME_DAY_H) / FADES_H)
            why = "tired-pulls" if last.tags.lift == "deadlift" else "tired-squats"
        day = self.days.get(one.day)
        if day is not None and day.soreness is not None and day.soreness >= self.settings["miss.sore"]:
            sore = exp(-SORE_LIKE_H / FADES_H)
            left, why = max((left, why), (sore, "sore"), key=lambda pair: pair[0])
        step = min(FATIGUE_STEPS, key=lambda value: abs(value - left))
        return step, ((why, step),) if step else ()

    def _sessions_on(self, one: SetRecord) -> int | None:
        """Earlier sessions on the bar of this lift when it is still new, else None."""
        sessions = len([d for d in self.pulls_by_bar.get(one.tags.bar, ()) if d < one.day])
        others = [d for bar, days in self.pulls_by_bar.items() if bar != one.tags.bar for d in days if d < one.day]
        new = others and one.tags.bar != "unknown" and sessions < self.settings["miss.bar_sessions"]
        return sessions if new else None

    def _load(self, share: float | None) -> tuple[str, Words] | None:
        """What the load says against the level on that day."""
        if share is None:
            return "no-level", "no running best of this kind yet to hold it against"
        if share < self.settings["miss.heavy_share"]:
            return "light", f"{percent(share)} of the running best: something other than strength"
        return None


def is_hard(one: SetRecord, level: float | None, settings: Settings = DEFAULTS) -> bool:
    """A squat or pull heavy enough to tire: RPE 8.5 and up, or from the heavy share of its level."""
    if one.tags.lift not in ("deadlift", "squat", "front-squat") or one.result == "not-tried":
        return False
    rpe = rpe_of(one)
    if rpe is not None and rpe >= HARD_RPE:
        return True
    return level is not None and one.load_kg >= settings["load.heavy_share"] * level


def _tires(hard: SetRecord, one: SetRecord, hours: float) -> bool:
    """Whether a hard set falls in the hours before; pulls of the same day are the same session."""
    gap = (one.day - hard.day).days
    if gap == 0:
        return hard.tags.lift != "deadlift"
    return gap > 0 and gap * 24 <= hours


def position_of(one: SetRecord) -> str:
    """Where the bar stopped: the last noted position; "never moved" means the floor; "" when not noted."""
    if one.miss_positions:
        return one.miss_positions[-1]
    return "floor" if one.gave_way == "never-moved" else ""


def misses_by_position(readings: Iterable[MissReading]) -> tuple[MissRow, ...]:
    """The plain table: misses by style and position, from the floor up, unnoted last."""
    groups: dict[tuple[str, str], list[MissReading]] = {}
    for one in readings:
        groups.setdefault((one.set.tags.style, position_of(one.set)), []).append(one)
    order = {name: place for place, name in enumerate((*MISS_POSITIONS, ""))}
    return tuple(
        _row(style, position, groups[style, position])
        for style, position in sorted(groups, key=lambda k: (k[0], order[k[1]]))
    )


def _row(style: str, position: str, rows: Sequence[MissReading]) -> MissRow:
    shares = [r.share for r in rows if r.share is not None]
    return MissRow(
        style=style,
        position=position,
        counted=sum(r.counts for r in rows),
        left_out=sum(not r.counts for r in rows),
        bars=tuple(sorted({r.set.tags.bar for r in rows})),
        low_share=min(shares, default=None),
        high_share=max(shares, default=None),
        set_keys=tuple(r.set.key for r in rows),
    )


def classical_reading(readings: Sequence[MissReading], style: str) -> tuple[Finding, ...]:
    """What the trade reads from the commonest position of the misses that count, without any model."""
    rows = [r for r in readings if r.counts and r.set.tags.style == style and position_of(r.set)]
    if not rows:
        return ()
    tally = {p: [r for r in rows if position_of(r.set) == p] for p in MISS_POSITIONS}
    position = max(MISS_POSITIONS, key=lambda p: len(tally[p]))
    found = tally[position]
    text = (
        f"Classical reading (common practice, no source), {len(found)} of {len(rows)} misses: {_LOW_WORDS[position]}."
    )
    round_back = [r for r in found if r.set.gave_way in ("back-rounded", "straight-but-round")]
    if position in _TOP and len(round_back) * 2 >= len(found):
        text = (
            f"Classical reading (common practice, no source), {len(found)} of {len(rows)} misses: stuck "
            f"{PLACE_WORDS[position]} with a round back: the back."
        )
    numbers = (("misses", float(len(found))), ("of", float(len(rows))))
    return (Finding(f"classical-{position}", text, "note", numbers, tuple(r.set.key for r in found)),)


def position_finding(
    readings: Sequence[MissReading],
    sets: Iterable[SetRecord],
    style: str,
    block_share: float | None,
    settings: Settings = DEFAULTS,
) -> Finding | None:
    """Misses near the top: a start-position fault or strength at the top, told apart by the below-knee block pull.

    `block_share` is the running best from a block below the knee over that from the floor. Two schools disagree on
    lockout misses; both readings are said to be common practice.
    """
    rows = [r for r in readings if r.counts and r.set.tags.style == style and position_of(r.set)]
    top = [r for r in rows if position_of(r.set) in _TOP]
    if block_share is None or not top or len(top) * 2 < len(rows):
        return None
    numbers = (("block_share", block_share), ("misses", float(len(top))), ("of", float(len(rows))))
    keys = tuple(r.set.key for r in top)
    block = percent(block_share)
    begin = f"{len(top)} of {len(rows)} misses near the top, and the block below the knee is {block} of floor"
    rounded = rounding_from(sets, style)
    if block_share >= settings["miss.position_block"] and rounded is not None:
        start = Message("misses.position-not-strength", {"begin": Verbatim(begin), "load": load(rounded)})
        return Finding("position-not-strength", start, "note", (*numbers, ("rounded_from_kg", rounded)), keys)
    if block_share <= settings["miss.lockout_block"]:
        text = f"{begin}: probably strength at the top (common practice, no source)."
        return Finding("strength-at-top", text, "note", numbers, keys)
    return Finding("top-open", f"{begin}: neither reading is clear.", "note", numbers, keys)


def rounding_from(sets: Iterable[SetRecord], style: str) -> float | None:
    """The lightest floor pull of a style whose back was seen rounded, kg; rounding belongs to a load, not a lifter."""
    rounded = [
        s.load_kg
        for s in sets
        if s.tags.lift == "deadlift"
        and s.tags.style == style
        and s.tags.start == "floor"
        and (s.tags.shape.startswith("rounded") or s.gave_way in ("back-rounded", "straight-but-round"))
    ]
    return min(rounded, default=None)
