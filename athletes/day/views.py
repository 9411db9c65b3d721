"""Taps of Today: a set made, missed or stopped, what was seen at a miss, and undo of any set of the day."""

from __future__ import annotations

from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import IntegrityError
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_POST

from athletes.access.permissions import SignedInRequest, athlete_for
from athletes.day.services import Tap, log_tap
from athletes.log import services as log
from athletes.models import Athlete, LiftSet
from athletes.models.choices import GaveWay, MissPosition, Result, RuleReason
from athletes.units.loads import UnreadableAmount

MOST_REPS = 100
RESULTS = {"made": Result.MADE, "missed": Result.MISSED, "pain": Result.STOPPED_PAIN}


def back(athlete: Athlete, **kept: str) -> HttpResponse:
    """Back to Today, with what was typed where it could not be read."""
    return redirect(reverse("summary", args=[athlete.pk]) + (f"?{urlencode(kept)}" if kept else ""))


@login_required
@require_POST
def today_log(request: SignedInRequest, pk: int) -> HttpResponse:
    """Log the set that was tapped; a miss goes on to where the bar stopped."""
    athlete = athlete_for(request, pk, write="log")
    tap = read_tap(request)
    typed = {"load": request.POST.get("load", "")[:20], "reps": request.POST.get("reps", "")[:5]}
    if tap is None:
        messages.error(request, "Not saved: repetitions are a whole number from 1 to 100.")
        return back(athlete, **typed)
    number = request.POST.get("item", "")
    item = athlete.plan_items.filter(pk=int(number)).first() if number.isascii() and number.isdecimal() else None
    try:
        row = log_tap(request.user, athlete, item, tap)
    except UnreadableAmount as problem:
        messages.error(request, f"Not saved: {problem}")
        return back(athlete, **typed)
    except IntegrityError:
        messages.error(request, "Not saved: this page was sent for somebody else. Open Today again.")
        return back(athlete)
    if row is not None and row.result == Result.MISSED:
        return redirect("today-missed", athlete.pk, row.pk)
    return back(athlete)


def read_tap(request: SignedInRequest) -> Tap | None:
    """The posted tap; None when the repetitions or the key of the page cannot be read."""
    sent = request.POST
    reps = sent.get("reps", "")
    try:
        uid = UUID(sent.get("uid", ""))
    except ValueError:
        return None
    if not (reps.isascii() and reps.isdecimal() and len(reps) < 4 and 1 <= int(reps) <= MOST_REPS):
        return None
    result = RESULTS.get(sent.get("result", ""), Result.MADE)
    left, deep = sent.get("left", "")[:4], sent.get("depth") == "yes"
    return Tap(uid, result, sent.get("load", ""), sent.get("unit", "kg"), int(reps), left, deep)


def keep_seen(request: SignedInRequest, athlete: Athlete, row: LiftSet) -> bool:
    """Write the place or the cause that was tapped; whether the tap said pain, which ends the day."""
    changed, sent = athlete.sets.get(pk=row.pk), request.POST
    if sent.get("place") in MissPosition.values:
        changed.miss_position = sent["place"]
    if sent.get("seen") in GaveWay.values:
        changed.result, changed.rule_reason, changed.gave_way = Result.MISSED, "", sent["seen"]
    if sent.get("seen") == "rule":
        changed.result, changed.rule_reason, changed.gave_way = Result.NO_LIFT, RuleReason.OTHER_RULE, ""
    if sent.get("seen") == "pain":
        changed.result, changed.gave_way, changed.rule_reason = Result.STOPPED_PAIN, "", ""
    log.correct_set(request.user, row, changed)
    return sent.get("seen") == "pain"


@login_required
@require_POST
def today_undo(request: SignedInRequest, pk: int, set: int) -> HttpResponse:
    """Take back a set of today; it can be put back from the log."""
    athlete = athlete_for(request, pk, write="log")
    row = get_object_or_404(athlete.sets, pk=set, day=log.club_now(athlete).date())
    log.take_back_set(request.user, row)
    messages.success(request, f"Taken back: {row}.")
    return back(athlete)
