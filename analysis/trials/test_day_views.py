"""Prepare a test day of a trial: a printable sheet, and its sets on the plan so that entries arrive tagged."""

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from analysis.core.records.weak_link import TestDaySheet
from analysis.core.weak_link.test_day import sheet_of_test_day
from analysis.store.bridge import lifter_seen
from analysis.store.club_numbers import numbers_for
from analysis.store.profiles import today_in
from analysis.trials.forms import TestDayForm
from analysis.trials.page import bests_by_style
from analysis.trials.reading import running_trial
from analysis.trials.services import plan_test_day
from athletes.access.permissions import SignedInRequest, athlete_for, may
from athletes.models import Athlete, Trial


def tests_before(trial: Trial) -> int:
    """On how many days tests of this trial were lifted already; it turns the order of the styles."""
    return trial.athlete.sets.filter(is_test=True, day__gte=trial.started_on).values("day").distinct().count()


def plan_rows(sheet: TestDaySheet, athlete: Athlete, rpe_cap: float) -> list[dict[str, object]]:
    """The sheet's sets as lines of the plan."""
    return [
        {
            "style": one.style,
            "reps": one.reps,
            "load_typed": f"{one.load_kg:g}" if one.load_kg else "",
            "load_unit": "kg",
            "load_kg": one.load_kg,
            "rpe_cap": rpe_cap if one.is_top else None,
            "note": f"test day, rest {one.rest_minutes} min" if one.is_top else "test day, warm-up",
        }
        for one in sheet.sets
    ]


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def test_day(request: SignedInRequest, pk: int) -> HttpResponse:
    """The test-day sheet; posting puts it on the plan of its day."""
    athlete = athlete_for(request, pk, write="plan" if request.method == "POST" else "")
    trial, today = running_trial(athlete), today_in(athlete.club)
    sees_health = may(request.user, athlete, "health")
    if request.method == "POST" and not sees_health:
        raise PermissionDenied  # only who may read of pain knows whether a test is right
    lifter = lifter_seen(athlete, today, sees_health=sees_health)
    careful = lifter.standing in ("under-18", "beginner", "returning")
    data = request.POST if request.method == "POST" else request.GET
    form = TestDayForm(data or None, today=today, least_reps=3 if careful else 1)
    context = {"tab": "trial", "athlete": athlete, "trial": trial, "form": form, "pain": lifter.pain_noted}
    context["may_plan"] = sees_health and may(request.user, athlete, "plan")
    if trial and not lifter.pain_noted:
        asked: dict[str, Any] = (
            form.cleaned_data if form.is_bound and form.is_valid() else {"reps": 3, "rpe_cap": 8.0, "day": today}
        )
        bests = bests_by_style(lifter, today, numbers_for(athlete))
        sheet = sheet_of_test_day(
            trial.new_style, trial.old_style, tests_before(trial), bests, asked["reps"], asked["rpe_cap"]
        )
        context |= {"sheet": sheet, "asked": asked}
        if request.method == "POST" and form.is_valid():
            count = plan_test_day(
                athlete, trial, asked["day"], plan_rows(sheet, athlete, asked["rpe_cap"]), request.user
            )
            messages.success(
                request, f"{count} sets stand on the plan of {asked['day']:%-d %B}; they arrive tagged as tests."
            )
            return redirect("plan", pk)
    return render(request, "test_day.html", context)
