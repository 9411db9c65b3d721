"""The plan of a lifter's day: seen by the athlete, written by coach and staff, printed for the wall."""

from datetime import date

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.forms import BaseModelFormSet
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from athletes.access.permissions import SignedInRequest, athlete_for, current_club, may
from athletes.log.plan_form import PlanItemForm, PlanLines
from athletes.log.plan_services import copy_last_plan, last_planned_day, plans_of_day, save_lines
from athletes.log.services import club_now
from athletes.log.words import plan_line
from athletes.models import Athlete, PlanItem


def asked_day(request: SignedInRequest, today: date) -> date:
    """The day in the address, today when there is none or it cannot be read."""
    try:
        return date.fromisoformat(request.GET.get("day", ""))
    except ValueError:
        return today


@require_http_methods(["GET", "POST"])
@login_required
def plan(request: SignedInRequest, pk: int) -> HttpResponse:
    athlete = athlete_for(request, pk, write="plan" if request.method == "POST" else "")
    day = asked_day(request, club_now(athlete).date())
    here = f"{reverse('plan', args=[athlete.pk])}?day={day:%Y-%m-%d}"
    if request.method == "POST" and request.POST.get("what") == "copy":
        count = copy_last_plan(request.user, athlete, day)
        messages.success(
            request,
            f"{count} lines copied from last time; change what differs."
            if count
            else "There is no earlier plan to copy.",
        )
        return redirect(here)
    lines = plan_lines(request, athlete, day) if may(request.user, athlete, "plan") else None
    if request.method == "POST" and lines is not None and lines.is_valid():
        save_lines(request.user, athlete, day, lines)
        messages.success(request, f"The plan of {day:%-d %B} is kept.")
        return redirect(here)
    page = {
        "athlete": athlete, "tab": "plan", "day": day, "formset": lines, "source": last_planned_day(athlete, day),
        "lines": [plan_line(item) for item in athlete.plan_items.filter(day=day).select_related("bar")],
    }  # fmt: skip
    return render(request, "plan.html", page, status=422 if request.method == "POST" else 200)


def plan_lines(request: SignedInRequest, athlete: Athlete, day: date) -> "BaseModelFormSet[PlanItem, PlanItemForm]":
    return PlanLines(
        request.POST if request.method == "POST" else None,
        queryset=athlete.plan_items.filter(day=day).order_by("order", "pk"),
        form_kwargs={"athlete": athlete},
        unit=request.user.weight_unit,
        prefix="line",
    )


@require_safe
@login_required
def plan_print(request: SignedInRequest, pk: int) -> HttpResponse:
    athlete = athlete_for(request, pk)
    day = asked_day(request, club_now(athlete).date())
    return printed(request, day, [athlete], athlete.club.name)


@require_safe
@login_required
def tonight_print(request: SignedInRequest) -> HttpResponse:
    """Everybody of the club who has a plan for the day, on one list for the wall."""
    club = current_club(request)
    day = asked_day(request, club_now(Athlete(club=club)).date())
    planned = PlanItem.objects.filter(day=day).values("athlete")
    return printed(request, day, list(club.athletes.filter(active=True, pk__in=planned)), club.name)


def printed(request: SignedInRequest, day: date, athletes: list[Athlete], club: str) -> HttpResponse:
    plans = plans_of_day([a.pk for a in athletes], day)
    sheets = [{"athlete": a, "lines": [plan_line(item) for item in plans[a.pk]]} for a in athletes]
    return render(request, "plan_print.html", {"day": day, "sheets": sheets, "club": club, "here": "tonight"})
