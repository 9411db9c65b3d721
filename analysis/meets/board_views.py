"""Handle several lifters on the day: who lifts when, what is due, what the plan says next."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from analysis.meets.attempt_forms import AttemptForm
from analysis.meets.board import attempt_state, board_state, cards, entries_of, lift_now
from analysis.meets.entry_views import entry_for, meet_for
from analysis.meets.planning import plans_for
from analysis.meets.rules import lifts_of
from analysis.meets.sums import standings
from athletes.access.audit import note_looks
from athletes.access.permissions import SignedInRequest
from athletes.floor.state import owner_of
from athletes.meets.services import AttemptReport, say_attempt
from athletes.models import Meet
from athletes.models.choices import Lift, MissPosition, Result, RuleReason


@login_required
@require_safe
def meet_board(request: SignedInRequest, pk: int) -> HttpResponse:
    """The board of one meet; it is kept on the phone and works on without network."""
    found = meet_for(request, pk)
    answer = render(request, "meet_board.html", board_context(request, found, request.GET.get("lift", "")))
    answer["X-Floor-Owner"] = owner_of(request.user, found.club)
    return answer


def board_context(request: SignedInRequest, meet: Meet, lift: str) -> dict[str, object]:
    """Cards for a page without scripts, and the state for one with them."""
    entries = entries_of(meet)
    plans = plans_for(entries, request.user)
    note_looks(request.user, [entry.own_athlete for entry in entries if entry.athlete_id], "meet-board")
    chosen = lift if lift in lifts_of(meet) else lift_now(meet, entries)
    state = board_state(meet, entries, plans, request.user, timezone.now()) | {"lift": chosen}
    return {
        "here": "meets",
        "meet": meet,
        "lift": chosen,
        "lift_name": Lift(chosen).label,
        "lifts": [(one, Lift(one).label) for one in lifts_of(meet)],
        "cards": cards(meet, entries, plans, chosen),
        "rows": standings(meet, entries),
        "state": state,
        "results": Result.choices,
        "misses": MissPosition.choices,
        "refusals": RuleReason.choices,
    }


@login_required
@require_POST
def meet_attempt(request: SignedInRequest, pk: int, entry: int) -> HttpResponse:
    """What the handler says of one attempt, from the form."""
    found = entry_for(request, pk, entry, write="plan")
    form = AttemptForm(request.POST, entry=found)
    if not form.is_valid():
        context = board_context(request, found.meet, request.POST.get("lift", ""))
        return render(request, "meet_board.html", context | {"asked": form, "asked_entry": found})
    said = form.cleaned_data
    became = say_attempt(
        found,
        AttemptReport(
            said["lift"], said["number"], said["load"], said["result"], said["reason"], timezone.now(), said["saw"]
        ),
        request.user,
    )
    if became.status == "conflict":
        messages.error(request, f"{became.why} Nothing was written; look at it below and say it again.")
    else:
        messages.success(request, f"{found}, attempt {said['number']}: kept.")
    return redirect(f"{reverse('meet-board', args=[pk])}?lift={said['lift']}#entry-{found.pk}")


@login_required
@require_safe
def meet_state(request: SignedInRequest, pk: int) -> HttpResponse:
    """The attempts as they stand, for a board that is open: another handler's taps show within seconds."""
    found = meet_for(request, pk)
    told = {str(e.pk): [attempt_state(e, row, request.user) for row in e.attempts.all()] for e in entries_of(found)}
    return JsonResponse({"now": timezone.now().isoformat(), "entries": told})
