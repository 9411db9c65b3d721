"""A plain log in one CSV file, measurements in its first lines: read for the command line, without a database."""

from __future__ import annotations

import csv
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from math import isfinite
from typing import Any

from analysis.core.records import terms
from analysis.core.records.lifts import DayRecord, LifterRecord, PullTags, SetRecord
from analysis.core.records.plain import CoreError
from athletes.schema.units import kg_from_lb

COLUMNS = """
The file starts with lines that describe the lifter, each "# name: value":
  # sex: m or f (needed)            # standing: beginner, trained, returning, under-18 (trained)
  # age: years                      # as_of: date of the reading (the last date in the file)
  # mass: kg                        # next_meet: date          # pain_noted: yes or no
  # stature: cm (needed)            and any other measurement in cm, such as # trochanterion_height: 90.5
Then a header line and one line a set. Columns, in any order; empty means not noted:
  date (YYYY-MM-DD), load, unit (kg or lb; kg), reps (made; 1), tried (as reps), rpe or rir (8.5 or 8-9)
  lift (deadlift, squat, front-squat, ...; deadlift), style (conventional, sumo, wide-sumo)
  result (made, missed, no-lift, not-tried, stopped-pain; made), position (floor, mid-shin, below-knee, at-knee,
  mid-thigh, lockout; two joined by +), gave_way (never-moved, slowed-stopped, back-rounded, straight-but-round,
  hips-shot-up, grip-opened, lost-balance, feet-moved), rule_reason, slowest_at and what_changed (made heavy sets)
  shape, bar (stiff, training, flexible, ...), start (floor, block, deficit), start_cm (+ block, - deficit), disc_cm,
  grip (double-overhand, mixed, hook), straps, belt, suit, dead_stop, paused, depth_verified, test (yes or no)
  soreness (0-10) and pain (yes or no) of that day
A line that cannot be read is named with its reason and left out; the others count.
"""
_WORDS: dict[str, tuple[str, ...]] = {
    "lift": terms.LIFTS,
    "style": terms.STYLES,
    "shape": terms.SHAPES,
    "bar": terms.BARS,
    "start": terms.STARTS,
    "grip": terms.GRIPS,
    "result": terms.RESULTS,
    "gave_way": terms.GAVE_WAY,
    "what_changed": terms.GAVE_WAY,
    "slowest_at": terms.MISS_POSITIONS,
    "rule_reason": terms.RULE_REASONS,
}
_YES, _NO = ("yes", "y", "true", "1"), ("no", "n", "false", "0")
_SWITCHES = ("straps", "belt", "suit", "dead_stop", "paused", "depth_verified", "test", "pain")
_NUMBERS = ("load", "reps", "tried", "rpe", "rir", "start_cm", "disc_cm", "soreness", "pull_seconds")
KNOWN = ("date", "unit", "position", *_WORDS, *_SWITCHES, *_NUMBERS)


class UnreadableLog(CoreError):
    """A file without what the reading needs; `quantity` names the line or column."""


@dataclass(frozen=True, slots=True)
class PlainLog:
    """The lifter of a file, the date of the reading, and the lines left out with their reasons."""

    lifter: LifterRecord
    as_of: date
    skipped: tuple[str, ...]


def read_plain_log(lines: Iterable[str]) -> PlainLog:
    """Lifter and sets of a file; UnreadableLog when the description or the header cannot be used."""
    text = [line.lstrip("\ufeff").rstrip("\r\n") for line in lines]
    described = _description(text)
    body = [(n, line) for n, line in enumerate(text, start=1) if line.strip() and not line.startswith("#")]
    if not body:
        raise UnreadableLog("file", "it has no header line and no sets")
    header = [name.strip().lower() for name in next(csv.reader([body[0][1]]))]
    _check_header(header)
    sets, days, skipped = _rows(header, body[1:])
    as_of = _described_date(described, "as_of") or max((s.day for s in sets), default=None)
    if as_of is None:
        raise UnreadableLog("file", "no line could be read: " + "; ".join(skipped[:3]))
    return PlainLog(_lifter(described, sets, days), as_of, tuple(skipped))


def _description(text: list[str]) -> dict[str, str]:
    found = {}
    for line in text:
        if line.startswith("#"):
            name, colon, value = line.lstrip("# ").partition(":")
            if colon:
                found[name.strip().lower().replace(" ", "_")] = value.strip()
    for needed in ("sex", "stature"):
        if needed not in found:
            raise UnreadableLog(needed, f'the file needs a line "# {needed}: ..." before the header')
    return found


def _check_header(header: list[str]) -> None:
    for needed in ("date", "load"):
        if needed not in header:
            raise UnreadableLog("header", f"there is no column {needed!r}; found {', '.join(header)}")
    unknown = [name for name in header if name not in KNOWN]
    if unknown:
        raise UnreadableLog("header", f"unknown column {unknown[0]!r}; known are {', '.join(KNOWN)}")


def _rows(header: list[str], body: list[tuple[int, str]]) -> tuple[list[SetRecord], dict[date, DayRecord], list[str]]:
    sets: list[SetRecord] = []
    days: dict[date, DayRecord] = {}
    skipped: list[str] = []
    for number, line in body:
        cells = next(csv.reader([line]))
        if len(cells) != len(header):
            skipped.append(f"line {number}: {len(cells)} cells, the header has {len(header)}")
            continue
        row = {name: cell.strip() for name, cell in zip(header, cells, strict=True)}
        try:
            one = _set(number, row)
            days[one.day] = _day(one.day, row, days.get(one.day))
            sets.append(one)
        except UnreadableLog as error:
            skipped.append(f"line {number}: {error.quantity}: {error.reason}")
    return sets, days, skipped


