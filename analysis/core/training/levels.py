"""What each pull was against the lifter's running best of its day."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from analysis.core.estimates.comparable import kind_of, tags_among
from analysis.core.estimates.running_best import levels_of, running_bests
from analysis.core.records.estimates import ComparableKind, RunningBest
from analysis.core.records.lifts import SetRecord
from analysis.core.settings import DEFAULTS, Settings

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
    alone = any(kind_of(tags, POOLED) not in bests for tags in tags_among(pulls))
    own = levels_of(pulls, bests, POOLED)
    other = levels_of(pulls, running_bests(pulls, as_of, settings, LOOSER), LOOSER) if alone else {}
    return {s.key: s.load_kg / level for s in pulls if (level := own[s.key] or other.get(s.key))}
