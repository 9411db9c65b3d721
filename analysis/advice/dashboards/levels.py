"""What each pull was against the lifter's running best of its day."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from analysis.evidence.comparable import kind_of
from analysis.evidence.running_best import level_on, running_bests
from analysis.evidence.settings import DEFAULTS, Settings
from analysis.records.estimates import ComparableKind, RunningBest
from analysis.records.lifts import PullTags, SetRecord

POOLED = ("shape",)
LOOSER = ("bar", "belt", "grip", "shape", "straps")
LIFTS = ("deadlift", "squat", "front-squat")
Bests = Mapping[ComparableKind, RunningBest]


def bests_of(sets: Iterable[SetRecord], as_of: date, settings: Settings = DEFAULTS) -> Bests:
    """Running bests of pulls and squats by kind, back shapes together."""
    return running_bests(sets, as_of, settings, POOLED, LIFTS)


def shares_by_key(
    sets: Iterable[SetRecord], bests: Bests, as_of: date, settings: Settings = DEFAULTS
) -> dict[str, float]:
    """Set key -> load as a share of the running best of its kind on its day; deadlifts only.

    A kind without a best of its own is held against the style's best with any bar, grip, straps and belt; a set
    before the first known level has no share.
    """
    pulls = [s for s in sets if s.tags.lift == "deadlift" and s.day <= as_of]
    alone = any(kind not in bests for kind in {kind_of(tags, POOLED) for tags in {s.tags for s in pulls}})
    looser = running_bests(pulls, as_of, settings, LOOSER) if alone else {}
    known: dict[PullTags, tuple[RunningBest, ...]] = {}
    shares = {}
    for one in pulls:
        if one.tags not in known:
            found = (bests.get(kind_of(one.tags, POOLED)), looser.get(kind_of(one.tags, LOOSER)))
            known[one.tags] = tuple(best for best in found if best is not None)
        level = next((level for best in known[one.tags] if (level := level_on(best, one.day))), None)
        if level:
            shares[one.key] = one.load_kg / level
    return shares
