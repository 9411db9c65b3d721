"""Search the squad's misses: "all misses at the knee over 90 % this year"."""

from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.store.profiles import today_in
from analysis.weak_link.forms import MissSearchForm
from analysis.weak_link.misses import MissQuery, find_misses, rows_of
from athletes.access.permissions import current_club
from athletes.models import Athlete

A_PAGE = 100  # misses


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
    page = Paginator(find_misses(Athlete.objects.filter(club=club), query) if valid else [], A_PAGE).get_page(
        request.GET.get("page")
    )
    asked_for = request.GET.copy()
    asked_for.pop("page", None)
    context = {
        "here": "squad",
        "club": club,
        "form": form,
        "since": since,
        "page": page,
        "found": rows_of(list(page.object_list)),
        "query": f"{asked_for.urlencode()}&" if asked_for else "",
        "valid": valid,
    }
    return render(request, "misses.html", context)
