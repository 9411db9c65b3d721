"""`{% say words %}`: a message as this reader may read it, by the page's athlete or the given one, in their units."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import template
from django.contrib.auth.models import AnonymousUser

from analysis.core.records.messages import Private, Words
from analysis.core.records.plain import message_from
from analysis.text.say import Reader, say
from athletes.access.permissions import may, may_see_mass
from athletes.models import Athlete, User

register = template.Library()


def reader_of(athlete: Athlete | None, viewer: User) -> Reader:
    """The viewer's units and the kinds of private data they may see of this athlete; none of nobody of the club."""
    if athlete is None:
        return Reader(weight_unit=viewer.weight_unit, length_unit=viewer.length_unit)
    kinds = {Private.HEALTH: may(viewer, athlete, "health"), Private.MASS: may_see_mass(viewer, athlete)}
    return Reader(
        weight_unit=viewer.weight_unit,
        length_unit=viewer.length_unit,
        allowed=frozenset(kind for kind, allowed in kinds.items() if allowed),
        name=athlete.name.split()[0],
        own=getattr(athlete, "viewer_role", "") == "self",
    )


@register.simple_tag(takes_context=True, name="say")
def say_tag(context: Mapping[str, Any], words: Words | Mapping[str, Any], athlete: Athlete | None = None) -> str:
    """The sentence for the page's reader; words may be a message, one as it is stored, or a finished sentence."""
    message = message_from(words) if isinstance(words, Mapping) else words
    viewer = context["user"]
    if isinstance(viewer, AnonymousUser):
        return message if isinstance(message, str) else ""
    return say(message, reader_of(athlete or context.get("athlete"), viewer))
