"""Short ways to write down a log in tests; every lifter and number is invented."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import count

from analysis.core.records.lifts import DayRecord, PullTags, SetRecord

START = date(2026, 1, 5)
_number = count(1)
TAGS = ("lift", "style", "shape", "bar", "start", "start_offset_m", "disc_diameter_m", "grip", "straps", "belt")
TAGS += ("suit", "dead_stop", "paused", "depth_verified")


def day(number: int) -> date:
    """The day `number` days after the first one."""
    return START + timedelta(days=number)


def pull(on: int, load: float, reps: int = 1, rpe: float | None = None, **more) -> SetRecord:
    """One set on day `on`; tags and fields by name; RPE turned into reps in reserve."""
    rir = None if rpe is None else 10.0 - rpe
    given = {name: more.pop(name) for name in TAGS if name in more}
    tags = PullTags(**{"style": "conventional", "bar": "stiff", "grip": "mixed", **given})
    tried = more.pop("tried", reps)
    made = reps if more.get("result", "made") == "made" else more.pop("made", 0)
    key = more.pop("key", f"set-{next(_number)}")
    return SetRecord(key, day(on), load, made, tried, tags, rir_low=rir, rir_high=rir, **more)


def missed(on: int, load: float, **more) -> SetRecord:
    """One missed single."""
    return pull(on, load, 1, result="missed", **more)


def note(on: int, soreness: int | None = None, **more) -> DayRecord:
    """One day's note."""
    return DayRecord(day(on), soreness, **more)


def weekly(first: int, weeks: int, load: float, **more) -> list[SetRecord]:
    """A single at RPE 9.5 once a week."""
    return [pull(first + 7 * week, load, 1, more.get("rpe", 9.5), **_without(more, "rpe")) for week in range(weeks)]


def _without(given: dict, *names: str) -> dict:
    return {name: value for name, value in given.items() if name not in names}
