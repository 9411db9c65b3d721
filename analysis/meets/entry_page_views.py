"""One entry: the plan of its attempts with chances, warm-ups, a needed number, body mass and points."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from analysis.meets.attempt_forms import DayForm, PlannedForm
from analysis.meets.entry import EntryPage, entry_page, planned_form_initial
from analysis.meets.entry_views import entry_for
from analysis.meets.planning import TRADE, live_day, plans_for
from athletes.access.permissions import SignedInRequest, may, may_see_mass
from athletes.meets.services import not_yet_logged, plan_loads
from athletes.models import MeetEntry


@login_required
@require_safe
def meet_entry(request: SignedInRequest, pk: int, entry: int) -> HttpResponse:
    """The plan and the results of one entry."""
    found = entry_for(request, pk, entry)
    form = PlannedForm(initial=planned_form_initial(found))
    return render(request, "meet_entry.html", context_of(request, found, form))


def context_of(request: SignedInRequest, found: MeetEntry, form: PlannedForm) -> dict[str, object]:
    """Everything the page says of one entry to this viewer."""
    day_form = DayForm(request.GET if any(name in request.GET for name in DayForm.base_fields) else None)
    own = found.athlete_id is not None
    sees_health = own and may(request.user, found.own_athlete, "health")
    plan = plans_for([found], request.user).get(found.pk)
    page: EntryPage = entry_page(found, plan, sees_health, own and may_see_mass(request.user, found.own_athlete))
    return {
        "here": "meets",
        "tab": "meets",
        "base": "athlete_base.html" if own else "base.html",
        "athlete": found.athlete,
        "meet": found.meet,
        "entry": found,
        "page": page,
        "form": form,
        "day_form": day_form,
        "live": live_day(found, plan, day_form),
        "trade": TRADE,
        "may_plan": not own or may(request.user, found.own_athlete, "plan"),
        "may_log": own and may(request.user, found.own_athlete, "decide") and bool(not_yet_logged(found)),
        "sees_health": sees_health,
    }


@login_required
@require_POST
def meet_plan_keep(request: SignedInRequest, pk: int, entry: int) -> HttpResponse:
    """Keep three loads as the plan; what is handed in or lifted already stays."""
    found = entry_for(request, pk, entry, write="plan")
    form = PlannedForm(request.POST)
    if not form.is_valid():
        return render(request, "meet_entry.html", context_of(request, found, form))
    kept = plan_loads(found, "deadlift", form.loads, request.user)
    messages.success(request, f"{kept} planned attempts are kept for {found}.")
    return redirect("meet-entry", pk, entry)
