"""Which sets enter the estimate as which kind of lift, at which level, and which are left out and why."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from analysis.core.estimates.comparable import kind_key, kind_of, tags_among
from analysis.core.estimates.history import gaps
from analysis.core.estimates.misses import POOLED, position_of
from analysis.core.estimates.running_best import levels_of, running_bests
from analysis.core.records.estimates import ComparableKind, RunningBest
from analysis.core.records.lifts import LifterRecord, PullTags, SetRecord
from analysis.core.records.postures import OwnPosture
from analysis.core.records.terms import STYLES
from analysis.core.records.weak_link import Excluded
from analysis.core.settings import Settings
from analysis.core.strength.demand_table import KindAsked

LIFTS = ("deadlift", "squat", "front-squat")
BARS = ("unknown", "stiff", "training", "flexible")
MOST_KINDS = 8
LOOSER = ("shape", "belt", "grip", "straps", "bar")
BLOCK_OF_STATURE = 0.115  # block that puts the hands 5-8 cm below the knee, share of stature (calibration)
DEFICIT_M = 0.05


@dataclass(frozen=True, slots=True)
class PreparedLog:
    """The log as kinds: usable sets, running bests by kind, level of each set on its day, what was left out."""

    sets: tuple[SetRecord, ...]
    bests: Mapping[ComparableKind, RunningBest]
    levels: Mapping[str, float | None]
    excluded: tuple[Excluded, ...]
    since: date | None

    def kinds(self, style: str) -> list[ComparableKind]:
        """Kinds of floor pulls of one style, most days first."""
        return [k for k in self.bests if k.tags.lift == "deadlift" and k.tags.style == style and _on_floor(k.tags)]


def _on_floor(tags: PullTags) -> bool:
    return tags.start == "floor" and abs(tags.start_offset_m) < 0.005


def prepare_log(lifter: LifterRecord, as_of: date, settings: Settings) -> PreparedLog:
    """Everything the estimate reads from the log up to `as_of`; of a returning lifter only what followed the break."""
    since = return_day(lifter, as_of, settings) if lifter.standing == "returning" else None
    rows = [s for s in lifter.sets if s.day <= as_of and s.tags.lift in LIFTS and (since is None or s.day >= since)]
    reasons = {tags: reason for tags in tags_among(rows) if (reason := not_comparable(tags))}
    odd = {s.key: reasons[s.tags] for s in rows if s.tags in reasons} if reasons else {}
    sets = tuple(s for s in rows if s.key not in odd)
    left_out = tuple(Excluded(s.key, s.day, s.load_kg, "not-comparable", odd[s.key]) for s in rows if s.key in odd)
    bests = running_bests(sets, as_of, settings, POOLED, LIFTS)
    levels = levels_of(sets, bests, POOLED)
    lost = [s for s in sets if levels[s.key] is None]
    if lost:  # a kind without a level yet is held against any grip, straps and bar
        looser = running_bests(sets, as_of, settings, LOOSER, LIFTS)
        levels.update(levels_of(lost, looser, LOOSER))
    return PreparedLog(sets, bests, levels, left_out, since)


def return_day(lifter: LifterRecord, as_of: date, settings: Settings) -> date:
    """The end of the last pause; without one the last four weeks are the new baseline."""
    pauses = [g for g in gaps(lifter.sets, lifter.days, as_of, settings) if g.ends < as_of]
    return pauses[-1].ends if pauses else as_of - timedelta(days=settings["best.gap_days"])


def not_comparable(tags: PullTags) -> str:
    """Why sets of these tags cannot be held against the model's plain lifts, or ""."""
    if tags.suit:
        return "in a suit: kept apart from raw lifts"
    if tags.lift in ("squat", "front-squat"):
        return "" if tags.depth_verified else "squat without verified depth: does not inform the legs"
    if tags.style not in STYLES:
        return "style not noted"
    if tags.bar not in BARS:
        return f"{tags.bar.replace('-', ' ')} bar: not compared with a straight bar from the floor"
    if not tags.dead_stop:
        return "touch-and-go: usually heavier than from a dead stop"
    return "paused pull: kept apart" if tags.paused else ""


