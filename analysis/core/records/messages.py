"""A sentence as data: a code, its values with unit and privacy, and how much it matters; words come at the edge.

Core code never writes a sentence for a page: it returns messages, pages and exports turn them into words of a language,
in the units of the reader, after leaving out what the reader may not see.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum


class Private(StrEnum):
    """Kinds of value that need a permission of their own; who may see one kind need not see the other."""

    HEALTH = "health"
    MASS = "mass"


class Unit(StrEnum):
    """What a quantity is measured in; SI (radians for angles), counts and shares without a unit."""

    KG = "kg"  # an estimate, written whole
    LOAD = "kg on the bar"  # as it was loaded, written to half a kilogram
    METRE = "m"
    SECOND = "s"
    NEWTON_METRE = "N m"
    RPE = "RPE"
    RADIAN = "rad"
    SHARE = "share"
    CHANCE = "chance"
    COUNT = "count"
    WEEK = "week"
    DAY = "day"
    YEAR = "year"
    SORENESS = "of 10"


class Level(StrEnum):
    """How much a message matters to the reader."""

    NOTE = "note"
    CAUTION = "caution"
    STOP = "stop"


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit; low and high are the central 80 % range (or the span) where there is one.

    A `signed` quantity is a difference and is written with its sign.
    """

    value: float
    unit: Unit
    low: float | None = None
    high: float | None = None
    private: frozenset[Private] = frozenset()
    signed: bool = False


@dataclass(frozen=True, slots=True)
class Verbatim:
    """Words that are put into a sentence as they stand, such as the label of a kind of set."""

    text: str


@dataclass(frozen=True, slots=True)
class Message:
    """One sentence: code into the catalogue, values for its places, level, kinds of privacy of the fact itself."""

    code: str
    values: Mapping[str, Value] = field(default_factory=dict)
    level: Level = Level.NOTE
    private: frozenset[Private] = frozenset()

    @property
    def needs(self) -> frozenset[Private]:
        """Every kind a reader must be allowed to see: of the fact and of each value in it."""
        return self.private.union(*map(_needs, self.values.values()))


Value = Quantity | Verbatim | str | date | int | Message | tuple[Message, ...]
Words = str | Message  # a sentence without a value to be written in the reader's unit and without privacy, or a message


def _needs(value: Value) -> frozenset[Private]:
    if isinstance(value, Quantity):
        return value.private
    if isinstance(value, Message):
        return value.needs
    return frozenset().union(*(m.needs for m in value)) if isinstance(value, tuple) else frozenset()


HEALTH = frozenset((Private.HEALTH,))
MASS = frozenset((Private.MASS,))


def chance(value: float, low: float | None = None, high: float | None = None) -> Quantity:
    """A chance (0-1) with its span."""
    return Quantity(value, Unit.CHANCE, low, high)


def kg(value: float, low: float | None = None, high: float | None = None) -> Quantity:
    """An estimated load on the bar, which is not private."""
    return Quantity(value, Unit.KG, low, high)


def load(value: float) -> Quantity:
    """A load that was on the bar, kg."""
    return Quantity(value, Unit.LOAD)


def share(value: float, *, signed: bool = False) -> Quantity:
    """A share, 1 = all of it."""
    return Quantity(value, Unit.SHARE, signed=signed)


def more_kg(value: float, low: float | None = None, high: float | None = None) -> Quantity:
    """A difference of loads, kg, with its sign."""
    return Quantity(value, Unit.KG, low, high, signed=True)


def as_message(words: Words) -> Message:
    """Words as a message; a finished sentence stands in it as it is."""
    return words if isinstance(words, Message) else Message("plain", {"text": Verbatim(words)})


def visible(messages: tuple[Message, ...], allowed: frozenset[Private]) -> tuple[Message, ...]:
    """The messages whose every kind of privacy is among those allowed."""
    return tuple(m for m in messages if m.needs <= allowed)
