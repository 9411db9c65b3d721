"""The people one works with: list, add, change."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.db.models import OuterRef, Subquery
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from athletes.access.permissions import WORKERS, SignedInRequest, athlete_for, clubs_where, may
from athletes.models import Athlete, HealthNote, LiftSet
from athletes.models.choices import Standing
from athletes.people.first_meeting_form import HealthNoteForm
from athletes.people.forms import AthleteForm, PeopleFilter
from athletes.people.services import add_health_note, end_health_note, save_athlete, standing_on

A_PAGE = 60


@login_required
@require_safe
def people(request: SignedInRequest) -> HttpResponse:
    clubs = working_clubs(request)
    today = timezone.localdate()
    chosen = PeopleFilter(request.GET, clubs)
    found = chosen.narrow(Athlete.objects.filter(club__in=clubs), today)
    last = LiftSet.objects.filter(athlete=OuterRef("pk")).order_by("-day").values("day")[:1]
    found = found.select_related("club", "coach").annotate(last_pull=Subquery(last)).order_by("name_key", "pk")
    query = request.GET.copy()
    query.pop("page", None)
    page = Paginator(found, A_PAGE).get_page(request.GET.get("page"))
    for athlete in page:
        athlete.standing_word = Standing(standing_on(athlete, today)).label
    context = {
        "here": "people",
        "filter": chosen,
        "page": page,
        "many_clubs": len(clubs) > 1,
        "query": query.urlencode(),
    }
    return render(request, "people.html", context)


def working_clubs(request: SignedInRequest) -> list[int]:
    """The clubs the user works in; 404 for somebody who works in none."""
    clubs = clubs_where(request.user, WORKERS)
    if not clubs:
        raise Http404("You do not work in a club.")
    return clubs


@login_required
@require_http_methods(["GET", "POST"])
def athlete_new(request: SignedInRequest) -> HttpResponse:
    working_clubs(request)
    form = AthleteForm(request.user, request.POST or None)
    if request.method == "POST" and form.is_valid():
        athlete = save_athlete(request.user, form.save(commit=False))
        messages.success(request, f"{athlete.name} is in the book. Next: the first meeting.")
        return redirect("first-meeting", athlete.pk)
    return render(request, "athlete_form.html", {"here": "people", "form": form})


@login_required
@require_safe
def profile(request: SignedInRequest, pk: int) -> HttpResponse:
    """Who somebody is and what is kept of them: the way to every page that is no place of its own."""
    athlete = athlete_for(request, pk)
    context = {
        "athlete": athlete,
        "tab": "profile",
        "is_self": athlete.viewer_role == "self",
        "private": may(request.user, athlete, "privacy"),
        "decides": may(request.user, athlete, "decide"),
    }
    return render(request, "profile.html", context)


@login_required
@require_http_methods(["GET", "POST"])
def athlete_edit(request: SignedInRequest, pk: int) -> HttpResponse:
    athlete = athlete_for(request, pk, write="decide")
    form = AthleteForm(request.user, request.POST or None, instance=athlete)
    if request.method == "POST" and form.is_valid():
        saved = save_athlete(request.user, form.save(commit=False))
        messages.success(request, f"{saved.name} is saved, standing: {saved.get_standing_display()}.")
        return redirect("build", athlete.pk)
    shown = Athlete.objects.select_related("club").get(pk=athlete.pk)
    return render(request, "athlete_form.html", {"athlete": shown, "tab": "profile", "form": form})


@login_required
@require_http_methods(["GET", "POST"])
def health_notes(request: SignedInRequest, pk: int) -> HttpResponse:
    athlete = athlete_for(request, pk, write="health")
    if request.method == "POST" and "end" in request.POST:
        return end_note(request, athlete)
    form = HealthNoteForm(request.POST or None, instance=HealthNote(athlete=athlete))
    if request.method == "POST" and form.is_valid():
        add_health_note(request.user, form.save(commit=False))
        messages.success(request, "Noted, for the athlete and their coach only.")
        return redirect("health-notes", athlete.pk)
    context = {
        "athlete": athlete,
        "tab": "profile",
        "form": form,
        "notes": athlete.health_notes.select_related("author"),
    }
    return render(request, "health.html", context)


def end_note(request: SignedInRequest, athlete: Athlete) -> HttpResponse:
    number = request.POST["end"]
    known = number if number.isascii() and number.isdecimal() and len(number) < 16 else 0
    note = get_object_or_404(HealthNote, athlete=athlete, pk=known)
    end_health_note(request.user, note, timezone.localdate())
    messages.success(request, "Marked as over from today.")
    return redirect("health-notes", athlete.pk)
