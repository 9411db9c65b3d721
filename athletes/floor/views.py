"""Tonight's board: who is here, and each lifter's next set one tap away."""

from datetime import date

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from athletes.access.audit import note_looks
from athletes.access.permissions import SignedInRequest, current_club
from athletes.floor.entries import set_presence
from athletes.floor.state import board_state, lifters_of, owner_of
from athletes.log.services import club_now_of
from athletes.models import Club
from athletes.schema.sets import set_specs

EFFORTS = ("6", "7", "7.5", "8", "8.5", "9", "9.5", "10")
VOCABULARY = {spec.column: spec.term for spec in set_specs().values() if spec.term is not None}


@require_http_methods(["GET", "POST"])
@login_required
def tonight(request: SignedInRequest) -> HttpResponse:
    club = current_club(request)
    now = club_now_of(club)
    if request.method == "POST":
        mark_present(request, club, now.date())
        return redirect("tonight")
    state = board_state(request.user, club, now)
    here = [one for one in state["lifters"] if one["here"]]
    note_looks(request.user, [a for a in lifters_of(request.user, club, now.date()) if a.here], "tonight")
    answer = render(
        request,
        "tonight.html",
        {"here": "tonight", "club": club, "day": now.date(), "state": state, "present": here,
         "words": {name: words.choices for name, words in VOCABULARY.items()}, "efforts": EFFORTS,
         "server_time": timezone.now().isoformat()},
    )  # fmt: skip
    answer["X-Floor-Owner"] = owner_of(request.user, club)
    return answer


def mark_present(request: SignedInRequest, club: Club, day: date) -> None:
    """The plain form: those ticked are here, the others not."""
    ticked = set(request.POST.getlist("here"))
    lifters = list(lifters_of(request.user, club, day))
    for athlete in lifters:
        wanted = str(athlete.pk) in ticked
        if wanted != (athlete.here is not None):
            set_presence(request.user, athlete, day, wanted)
    messages.success(request, f"{len([a for a in lifters if str(a.pk) in ticked])} here tonight.")
