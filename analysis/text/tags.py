"""`{% say words %}`: a message as this reader may read it, by the page's athlete or the given one, in their units."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import template
from django.contrib.auth.models import AnonymousUser

from analysis.core.records.messages import Words
from analysis.core.records.plain import message_from
from analysis.text.say import Reader, reader_of, say
from athletes.models import Athlete

register = template.Library()


@register.simple_tag(takes_context=True, name="say")
def say_tag(context: Mapping[str, Any], words: Words | Mapping[str, Any], athlete: Athlete | None = None) -> str:
    """The sentence for the page's reader; words may be a message, one as it is stored, or a finished sentence."""
    message = message_from(words) if isinstance(words, Mapping) else words
    viewer = context["user"]
    if isinstance(viewer, AnonymousUser):
        return message if isinstance(message, str) else ""
    found = athlete or context.get("athlete")
    if found is None:  # a lifter of another club at a meet: nothing private of theirs is known
        return say(message, Reader(weight_unit=viewer.weight_unit, length_unit=viewer.length_unit))
    return say(message, reader_of(found, viewer))
