"""Open Today, and the page after a miss: where the bar stopped and what was seen."""

from __future__ import annotations

from uuid import uuid4

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from analysis.store.profiles import Sources
from analysis.today.leg import PLACES as ORDER
from analysis.today.page import coming_line, done_sets, leg_of, load_words, rest_of, told
from athletes.access.permissions import SignedInRequest, athlete_for, may
from athletes.day.services import MISSES_END, PLACES, SEEN, Today, lighter_load, next_planned, today_of
from athletes.day.views import keep_seen
from athletes.log.services import club_now
from athletes.models.choices import Result

KEYS = tuple((left, 10 - left) for left in (4, 3, 2, 1, 0))  # reps left and RPE of the five keys
PAIN_SAID = "Stop here. Tell {coach}; see a licensed professional."


@login_required
@require_safe
def today(request: SignedInRequest, pk: int) -> HttpResponse:
    """What to pull today and how, why, one picture, and what the coach asks."""
    athlete = athlete_for(request, pk)
    viewer, sees_health = request.user, may(request.user, athlete, "health")
    day = today_of(athlete, viewer.weight_unit)
    stored = Sources(athlete, day.day, sees_health=sees_health).profile("today")
    found = told(athlete, viewer, stored, day.day)
    pain = day.ended == "pain" and sees_health
    context = {
        "athlete": athlete,
        "tab": "today",
        "day": day,
        "next": day.next,
        "rest": rest_of(day.next) if day.next else "",
        "coming": [coming_line(item) for item in day.coming],
        "later": next_planned(athlete, day.day),
        "later_lines": [coming_line(item) for item in next_planned(athlete, day.day)],
        "sets": done_sets(day, sees_health),
        "heading": heading_of(day),
        "pain": PAIN_SAID.format(coach=found.coach if athlete.viewer_role == "self" else "the coach") if pain else "",
        "ended": day.ended,
        "told": found,
        "keys": KEYS,
        "uid": uuid4(),
        "typed": {"load": request.GET.get("load", "")[:20], "reps": request.GET.get("reps", "")[:5]},
        "may_plan": may(viewer, athlete, "plan"),
    }
    return render(request, "today.html", context)


def heading_of(day: Today) -> str:
    """The answer of the page where no set stands in its place."""
    if day.ended == "pain":
        return "Plan ended for today"
    if not day.items:
        return "Nothing planned today"
    if day.next is None:
        return "Two misses: heavy work done" if day.ended == "heavy" else "Today's plan is done"
    return ""


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def today_missed(request: SignedInRequest, pk: int, set: int) -> HttpResponse:
    """Where the bar stopped and what was seen; each tap is kept at once."""
    athlete = athlete_for(request, pk, write="log")
    row = get_object_or_404(athlete.sets, pk=set, day=club_now(athlete).date())
    if request.method == "POST":
        return redirect("summary", pk) if keep_seen(request, athlete, row) else redirect("today-missed", pk, set)
    misses = athlete.sets.filter(day=row.day, lift=row.lift, style=row.style, result=Result.MISSED).count()
    words = {str(key): word for key, word in PLACES}
    context = {
        "athlete": athlete,
        "tab": "today",
        "row": row,
        "leg": leg_of(athlete, row.miss_position),
        "places": [(key, words[key], key == row.miss_position) for key in ORDER],
        "seen": [(key, word, key == row.gave_way) for key, word in SEEN],
        "rule": row.result == Result.NO_LIFT,
        "ended": misses >= MISSES_END,
        "lighter": load_words(lighter_load(row.load_kg, row.load_unit), row.load_unit),
    }
    return render(request, "missed.html", context)
