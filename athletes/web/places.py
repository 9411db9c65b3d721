"""The six places of an athlete, the pages that stand in each, and `{% lifter_bar %}`, which shows where one is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django import template
from django.http import HttpRequest

from athletes.access.permissions import visible_athletes
from athletes.models import Athlete

register = template.Library()
ORDER = "squad_order"  # of the session: the lifters as the squad page listed them last
MOST_KEPT = 400  # lifters of that order; a session row stays small in a large club


@dataclass(frozen=True, slots=True)
class Page:
    """A page inside a place: the key its view names as `tab`, its name in the row, its address."""

    tab: str
    name: str
    address: str
    workers_only: bool = False


@dataclass(frozen=True, slots=True)
class Place:
    """One of the six places: its name and its pages; the place itself opens the first of them."""

    key: str
    name: str
    pages: tuple[Page, ...]

    @property
    def address(self) -> str:
        """Name of the address that opens the place."""
        return self.pages[0].address


PLACES = (
    Place("today", "Today", (Page("today", "Today", "summary"), Page("plan", "Plan", "plan", workers_only=True))),
    Place(
        "decision",
        "Decision",
        (Page("decision", "Decision", "decision"), Page("styles", "Styles", "styles"), Page("trial", "Trial", "trial")),
    ),
    Place(
        "leverages",
        "Leverages",
        (
            Page("leverages", "Drawn", "leverages"),
            Page("pictures", "Filmed", "pictures"),
            Page("build", "Measured", "build"),
        ),
    ),
    Place("weak-link", "Weak link", (Page("weak-link", "Weak link", "weak-link"),)),
    Place(
        "log",
        "Log",
        (
            Page("log", "Log", "log"),
            Page("lifts", "Sets", "lifts"),
            Page("back-load", "Back work", "back-load"),
            Page("bar-and-grip", "Bar and grip", "bar-and-grip"),
        ),
    ),
    Place("meet", "Meet", (Page("meets", "Meet", "athlete-meets"),)),
)
BESIDE = (Page("report", "Print", "report"), Page("profile", "Profile", "profile"))
PLACE_OF = {page.tab: place.key for place in PLACES for page in place.pages}


def keep_order(request: HttpRequest, athletes: Sequence[int]) -> None:
    """Remember the lifters in the order of the squad page, so that previous and next walk the same list."""
    kept = list(athletes[:MOST_KEPT])
    if request.session.get(ORDER) != kept:
        request.session[ORDER] = kept


def neighbours(request: HttpRequest, athlete: Athlete) -> tuple[Athlete | None, Athlete | None]:
    """The lifters before and after this one, in the kept order, else by name; None at an end and for strangers."""
    seen = visible_athletes(request.user).select_related(None).only("pk", "name")
    order = list(request.session.get(ORDER, ()))
    if athlete.pk in order:
        at = order.index(athlete.pk)
        around = {one.pk: one for one in seen.filter(pk__in=order[max(at - 1, 0) : at + 2])}
        before, after = order[at - 1] if at else None, order[at + 1] if at + 1 < len(order) else None
        return (around.get(before) if before else None), (around.get(after) if after else None)
    line = list(seen.filter(club=athlete.club_id, active=True).order_by("name_key", "pk"))
    at = next((i for i, one in enumerate(line) if one.pk == athlete.pk), -1)
    if at < 0:
        return None, None
    return line[at - 1] if at else None, line[at + 1] if at + 1 < len(line) else None


@register.inclusion_tag("lifter_bar.html", takes_context=True)
def lifter_bar(context: template.Context) -> dict[str, object]:
    """The bar over a page about one athlete, of the view's `athlete` and `tab`."""
    request, athlete, tab = context["request"], context["athlete"], str(context.get("tab") or "")
    role = getattr(athlete, "viewer_role", "")
    before, after = (None, None) if role == "self" else neighbours(request, athlete)
    here = PLACE_OF.get(tab, "")
    pages = next((place.pages for place in PLACES if place.key == here), ())
    return {
        "athlete": athlete,
        "own": role == "self",
        "before": before,
        "after": after,
        "places": PLACES,
        "here": here,
        "tab": tab,
        "pages": [page for page in pages if role != "self" or not page.workers_only],
        "beside": BESIDE,
        "same": next((page.address for page in pages if page.tab == tab), PLACES[0].address),
    }
