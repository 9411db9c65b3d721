"""The log as the core's records, read as plain values: no model instances, and what repeats is made once.

A set that was read before comes back as the same record, so that what was worked out from sets that have not changed is
found again by comparing them. A row is known by all its values: a changed row becomes a new record.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache, lru_cache, reduce
from itertools import chain, groupby
from operator import add, itemgetter
from typing import Any

from django.db.models import (
    Case,
    CharField,
    Expression,
    ExpressionWrapper,
    F,
    Func,
    IntegerField,
    Q,
    QuerySet,
    TextField,
    Value,
    When,
)
from django.db.models.functions import Cast, Coalesce

from analysis.core.estimates.kept import Kept
from analysis.core.records.lifts import PullTags, SetRecord
from athletes.models import LiftSet
from athletes.models.choices import Result, Start

Row = tuple[Any, ...]
OWN = ("uid", "day", "load_kg", "reps_made", "reps_tried", "rir_low", "rir_high", "pull_seconds")
WORDS = (
    *("result", "miss_position", "second_position", "gave_way", "rule_reason", "slowest_at", "what_changed"),
    "in_new_style",
)
JUST_MADE = {name: Result.MADE if name == "result" else "" for name in WORDS} | {"trial": None, "is_test": False}
TAGS = ("lift", "style", "shape", "bar__kind", "bar_kind", "start", "start_cm", "disc_diameter_cm", "grip")
FLAGS = ("straps", "belt", "suit", "dead_stop", "paused", "depth_verified")
APART = "|"  # no word of the vocabulary holds it
_BY_DAY = itemgetter(OWN.index("day"))
MOST_KEPT = 60_000  # sets; about 40 MB in one process


@dataclass(frozen=True, slots=True)
class Shared:
    """What many sets of a log have in common: all of it but the day, the numbers and the key."""

    tags: PullTags
    result: str
    miss_positions: tuple[str, ...]
    gave_way: str
    rule_reason: str
    slowest_at: str
    what_changed: str
    in_new_style: str
    trial_key: str
    is_test: bool


READ: Kept[int, dict[Row, tuple[Shared, SetRecord]]] = Kept(MOST_KEPT)


def set_records(rows: QuerySet[LiftSet]) -> tuple[SetRecord, ...]:
    """Logged sets as records, oldest first, in the order they were lifted; a set's key is the row's uid."""
    return tuple(record for _, record in _pairs(_values(rows), {}).values())


def log_of(athlete_pk: int, rows: QuerySet[LiftSet]) -> tuple[SetRecord, ...]:
    """The same for the log of one athlete, as the records of the last reading where a row is the same."""
    return _kept_records(athlete_pk, _values(rows))


def _kept_records(athlete_pk: int, rows: Iterable[Row]) -> tuple[SetRecord, ...]:
    pairs = _pairs(rows, READ.get(athlete_pk) or {})
    READ.keep(athlete_pk, pairs, len(pairs))
    return tuple(record for _, record in pairs.values())


def logs_of(rows: QuerySet[LiftSet]) -> dict[int, tuple[SetRecord, ...]]:
    """The logs of several athletes by their pk, in one query."""
    read = rows.order_by("athlete_id", "-day", "order", "pk").values_list(*_columns(), "athlete_id")
    found = {}
    for athlete, log in groupby(read.iterator(chunk_size=5000), key=itemgetter(-1)):
        found[athlete] = _kept_records(athlete, _turned(row[:-1] for row in log))
    return found


@cache
def _columns() -> list[Expression]:
    """What is read of a row, as the driver gives it: converting each value would cost more than the reading.

    Every column costs time in a long log. A set that was just made, as most are, has one empty text for all that else
    would be said of it, and yes and no are digits of one number.
    """
    said = [part for name in WORDS for part in (F(name), Value(APART))]
    trial = Coalesce(Cast("trial_id", CharField()), Value(""))
    tested = Case(When(is_test=True, then=Value("test")), default=Value(""))
    words = Case(
        When(Q(**JUST_MADE), then=Value("")),
        default=Func(*said, trial, Value(APART), tested, template="(%(expressions)s)", arg_joiner=" || "),
        output_field=TextField(),
    )
    flags = reduce(add, (Cast(name, IntegerField()) * 2**place for place, name in enumerate(FLAGS)))
    raw = [ExpressionWrapper(F(name), output_field=TextField()) for name in (*OWN, *TAGS)]
    return [*raw, words, flags]


def _values(rows: QuerySet[LiftSet]) -> Iterable[Row]:
    """The rows' values, asked for in the order of the index, newest day first, which spares sorting them."""
    return _turned(rows.order_by("-day", "order", "pk").values_list(*_columns()).iterator(chunk_size=5000))


