"""Numbers in the reader's units, `{{ kg|weight:user }}`, and words as people say them, `{{ slug|style_name }}`."""

from collections.abc import Iterable
from typing import Any

from django import template

from athletes.log.words import effort_words, result_words
from athletes.models import User
from athletes.models.choices import BarKind, Style
from athletes.schema.units import format_number, show_length, show_weight

register = template.Library()
register.filter("effort_words", effort_words)
register.filter("result_words", result_words)


@register.filter
def weight(kg: float | None, user: User) -> str:
    """A mass in the reader's unit; a dash when there is none."""
    return "–" if kg is None else show_weight(float(kg), getattr(user, "weight_unit", "kg"))


@register.filter
def meet_load(kg: float, user: User) -> str:
    """A load called at a meet: kilograms exactly, as meets load them, with pounds beside for who reads pounds."""
    exact = f"{format_number(float(kg), 2)} kg"
    return f"{exact} ({show_weight(float(kg), 'lb')})" if getattr(user, "weight_unit", "kg") == "lb" else exact


@register.filter
def measure(cm: float | None, user: User) -> str:
    """A length in the reader's unit; a dash when there is none."""
    return "–" if cm is None else show_length(float(cm), getattr(user, "length_unit", "cm"))


@register.filter
def weight_range(row: Any, user: User) -> str:
    """ "182–196 kg" from a mapping or record with `low_kg` and `high_kg`."""
    low, high = (row[k] if isinstance(row, dict) else getattr(row, k) for k in ("low_kg", "high_kg"))
    unit = getattr(user, "weight_unit", "kg")
    return f"{show_weight(low, unit).split()[0]}–{show_weight(high, unit)}"


@register.filter
def style_name(slug: str) -> str:
    """A style as people say it; a text that is none is shown as it is."""
    return str(dict(Style.choices).get(slug, slug))


@register.filter
def bar_names(slugs: Iterable[str]) -> str:
    """Kinds of bar as people say them, with commas."""
    names = dict(BarKind.choices)
    return ", ".join(str(names.get(slug, slug)) for slug in slugs)