def _set(number: int, row: dict[str, str]) -> SetRecord:
    for name, known in _WORDS.items():
        if row.get(name) and row[name] not in known:
            raise UnreadableLog(name, f"{row[name]!r} is none of {', '.join(known)}")
    load = _number(row, "load")
    if load is None or not 0.0 < load < 1000.0:
        raise UnreadableLog("load", f"{row['load']!r} is not a load")
    if row.get("unit", "") not in ("", "kg", "lb"):
        raise UnreadableLog("unit", f"{row['unit']!r} is neither kg nor lb")
    result = row.get("result") or "made"
    reps = int(_number(row, "reps") or (1 if result == "made" else 0))
    low, high = _reserve(row)
    return SetRecord(
        key=f"line-{number}",
        day=_date("date", row["date"]),
        load_kg=kg_from_lb(load) if row.get("unit") == "lb" else load,
        reps_made=reps,
        reps_tried=int(_number(row, "tried") or max(reps, 1)),
        tags=_tags(row),
        result=result,
        rir_low=low,
        rir_high=high,
        **dict(zip(("miss_position", "second_position"), _positions(row), strict=False)),
        gave_way=row.get("gave_way", ""),
        rule_reason=row.get("rule_reason", ""),
        slowest_at=row.get("slowest_at", ""),
        what_changed=row.get("what_changed", ""),
        pull_seconds=_number(row, "pull_seconds"),
        is_test=_yes(row, "test", default=False),
    )


def _tags(row: dict[str, str]) -> PullTags:
    given: dict[str, Any] = {
        name: row[name] for name in ("lift", "style", "shape", "bar", "start", "grip") if row.get(name)
    }
    for name in ("straps", "belt", "suit", "dead_stop", "paused", "depth_verified"):
        if row.get(name):
            given[name] = _yes(row, name, default=False)
    for name, column in (("start_offset_m", "start_cm"), ("disc_diameter_m", "disc_cm")):
        value = _number(row, column)
        if value is not None:
            given[name] = value / 100.0
    tags = PullTags(**given)
    if "start" not in given and tags.start_offset_m:
        tags = replace(tags, start="block" if tags.start_offset_m > 0 else "deficit")
    return tags


def _positions(row: dict[str, str]) -> tuple[str, ...]:
    names = tuple(part.strip() for part in row.get("position", "").split("+") if part.strip())
    for name in names:
        if name not in terms.MISS_POSITIONS:
            raise UnreadableLog("position", f"{name!r} is none of {', '.join(terms.MISS_POSITIONS)}")
    return names


def _reserve(row: dict[str, str]) -> tuple[float | None, float | None]:
    """Reps in reserve as a range, from rir or from rpe (RPE 9 = 1 in reserve: Zourdos et al. 2016)."""
    for name, turned in (("rir", _same), ("rpe", _from_ten)):
        if row.get(name):
            parts = [_plain_number(name, part) for part in row[name].split("-")]
            if len(parts) > 2 or not all(0.0 <= p <= 10.0 for p in parts):
                raise UnreadableLog(name, f"{row[name]!r} is not a number from 0 to 10 or a range such as 8-9")
            values = sorted(turned(p) for p in parts)
            return values[0], values[-1]
    return None, None


def _same(value: float) -> float:
    return value


def _from_ten(value: float) -> float:
    return 10.0 - value


def _day(day: date, row: dict[str, str], before: DayRecord | None) -> DayRecord:
    sore = _number(row, "soreness")
    known = before or DayRecord(day)
    soreness = known.soreness if sore is None else int(sore)
    return DayRecord(day, soreness=soreness, pain_event=known.pain_event or _yes(row, "pain", default=False))


def _number(row: dict[str, str], name: str) -> float | None:
    return _plain_number(name, row[name]) if row.get(name) else None


def _plain_number(name: str, text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        raise UnreadableLog(name, f"{text!r} is not a number") from None
    if not isfinite(value):
        raise UnreadableLog(name, f"{text!r} is not a number")
    return value


def _yes(row: dict[str, str], name: str, *, default: bool) -> bool:
    text = row.get(name, "").lower()
    if not text:
        return default
    if text not in _YES + _NO:
        raise UnreadableLog(name, f"{text!r} is neither yes nor no")
    return text in _YES


def _date(name: str, text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise UnreadableLog(name, f"{text!r} is not a date such as 2026-03-04") from None


def _described_date(described: dict[str, str], name: str) -> date | None:
    return _date(name, described[name]) if described.get(name) else None


_APART = ("sex", "age", "standing", "as_of", "next_meet", "pain_noted", "name", "mass")


def _lifter(described: dict[str, str], sets: list[SetRecord], days: dict[date, DayRecord]) -> LifterRecord:
    if described["sex"] not in ("m", "f"):
        raise UnreadableLog("sex", f"{described['sex']!r} is neither m nor f")
    standing = described.get("standing", "trained")
    if standing not in terms.STANDINGS:
        raise UnreadableLog("standing", f"{standing!r} is none of {', '.join(terms.STANDINGS)}")
    measured = {k: _plain_number(k, v) / 100.0 for k, v in described.items() if k not in _APART}
    if described.get("mass"):
        measured["mass"] = _plain_number("mass", described["mass"])
    pulls = [s.tags.style for s in sets if s.tags.lift == "deadlift" and s.tags.style]
    return LifterRecord(
        key=described.get("name", "lifter"),
        sex=described["sex"],
        age=_plain_number("age", described["age"]) if described.get("age") else None,
        standing=standing,
        measurements_m=measured,
        pain_noted=_yes(described, "pain_noted", default=False),
        trained_styles=tuple(dict.fromkeys(pulls)),
        sets=tuple(sets),
        days=tuple(days.values()),
        next_meet=_described_date(described, "next_meet"),
    )
