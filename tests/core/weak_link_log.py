"""Hand-made lifters for the weak-link tests; every lifter, load and date is invented."""

from __future__ import annotations

from dataclasses import replace

from analysis.core.records.lifts import LifterRecord
from analysis.core.settings import DEFAULTS
from analysis.core.weak_link import weak_link_report
from tests.core.logbook import day, missed, pull

TODAY = 140  # days after the log's first day


def lifter(sets, days=(), **more) -> LifterRecord:
    """A trained man of 1.80 m and 88 kg unless said otherwise."""
    measured = more.pop("measured", {"stature": 1.80, "mass": 88.0})
    given = {"sex": "m", "age": 29.0, "standing": "trained", "trained_styles": ("conventional",), **more}
    return LifterRecord(key="x", measurements_m=measured, sets=tuple(sets), days=tuple(days), **given)


def base(load: float = 170.0, weeks: int = 14, **tags):
    """A triple at RPE 8 every week: a level of about 1.16 times the load."""
    return [pull(TODAY - 5 - 7 * w, load, 3, 8.0, **tags) for w in range(weeks)]


def squats(load: float, weeks: int = 8, lift: str = "squat", **tags):
    """Squat triples at RPE 7.5 every other week, four days before the next pull."""
    given = {"lift": lift, "style": "", "depth_verified": True, "bar": "squat-bar", **tags}
    return [pull(TODAY - 9 - 14 * w, load, 3, 7.5, **given) for w in range(weeks)]


def misses(number: int, load: float, position: str = "floor", gave: str = "", every: int = 14, **more):
    """Misses every other week on the day of the triples."""
    return [missed(TODAY - 5 - every * w, load, miss_position=position, gave_way=gave, **more) for w in range(number)]


def report(one: LifterRecord, on: int = TODAY, settings=DEFAULTS):
    """The weak-link report of a hand-made lifter."""
    return weak_link_report(one, day(on), settings)


def changed(one: LifterRecord, **fields) -> LifterRecord:
    """The same lifter but for some fields."""
    return replace(one, **fields)


def chance(found, link: str) -> float:
    """The chance of a link in the main style."""
    return found.styles[0].chance(link)


def codes(found) -> set[str]:
    """The codes of everything a report found."""
    return {f.code for f in (*found.findings, *found.classical)}


def left_out(found) -> dict[str, str]:
    """Set key to code of what was left out."""
    return {e.set_key: e.code for e in found.excluded}
