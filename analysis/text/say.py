"""Messages into words of one reader: filtered by privacy first, in the reader's units, ranges as `130–145 kg`."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from math import degrees

from django.utils.translation import gettext

from analysis.core.records.messages import HEALTH, Message, Private, Quantity, Unit, Value, Verbatim, Words
from analysis.text import decision, findings, leverages, log, today, wall, weak_link
from athletes.access.permissions import may, may_see_mass
from athletes.models import Athlete, User
from athletes.schema.units import CM_PER_INCH, KG_PER_LB, format_number, show_weight
from athletes.schema.vocabulary import Pronoun, Style

TEXTS = decision.TEXTS | findings.TEXTS | leverages.TEXTS | log.TEXTS | today.TEXTS | wall.TEXTS | weak_link.TEXTS
PRIVATE = decision.PRIVATE | findings.PRIVATE
PRIVATE |= {code: HEALTH for code in wall.TEXTS if code.startswith(wall.PRIVATE_STARTS)}
PRIVATE |= {code: HEALTH for code in today.TEXTS if code.startswith(today.PRIVATE_STARTS)}
STYLE_NAMES: dict[str, str] = {term.value: term.label for term in Style}


@dataclass(frozen=True, slots=True)
class Reader:
    """Who reads: units, kinds of private data they may see, and the first name of the athlete it is about."""

    weight_unit: str = "kg"
    length_unit: str = "cm"
    allowed: frozenset[Private] = frozenset()
    name: str = ""
    own: bool = False
    pronoun: Pronoun = Pronoun.THEY
    terms: Mapping[str, str] = field(default_factory=lambda: STYLE_NAMES)


def reader_of(athlete: Athlete, viewer: User) -> Reader:
    """The viewer's units and the kinds of private data they may see of this athlete."""
    kinds = {Private.HEALTH: may(viewer, athlete, "health"), Private.MASS: may_see_mass(viewer, athlete)}
    return Reader(
        weight_unit=viewer.weight_unit,
        length_unit=viewer.length_unit,
        allowed=frozenset(kind for kind, allowed in kinds.items() if allowed),
        name=athlete.name.split()[0],
        own=getattr(athlete, "viewer_role", "") == "self",
        pronoun=Pronoun(athlete.pronoun),
    )


def may_read(message: Message, reader: Reader) -> bool:
    """Whether the reader may see the fact, its words and every value in it."""
    return message.needs | PRIVATE.get(message.code, frozenset()) <= reader.allowed


def say(message: Words, reader: Reader) -> str:
    """The sentence, "" for who may not read it; KeyError for a code without words or a place without a value."""
    if isinstance(message, str):
        return message
    text = _filled(message, reader)
    return text[:1].upper() + text[1:]


def _filled(message: Message, reader: Reader) -> str:
    """The words of a code with its values in their places, "" for who may not read it."""
    if not may_read(message, reader):
        return ""
    values = {name: shown(value, reader) for name, value in message.values.items()}
    subject, object_, whose = ("you", "you", "your") if reader.own else reader.pronoun.forms
    spoken = {"name": reader.name or "the lifter", "she": subject, "her": object_, "whose": whose}
    return gettext(TEXTS[message.code]).format_map({**spoken, **values})


class Counted(int):
    """A count that a template may write with its thing: `{misses:miss}` is "1 miss" or "3 misses"."""

    def __format__(self, spec: str) -> str:
        return counted(self, spec) if spec else str(int(self))


def counted(count: int, thing: str) -> str:
    """ "1 heavy set", "3 heavy sets", "2 misses"."""
    return f"{count} {thing}{'' if count == 1 else 'es' if thing.endswith('s') else 's'}"


def shown(value: Value, reader: Reader) -> str | Counted:
    """A value for a template: a plain whole number as one that can be written with its thing, else its words."""
    return Counted(value) if isinstance(value, int) else show(value, reader)


def say_all(messages: Iterable[Words], reader: Reader) -> list[str]:
    """The sentences the reader may see, in order."""
    return [text for text in (say(message, reader) for message in messages) if text]


def show(value: Value, reader: Reader) -> str:
    """A value as the reader writes it."""
    if isinstance(value, Quantity):
        return quantity(value, reader)
    if isinstance(value, Verbatim):
        return value.text
    if isinstance(value, Message):
        return _filled(value, reader).removesuffix(".")
    if isinstance(value, tuple):
        return "; ".join(text.removesuffix(".") for text in (_filled(one, reader) for one in value) if text)
    if isinstance(value, date):
        return f"{value.day} {value:%B}"
    if isinstance(value, str):
        return reader.terms.get(value, value.replace("-", " "))
    return str(value)


def quantity(value: Quantity, reader: Reader) -> str:
    """A number with its unit, as a range where it has one; chances as tenths, never surer than 9 in 10."""
    if value.unit == Unit.CHANCE:
        return chance_words(value)
    if value.unit == Unit.LOAD:
        return show_weight(value.value, reader.weight_unit)
    scale, decimals, symbol = _written(value.unit, reader)
    if value.low is not None and value.high is not None:
        low, high = (_number(end * scale, decimals, value.signed) for end in (value.low, value.high))
        join = " to " if value.signed else "–"
        return f"{low}{join}{high}{symbol}" if low != high else f"{low}{symbol}"
    number = _number(value.value * scale, decimals, value.signed)
    plural = "s" if symbol in (" week", " day", " year") and number != "1" else ""
    return f"{number}{symbol}{plural}"


def _number(value: float, decimals: int, signed: bool) -> str:
    sign = "+" if signed and round(value, decimals) > 0 else ""
    return sign + format_number(value, decimals)


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
        Unit.SECOND: (1.0, 1, " s"),
        Unit.NEWTON_METRE: (0.001, 1, " kN m"),
        Unit.RPE: (1.0, 1, ""),
    }[unit]
