"""Search the squad's misses: "all misses at the knee over 90 % this year"."""

from datetime import date

from django import forms
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.store.profiles import today_in
from analysis.weak_link.misses import MissQuery, find_misses, rows_of
from athletes.access.permissions import current_club
from athletes.models import Athlete
from athletes.models.choices import GaveWay, MissPosition, Style

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


class MissSearchForm(forms.Form):
    """Find misses: where, what gave way, style, from which share of the best, since when."""

    position = forms.ChoiceField(label="Where", required=False, choices=[("", "anywhere"), *MissPosition.choices])
    gave_way = forms.ChoiceField(label="What gave way", required=False, choices=[("", "anything"), *GaveWay.choices])
    style = forms.ChoiceField(label="Style", required=False, choices=[("", "any"), *Style.choices])
    share = forms.IntegerField(
        label="From this % of the best",
        required=False,
        min_value=0,
        max_value=120,
        help_text="Percent of the heaviest pull made in that style before the day.",
    )
    since = forms.DateField(label="Since", required=False, widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))

    def since_or_new_year(self, today: date) -> date:
        """The first day searched: as asked, else the first of January of this year."""
        asked = self.cleaned_data.get("since") if self.is_bound and self.is_valid() else None
        return asked or date(today.year, 1, 1)
