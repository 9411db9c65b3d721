"""Messages into words of one reader: filtered by privacy first, in the reader's units, ranges as `130–145 kg`."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from math import degrees

from analysis.core.records.messages import HEALTH, Message, Private, Quantity, Unit, Value
from analysis.text import decision, wall
from athletes.schema.units import CM_PER_INCH, KG_PER_LB, format_number
from athletes.schema.vocabulary import Style

TEXTS = decision.TEXTS | wall.TEXTS
PRIVATE = decision.PRIVATE | {code: HEALTH for code in wall.TEXTS if code.startswith(wall.PRIVATE_STARTS)}
STYLE_NAMES: dict[str, str] = {term.value: term.label for term in Style}


@dataclass(frozen=True, slots=True)
class Reader:
    """Who reads: units, kinds of private data they may see, and the first name of the athlete it is about."""

    weight_unit: str = "kg"
    length_unit: str = "cm"
    allowed: frozenset[Private] = frozenset()
    name: str = ""
    own: bool = False
    terms: Mapping[str, str] = field(default_factory=lambda: STYLE_NAMES)


def may_read(message: Message, reader: Reader) -> bool:
    """Whether the reader may see the fact, its words and every value in it."""
    return message.needs | PRIVATE.get(message.code, frozenset()) <= reader.allowed


def say(message: Message, reader: Reader) -> str:
    """The sentence, "" for who may not read it; KeyError for a code without words or a place without a value."""
    if not may_read(message, reader):
        return ""
    values = {name: show(value, reader) for name, value in message.values.items()}
    text = TEXTS[message.code].format_map({"name": reader.name or "the lifter", **values})
    return text[:1].upper() + text[1:]


def say_all(messages: Iterable[Message], reader: Reader) -> list[str]:
    """The sentences the reader may see, in order."""
    return [text for text in (say(message, reader) for message in messages) if text]


def show(value: Value, reader: Reader) -> str:
    """A value as the reader writes it."""
    if isinstance(value, Quantity):
        return quantity(value, reader)
    if isinstance(value, date):
        return f"{value.day} {value:%B}"
    if isinstance(value, str):
        return reader.terms.get(value, value.replace("-", " "))
    return str(value)


def quantity(value: Quantity, reader: Reader) -> str:
    """A number with its unit, as a range where it has one; chances as tenths, never surer than 9 in 10."""
    if value.unit == Unit.CHANCE:
        return chance_words(value)
    scale, decimals, symbol = _written(value.unit, reader)
    if value.low is not None and value.high is not None:
        low, high = (format_number(end * scale, decimals) for end in (value.low, value.high))
        return f"{low}–{high}{symbol}" if low != high else f"{low}{symbol}"
    number = format_number(value.value * scale, decimals)
    plural = "s" if symbol in (" week", " day", " year") and number != "1" else ""
    return f"{number}{symbol}{plural}"


def chance_words(value: Quantity) -> str:
    """A chance as "6 in 10 (4–8)"."""
    tenths = min(max(round(10.0 * value.value), 1), 9)
    if value.low is None or value.high is None:
        return f"{tenths} in 10"
    low, high = (min(max(round(10.0 * end), 0), 10) for end in (value.low, value.high))
    return f"{tenths} in 10 ({low}–{high})" if low < high else f"{tenths} in 10"


def _written(unit: Unit, reader: Reader) -> tuple[float, int, str]:
    """Factor from SI, decimals and symbol of a unit as the reader writes it."""
    if unit == Unit.KG:
        return (1.0 / KG_PER_LB, 0, " lb") if reader.weight_unit == "lb" else (1.0, 0, " kg")
    if unit == Unit.METRE:
        return (100.0 / CM_PER_INCH, 0, " in") if reader.length_unit == "in" else (100.0, 0, " cm")
    return {
        Unit.RADIAN: (degrees(1.0), 0, "°"),
        Unit.SHARE: (100.0, 0, " %"),
        Unit.COUNT: (1.0, 0, ""),
        Unit.WEEK: (1.0, 0, " week"),
        Unit.DAY: (1.0, 0, " day"),
        Unit.YEAR: (1.0, 1, " year"),
        Unit.SORENESS: (1.0, 0, " of 10"),
    }[unit]
