"""The log as the core's records, read column by column as the schema describes it, without model instances.

A row that was read before comes back as the same record, so that what was computed from unchanged sets is found again
by comparing them. A row is known by all its values: a changed row becomes a new record.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache, lru_cache
from itertools import chain, groupby
from operator import itemgetter
from typing import Any

from django.db.models import Expression, ExpressionWrapper, F, QuerySet, TextField

from analysis.core.estimates.kept import LRUCache
from analysis.core.records.lifts import PullTags, SetRecord
from athletes.models import LiftSet
from athletes.schema.fields import FieldSpec, specs
from athletes.schema.vocabulary import Start

Row = tuple[Any, ...]
OWN = ("uid", "day", "load_kg", "reps_made", "reps_tried", "rir_low", "rir_high")  # they differ from set to set
SEEN = tuple(spec for name, spec in specs(SetRecord).items() if name not in OWN)
TAGS = tuple(specs(PullTags).values())
OFFSET_SIGN = {Start.BLOCK: 1.0, Start.DEFICIT: -1.0}
_BY_DAY = itemgetter(OWN.index("day"))
CACHE_CAPACITY = 60_000  # sets; about 40 MB in one process


@dataclass(frozen=True, slots=True)
class Shared:
    """What many sets of a log have in common: all of it but the day, the numbers and the key."""

    tags: PullTags
    seen: dict[str, Any]


READ: LRUCache[int, dict[Row, tuple[Shared, SetRecord]]] = LRUCache(CACHE_CAPACITY)


def set_records(rows: QuerySet[LiftSet]) -> tuple[SetRecord, ...]:
    """Logged sets as records, oldest first, in the order they were lifted; a set's key is the row's uid."""
    return tuple(record for _, record in _pairs(_values(rows), {}).values())


def log_of(athlete_pk: int, rows: QuerySet[LiftSet]) -> tuple[SetRecord, ...]:
    """The same for the log of one athlete; an unchanged row gives the record of the last reading."""
    return _cached_records(athlete_pk, _values(rows))


def logs_of(rows: QuerySet[LiftSet]) -> dict[int, tuple[SetRecord, ...]]:
    """The logs of several athletes by their pk, in one query."""
    read = rows.order_by("athlete_id", "-day", "order", "pk").values_list(*_columns(), "athlete_id")
    found = {}
    for athlete, log in groupby(read.iterator(chunk_size=5000), key=itemgetter(-1)):
        found[athlete] = _cached_records(athlete, _oldest_first(row[:-1] for row in log))
    return found


def _cached_records(athlete_pk: int, rows: Iterable[Row]) -> tuple[SetRecord, ...]:
    pairs = _pairs(rows, READ.get(athlete_pk) or {})
    READ.keep(athlete_pk, pairs, len(pairs))
    return tuple(record for _, record in pairs.values())


@cache
def _columns() -> list[Expression]:
    """Columns selected per set. Raw driver values, because converting 30 columns dominates the time of the query."""
    names = (*OWN, *(spec.column for spec in SEEN), "trial_id", "bar__kind", *(spec.column for spec in TAGS))
    return [ExpressionWrapper(F(name), output_field=TextField()) for name in names]


def _values(rows: QuerySet[LiftSet]) -> Iterable[Row]:
    """The rows' values, asked for in the order of the index, newest day first, which spares sorting them."""
    return _oldest_first(rows.order_by("-day", "order", "pk").values_list(*_columns()).iterator(chunk_size=5000))


def _oldest_first(rows: Iterable[Row]) -> Iterable[Row]:
    """Rows with the newest day first turned to the oldest first; within a day the order stays."""
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
    uid, day, load_kg, reps_made, reps_tried, rir_low, rir_high = head
    return SetRecord(
        key=_key(uid),
        day=_day(day),
        load_kg=load_kg,
        reps_made=reps_made,
        reps_tried=reps_tried,
        tags=shared.tags,
        rir_low=rir_low,
        rir_high=rir_high,
        **shared.seen,
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
    """One object for equal values, so that an unchanged row is recognised by identity."""
    seen = {spec.name: _si(spec, value) for spec, value in zip(SEEN, values, strict=False)}
    trial = values[len(SEEN)]
    return Shared(_tags(values[len(SEEN) + 1 :]), seen | {"trial_key": "" if trial is None else str(trial)})


@lru_cache(maxsize=8192)
def _tags(values: Row) -> PullTags:
    """What makes two sets comparable; one record for equal values, so that sets can be grouped by it quickly."""
    own_bar, *columns = values
    given = {spec.name: _si(spec, value) for spec, value in zip(TAGS, columns, strict=True)}
    given["start_offset_m"] *= OFFSET_SIGN.get(given["start"], 0.0)
    if own_bar is not None:
        given["bar"] = own_bar
    return PullTags(**given)


def _si(spec: FieldSpec, value: Any) -> Any:
    """The value of a column in the unit of the record; drivers give yes and no as digits."""
    if value is None:
        return None
    if spec.kind == "flag":
        return bool(value)
    return value * spec.field.unit.si if spec.field.unit is not None else value