def _turned(rows: Iterable[Row]) -> Iterable[Row]:
    """The newest day first turned into the oldest first; within a day the order stays."""
    days = [list(one) for _, one in groupby(rows, key=_BY_DAY)]
    return chain.from_iterable(reversed(days))


def _pairs(rows: Iterable[Row], known: Mapping[Row, tuple[Shared, SetRecord]]) -> dict[Row, tuple[Shared, SetRecord]]:
    """By each row's own values (the uid is one of them), what it shares with others and its record."""
    own, pairs = len(OWN), {}
    for row in rows:
        head, shared = row[:own], _shared(row[own:])
        pair = known.get(head)
        pairs[head] = pair if pair is not None and pair[0] is shared else (shared, _record(head, shared))
    return pairs


def _record(head: Row, shared: Shared) -> SetRecord:
    uid, day, load_kg, reps_made, reps_tried, rir_low, rir_high, pull_seconds = head
    return SetRecord(
        _key(uid),
        _day(day),
        load_kg,
        reps_made,
        reps_tried,
        shared.tags,
        shared.result,
        rir_low,
        rir_high,
        shared.miss_positions,
        shared.gave_way,
        shared.rule_reason,
        shared.slowest_at,
        shared.what_changed,
        pull_seconds,
        shared.in_new_style,
        shared.trial_key,
        shared.is_test,
    )


def _key(uid: Any) -> str:
    """A row's uid as its usual text; SQLite keeps it without hyphens."""
    if not isinstance(uid, str):
        return str(uid)
    return f"{uid[:8]}-{uid[8:12]}-{uid[12:16]}-{uid[16:20]}-{uid[20:]}"


@lru_cache(maxsize=8192)
def _day(value: Any) -> date:
    """A day; SQLite gives it as text."""
    return date.fromisoformat(value) if isinstance(value, str) else value


@lru_cache(maxsize=8192)
def _shared(values: Row) -> Shared:
    *tags, words, flags = values
    said = words.split(APART) if words else [Result.MADE.value, *[""] * 9]
    result, first, second, gave_way, rule, slowest, changed, in_new_style, trial, tested = said
    return Shared(
        tags=_tags((*tags, flags)),
        result=result,
        miss_positions=tuple(p for p in (first, second) if p),
        gave_way=gave_way,
        rule_reason=rule,
        slowest_at=slowest,
        what_changed=changed,
        in_new_style=in_new_style,
        trial_key=trial,
        is_test=bool(tested),
    )


@lru_cache(maxsize=8192)
def _tags(values: Row) -> PullTags:
    """What makes two sets comparable; one record for equal values, so that sets can be grouped by it quickly."""
    lift, style, shape, own_bar, bar_kind, start, start_cm, disc_cm, grip, flags = values
    offset = start_cm / 100.0
    return PullTags(
        lift=lift,
        style=style,
        shape=shape,
        bar=bar_kind if own_bar is None else own_bar,
        start=start,
        start_offset_m={Start.BLOCK: offset, Start.DEFICIT: -offset}.get(Start(start), 0.0),
        disc_diameter_m=disc_cm / 100.0,
        grip=grip,
        **{name: bool(flags >> place & 1) for place, name in enumerate(FLAGS)},
    )
