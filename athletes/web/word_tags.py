"""`{{ slug|style_name }}`, `{{ slugs|bar_names }}`, `{{ text|told:user }}`: words as people say and read them."""

import re
from collections.abc import Iterable

from django import template

from athletes.log.words import effort_words, result_words
from athletes.models import User
from athletes.models.choices import BarKind, Style
from athletes.schema.units import show_weight

register = template.Library()
register.filter("effort_words", effort_words)
register.filter("result_words", result_words)

_ONE = r"[+\u2212-]?\d+(?:\.\d+)?"
_WEIGHT = re.compile(rf"(?<![\d.])({_ONE})((?:\s?[\u2013]\s?|\sto\s|\sand\s){_ONE})?[ \u00a0]kg\b(?![/\u00b2])")
_PERCENT = re.compile(r"(?<=\d)%")
_NUMBER = re.compile(_ONE)


@register.filter
def style_name(slug: str) -> str:
    """A style as people say it; a text that is none is shown as it is."""
    return str(dict(Style.choices).get(slug, slug))


@register.filter
def bar_names(slugs: Iterable[str]) -> str:
    """Kinds of bar as people say them, with commas."""
    names = dict(BarKind.choices)
    return ", ".join(str(names.get(slug, slug)) for slug in slugs)


@register.filter
def told(text: str, user: User) -> str:
    """A computed sentence with its weights in the reader's unit and a space before each percent sign."""
    unit = getattr(user, "weight_unit", "kg")
    spaced = _PERCENT.sub("\u00a0%", str(text))
    return _WEIGHT.sub(lambda found: _weights(found, unit), spaced)


def _weights(found: re.Match[str], unit: str) -> str:
    """ "181 to 190 kg" as "399 to 419 lb"; signs are kept."""
    numbers = _NUMBER.sub(lambda number: _number(number.group(0), unit), found.group(0)[:-3])
    return f"{numbers} {unit}"


def _number(text: str, unit: str) -> str:
    sign = text[0] if text[0] in "+-\u2212" else ""
    return sign + show_weight(float(text.removeprefix(sign)), unit).split()[0]
