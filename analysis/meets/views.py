"""Plan meets: the club's list, a new one, one with its entries and results."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from analysis.meets.board import entries_of
from analysis.meets.entry import entry_page
from analysis.meets.entry_views import meet_for
from analysis.meets.forms import MeetForm
from analysis.meets.planning import plans_for
from analysis.meets.rules import lifts_of, rules_of
from analysis.meets.sums import entries_of_athlete, listed_meets, standings
from analysis.store.profiles import today_in
from athletes.access.audit import note_looks
from athletes.access.permissions import SignedInRequest, athlete_for, current_club, may, may_see_mass
from athletes.meets.services import save_meet
from athletes.models import Meet
from athletes.models.choices import Lift


@login_required
@require_safe
def meets(request: SignedInRequest) -> HttpResponse:
    """The club's meets, the next ones first."""
    club = current_club(request)
    today = today_in(club)
    ahead, behind = listed_meets(club, today)
    context = {"here": "meets", "club": club, "today": today, "ahead": ahead, "behind": behind}
    return render(request, "meets.html", context)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def meet_new(request: SignedInRequest) -> HttpResponse:
    """A new meet of the club."""
    club = current_club(request)
    form = MeetForm(request.POST or None, instance=Meet(club=club))
    if request.method == "POST" and form.is_valid():
        saved = save_meet(form.save(commit=False), request.user)
        messages.success(request, f"{saved.name} is kept. Enter the lifters next.")
        return redirect("meet", saved.pk)
    return render(request, "meet_form.html", {"here": "meets", "club": club, "form": form})


@login_required
@require_safe
def meet(request: SignedInRequest, pk: int) -> HttpResponse:
    """One meet: who is entered with which attempts, and the result once there is one."""
    found = meet_for(request, pk)
    entries = entries_of(found)
    rule_set = rules_of(found)
    note_looks(request.user, [entry.own_athlete for entry in entries if entry.athlete_id], "meet")
    context = {
        "here": "meets",
        "meet": found,
        "rows": standings(found, entries),
        "lifts": [Lift(lift).label for lift in lifts_of(found)],
        "rule_set": rule_set,
        "today": today_in(found.club),
    }
    return render(request, "meet.html", context)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def meet_edit(request: SignedInRequest, pk: int) -> HttpResponse:
    """Change a meet's day, bar, lifts or rule set."""
    found = meet_for(request, pk)
    form = MeetForm(request.POST or None, instance=found)
    if request.method == "POST" and form.is_valid():
        save_meet(form.save(commit=False), request.user)
        messages.success(request, f"{found.name} is changed.")
        return redirect("meet", pk)
    shown = Meet.objects.get(pk=pk)  # the heading keeps the stored name while the form holds what was typed
    return render(request, "meet_form.html", {"here": "meets", "meet": shown, "form": form})


@login_required
@require_safe
def athlete_meets(request: SignedInRequest, pk: int) -> HttpResponse:
    """The meets of one athlete; body mass, class and points only for those who may see them."""
    athlete = athlete_for(request, pk)
    today = today_in(athlete.club)
    sees_health, sees_mass = may(request.user, athlete, "health"), may_see_mass(request.user, athlete)
    ahead, behind = entries_of_athlete(athlete, today)
    plans = plans_for(ahead, request.user)
    context = {
        "tab": "meets",
        "athlete": athlete,
        "ahead": [(entry, entry_page(entry, plans[entry.pk], None, sees_health, sees_mass)) for entry in ahead],
        "behind": [(entry, entry_page(entry, None, None, sees_health, sees_mass)) for entry in behind],
    }
    return render(request, "athlete_meets.html", context)
