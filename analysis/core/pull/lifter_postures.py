"""How one lifter stands in each style: the newest of each thing seen, fitted to their body on the day of reading.

Nothing fitted is stored: the entries are the fact, and a body measured anew changes what they mean.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from analysis.core.pull.own_posture import misfits, own_posture
from analysis.core.records.bodies import BodyInput
from analysis.core.records.lifts import LifterRecord
from analysis.core.records.plain import CoreError
from analysis.core.records.postures import OwnPosture, PostureSeen
from athletes.schema.postures import SEEN, PostureNote
from athletes.schema.vocabulary import Arms, BackShape, BarOverFoot, Knees, PostureSource

LEAST_SESSIONS = 8  # days in a style before its posture has a say in the style decision: until then it still moves
_KEPT = 512


@dataclass(frozen=True, slots=True)
class LifterPostures:
    """The lifter's own posture by style; `refused` says why an entry is not drawn, `odd` what the fit does not meet.

    `odd` holds the styles in which something seen lies more than MISFIT_SD from the fitted posture.
    """

    own: Mapping[str, OwnPosture]
    refused: Mapping[str, str]
    odd: frozenset[str]


def lifter_postures(lifter: LifterRecord) -> LifterPostures:
    """The postures of a lifter from their entries; styles without one are missing."""
    return postures_of(lifter.body, lifter.posture_notes)


def postures_of(body: BodyInput, notes: Sequence[PostureNote]) -> LifterPostures:
    """The postures of a body from entries, the oldest first."""
    if "stature" not in body.measured_m or not notes:
        return LifterPostures({}, {}, frozenset())
    measured = (tuple(sorted(body.measured_m.items())), tuple(sorted(body.sd_m.items())))
    return _fitted(body.sex, *measured, body.age, tuple(notes))


_Lengths = tuple[tuple[str, float], ...]


@lru_cache(maxsize=_KEPT)
def _fitted(
    sex: str, measured: _Lengths, spread: _Lengths, age: float | None, notes: tuple[PostureNote, ...]
) -> LifterPostures:
    """Kept by the very body and entries: pages and profiles ask for the same lifter again and again."""
    body = BodyInput(sex, dict(measured), dict(spread), age)
    own: dict[str, OwnPosture] = {}
    refused: dict[str, str] = {}
    odd = set()
    for style in dict.fromkeys(one.style for one in notes):
        of_style = [one for one in notes if one.style == style]
        seen, source = seen_in(of_style)
        try:
            own[style] = own_posture(body, style, seen, source, max(one.day for one in of_style))
        except CoreError as error:
            refused[style] = error.reason
            continue
        if misfits(body, own[style], seen):
            odd.add(style)
    return LifterPostures(MappingProxyType(own), MappingProxyType(refused), frozenset(odd))


def seen_in(notes: Sequence[PostureNote]) -> tuple[PostureSeen, str]:
    """The newest of each thing seen in one style (`notes` the oldest first), and how stance and toes were taken."""
    newest: dict[str, PostureNote] = {}
    for one in notes:
        newest |= {name: one for name in SEEN if getattr(one, name) not in (None, "")}
    value = {name: getattr(one, name) for name, one in newest.items()}
    judged = {key for key, name in (("heels", "heels_m"), ("turnout", "turnout_deg"))
              if name in newest and newest[name].source != PostureSource.TAPE}  # fmt: skip
    seen = PostureSeen(
        heels_m=value.get("heels_m"),
        turnout_rad=math.radians(value["turnout_deg"]) if "turnout_deg" in value else None,
        by_eye=frozenset(judged),
        bar_over=BarOverFoot(value["bar_over"]) if "bar_over" in value else None,
        arms=Arms(value["arms"]) if "arms" in value else None,
        back=BackShape(value["back"]) if "back" in value else None,
        knees=Knees(value["knees"]) if "knees" in value else None,
    )
    sources = dict.fromkeys(PostureSource(one.source).label for one in newest.values())
    return seen, ", ".join(sources)


def settled_postures(lifter: LifterRecord) -> dict[str, OwnPosture]:
    """The postures that may have a say in weak link and style: LEAST_SESSIONS days in the style, nothing odd in it.

    The others are for drawing and checking: a style that is being learnt is not yet the way this lifter pulls.
    """
    found = lifter_postures(lifter)
    days: dict[str, set[object]] = {}
    for one in lifter.sets:
        if one.tags.lift == "deadlift":
            days.setdefault(one.tags.style, set()).add(one.day)
    return {
        style: own
        for style, own in found.own.items()
        if len(days.get(style, ())) >= LEAST_SESSIONS and style not in found.odd
    }