def main_style(lifter: LifterRecord, sets: Sequence[SetRecord], as_of: date) -> str:
    """The style pulled on most days of the last 12 weeks, else of the whole log, else the first trained."""
    for weeks in (12, 520):
        since = as_of - timedelta(weeks=weeks)
        days = {(s.tags.style, s.day) for s in sets if s.tags.lift == "deadlift" and s.day > since}
        if days:
            return Counter(style for style, _ in days).most_common(1)[0][0]
    return next((s for s in lifter.trained_styles if s in STYLES), "conventional")


def chosen_kinds(log: PreparedLog, style: str) -> list[ComparableKind]:
    """The kinds that enter: floor pulls of the main style first, then by days, at most MOST_KINDS."""
    first = log.kinds(style)
    rest = [k for k in log.bests if k not in first]
    return [*first, *rest][:MOST_KINDS]


def asked_of(kind: ComparableKind, sets: Iterable[SetRecord]) -> KindAsked:
    """The kind as the mechanics tabulates it; rounded only if most of its heavy sets were seen rounded beforehand."""
    tags = kind.tags
    shapes = Counter(
        s.tags.shape for s in sets if s.tags.shape != "unseen" and kind_of(s.tags, POOLED) == kind
    ).most_common(1)
    shape = shapes[0][0] if shapes else "unseen"
    return KindAsked(
        key=kind_key(kind),
        lift=tags.lift,
        style=tags.style or "conventional",
        shape=shape if shape == "rounded-before" else "unseen",
        start_offset_m=tags.start_offset_m,
        disc_diameter_m=tags.disc_diameter_m,
        bar=tags.bar,
        grip=tags.grip,
        straps=tags.straps,
    )


def style_kind(style: str, like: KindAsked | None = None) -> KindAsked:
    """A plain floor pull of a style, with the grip and bar of `like`."""
    plain = KindAsked(f"style:{style}", style=style)
    return plain if like is None else replace(plain, bar=like.bar, grip=like.grip, straps=like.straps)


def as_pulled(kinds: Sequence[KindAsked], own: Mapping[str, OwnPosture]) -> list[KindAsked]:
    """The kinds with the lifter's own posture in the styles that have one."""
    return [replace(k, own=own[k.style]) if k.lift == "deadlift" and k.style in own else k for k in kinds]


def rounded_shape(one: SetRecord) -> str:
    """The shape a lift was seen to take, or "" when it was not seen rounded; rounding belongs to the lift."""
    if one.tags.shape.startswith("rounded"):
        return one.tags.shape
    round_on_top = one.gave_way == "straight-but-round" and position_of(one) in ("mid-thigh", "lockout")
    return "rounded-before" if round_on_top else ""


def rounded_kinds(main: KindAsked, sets: Iterable[SetRecord]) -> list[KindAsked]:
    """The main pull with a rounded back, for lifts of it that were seen so."""
    if main.shape.startswith("rounded"):
        return []
    shapes = {rounded_shape(s) for s in sets if s.tags.style == main.style and _on_floor(s.tags)} - {""}
    return [replace(main, key=f"{shape}:{main.key}", shape=shape) for shape in sorted(shapes)]


def test_kinds(main: KindAsked, stature_m: float) -> dict[str, KindAsked]:
    """The short list of sub-maximal tests, each as a kind of lift (common practice, no source)."""
    block = round(BLOCK_OF_STATURE * stature_m, 2)
    bar = "flexible" if main.bar != "flexible" else "stiff"
    return {
        "block": replace(main, key="test:block", start_offset_m=block, straps=main.straps),
        "deficit": replace(main, key="test:deficit", start_offset_m=-DEFICIT_M),
        "front-squat": KindAsked("test:front-squat", lift="front-squat"),
        "straps": replace(main, key="test:straps", straps=True),
        "bar": replace(main, key="test:bar", bar=bar),
        "paused": replace(main, key="test:paused"),
    }
