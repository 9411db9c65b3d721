"""See which link the log points to, with its doubt, and what would tell more."""

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.store.profiles import profile_of, today_in
from analysis.text.say import reader_of
from analysis.weak_link.answer import answer_for, styles_of
from analysis.weak_link.page import for_page
from athletes.access.permissions import SignedInRequest, athlete_for, may
from athletes.log.words import set_line


@login_required
@require_safe
def weak_link(request: SignedInRequest, pk: int) -> HttpResponse:
    """The weak-link page of one athlete, read from the stored profile."""
    athlete = athlete_for(request, pk)
    as_of = today_in(athlete.club)
    sees_health = may(request.user, athlete, "health")
    payload = profile_of(athlete, "weak-link", as_of, sees_health=sees_health)
    offers = may(request.user, athlete, "decide")
    styles = styles_of(payload)
    style = next((one for one, _ in styles if one == request.GET.get("style")), styles[0][0] if styles else "")
    answer = answer_for(payload, style, athlete, reader_of(athlete, request.user), offers)
    report = for_page(payload)
    context = {
        "answer": answer,
        "styles": styles,
        "reading": next((one for one in report["styles"] if one["style"] == style), None),
        "tab": "weak-link",
        "athlete": athlete,
        "as_of": as_of,
        "report": report,
        "offers_tests": offers,
    }
    return render(request, "weak_link.html", context)


MOST = 200


def known_uids(texts: list[str]) -> list[UUID]:
    """The texts that are row keys; anything else is left out."""
    found = []
    for text in texts[:MOST]:
        try:
            found.append(UUID(text))
        except ValueError:
            continue
    return found


@login_required
@require_safe
def rows(request: SignedInRequest, pk: int) -> HttpResponse:
    """The logged sets with the given keys, oldest first, each to be opened and corrected."""
    athlete = athlete_for(request, pk)
    asked = request.GET.getlist("key")
    sets = athlete.sets.filter(uid__in=known_uids(asked)).select_related("bar").order_by("day", "order", "pk")
    sees_health = may(request.user, athlete, "health")
    lines = [set_line(row, sees_health) for row in sets]
    context = {"tab": "lifts", "athlete": athlete, "sets": sets, "asked": len(asked), "lines": lines}
    return render(request, "rows.html", context)
