"""Search the squad's misses: "all misses at the knee over 90 % this year"."""

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.forms import MissSearchForm
from analysis.misses_search import MOST, MissQuery, find_misses
from analysis.profiles import today_in
from athletes.models import Athlete
from athletes.permissions import current_club


@login_required
@require_safe
def misses(request: HttpRequest) -> HttpResponse:
    """The misses that were asked for, each with its share of the best before it."""
    club = current_club(request)
    form = MissSearchForm(request.GET or None)
    since = form.since_or_new_year(today_in(club))
    valid = not form.is_bound or form.is_valid()
    asked = form.cleaned_data if form.is_bound and valid else {}
    query = MissQuery(
        since=since,
        position=asked.get("position", ""),
        gave_way=asked.get("gave_way", ""),
        style=asked.get("style", ""),
        share=asked.get("share"),
    )
    found = find_misses(Athlete.objects.filter(club=club), query) if valid else []
    context = {
        "here": "squad",
        "club": club,
        "form": form,
        "since": since,
        "found": found,
        "most": MOST,
        "valid": valid,
    }
    return render(request, "analysis/misses.html", context)
