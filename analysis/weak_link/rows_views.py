"""Open a finding to the rows it stands on."""

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from athletes.access.permissions import SignedInRequest, athlete_for, may

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
    context = {"tab": "lifts", "athlete": athlete, "sets": sets, "asked": len(asked), "sees_health": sees_health}
    return render(request, "rows.html", context)
