"""A stored profile's plain data back into the records it was made from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from functools import cache
from types import NoneType, UnionType
from typing import Any, TypeVar, get_args, get_origin, get_type_hints

from analysis.core.records.messages import Message, Words
from analysis.core.records.plain import message_from

R = TypeVar("R")


@cache
def hints_of(record: type) -> dict[str, Any]:
    """The types of a record's fields."""
    return get_type_hints(record)


def record_from(record: type[R], plain: Mapping[str, Any]) -> R:
    """The record that `to_plain` wrote; KeyError when a field is missing, as from another version of the code."""
    kind: Any = record  # the cache asks for a hash, which the checker does not see on a type of any record
    hints = hints_of(kind)
    return record(**{f.name: _value(hints[f.name], plain[f.name]) for f in fields(record)})  # type: ignore[arg-type]


def _value(kind: Any, plain: Any) -> Any:
    if kind == Words or kind is Message:
        return message_from(plain) if isinstance(plain, Mapping) else plain
    if get_origin(kind) is UnionType:
        chosen = next(k for k in get_args(kind) if k is not NoneType)
        return None if plain is None else _value(chosen, plain)
    if get_origin(kind) is tuple:
        return _items(get_args(kind), plain)
    if kind is date:
        return date.fromisoformat(plain)
    return record_from(kind, plain) if isinstance(kind, type) and is_dataclass(kind) else plain


def _items(kinds: tuple[Any, ...], plain: list[Any]) -> tuple[Any, ...]:
    if len(kinds) == 2 and kinds[1] is Ellipsis:
        return tuple(plain) if kinds[0] in (str, float, int) else tuple(_value(kinds[0], item) for item in plain)
    return tuple(_value(kind, item) for kind, item in zip(kinds, plain, strict=True))
