"""Records as plain JSON-able data, so that a stored profile is text and not code."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from math import isfinite
from typing import Any

import numpy as np

from analysis.core.records.messages import Level, Message, Private, Quantity, Unit, Value, Verbatim

AS_THEY_ARE = frozenset((str, int, bool, type(None)))


def to_plain(value: Any) -> Any:
    """Dicts, lists, strings and numbers of a record; dates as ISO text, arrays as lists, other keys as text."""
    if type(value) in AS_THEY_ARE:
        return value
    if isinstance(value, list | tuple | set | frozenset):
        return [to_plain(inner) for inner in value]
    if isinstance(value, dict):
        return {str(key): to_plain(inner) for key, inner in value.items()}
    if isinstance(value, np.ndarray):
        return to_plain(value.tolist())
    if isinstance(value, np.generic):
        return to_plain(value.item())
    if isinstance(value, float):
        return value if isfinite(value) else None
    if isinstance(value, Message):
        return message_to_plain(value)
    if isinstance(value, date):
        return value.isoformat()
    if is_dataclass(value) and not isinstance(value, type):
        return {f.name: to_plain(getattr(value, f.name)) for f in fields(value)}
    return value


def message_to_plain(message: Message) -> dict[str, Any]:
    """Code, level, privacy and values of a message; each value with the name of its type."""
    values = {name: _value_to_plain(value) for name, value in message.values.items()}
    return {
        "code": message.code,
        "values": values,
        "level": str(message.level),
        "private": sorted(map(str, message.private)),
    }


def _value_to_plain(value: Value) -> dict[str, Any]:
    if isinstance(value, Message):
        return {"message": message_to_plain(value)}
    if isinstance(value, tuple):
        return {"messages": [message_to_plain(one) for one in value]}
    if isinstance(value, Quantity):
        plain = {f.name: getattr(value, f.name) for f in fields(value)}
        return {"quantity": plain | {"unit": str(value.unit), "private": sorted(map(str, value.private))}}
    if isinstance(value, Verbatim):
        return {"verbatim": value.text}
    return {"day": value.isoformat()} if isinstance(value, date) else {"term": value}


def message_from(plain: Mapping[str, Any]) -> Message:
    """The message that `message_to_plain` wrote."""
    values = {name: _value_from(value) for name, value in plain["values"].items()}
    return Message(plain["code"], values, Level(plain["level"]), frozenset(map(Private, plain["private"])))


def _value_from(plain: Mapping[str, Any]) -> Value:
    ((kind, inner),) = plain.items()
    if kind == "message":
        return message_from(inner)
    if kind == "messages":
        return tuple(map(message_from, inner))
    if kind == "quantity":
        private = frozenset(map(Private, inner["private"]))
        return Quantity(**{**inner, "unit": Unit(inner["unit"]), "private": private})
    if kind == "verbatim":
        return Verbatim(inner)
    if kind == "day":
        return date.fromisoformat(inner)
    term: str | int = inner
    return term


class CoreError(ValueError):
    """Base of every error the core raises on purpose; `quantity` names the culprit, `reason` says why."""

    def __init__(self, quantity: str, reason: str) -> None:
        super().__init__(f"{quantity}: {reason}")
        self.quantity = quantity
        self.reason = reason


class ImplausibleMeasurement(CoreError):
    """A measurement that no adult or adolescent body has, or that contradicts another measurement."""


class ImpossibleBody(CoreError):
    """Link lengths that cannot belong to one body (a negative link, circles that never meet)."""


class ImpossibleStance(CoreError):
    """A stance, turnout, hand spacing or start height that this body cannot reach."""


class UnknownKey(CoreError):
    """A name of a style, measurement, term or setting that the core does not know."""


class NotEnoughEvidence(CoreError):
    """Too little was logged for this question; the reason says what would help."""
