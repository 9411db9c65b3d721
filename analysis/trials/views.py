"""Plan a trial, follow it, tap its sets, decide it."""

from dataclasses import replace

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from analysis.core.records.estimates import Finding
from analysis.core.records.plain import to_plain
from analysis.core.trials import plan_findings
from analysis.core.trials.verdict import expected_course
from analysis.figures.trials import trial_card
from analysis.store.club_numbers import numbers_for
from analysis.store.profiles import profile_of, today_in
from analysis.text.say import reader_of
from analysis.text.stored import said_answer
from analysis.trials.forms import DecisionForm, TapForm, TrialForm
from analysis.trials.page import TrialView, sets_to_tap, trial_view
from analysis.trials.reading import plan_of, running_trial
from analysis.trials.services import begin_trial, decide_trial, tap_set
from athletes.access.permissions import SignedInRequest, athlete_for, may
from athletes.models import Athlete, LiftSet, Trial, User
from athletes.schema.vocabulary import TrialStatus

ASKED = ("new_style", "old_style", "started_on", "decide_on", "weeks")  # what a link may fill in


@login_required
@require_safe
def trial(request: SignedInRequest, pk: int, trial: int | None = None) -> HttpResponse:
    """How the trial is going: the running one, or an earlier one by its number."""
    athlete = athlete_for(request, pk)
    chosen = get_object_or_404(athlete.trials, pk=trial) if trial else running_trial(athlete)
    context = {"tab": "trial", "athlete": athlete, "earlier": athlete.trials.exclude(pk=chosen.pk if chosen else 0)}
    if chosen is not None:
        context |= running_context(athlete, chosen, request.user)
    return render(request, "trial.html", context)


def running_context(athlete: Athlete, chosen: Trial, viewer: User) -> dict[str, object]:
    """Everything the page says of one trial to this viewer."""
    as_of = today_in(athlete.club)
    sees_health = may(viewer, athlete, "health")
    seen = trial_view(chosen, as_of, sees_health)
    running = chosen.status == TrialStatus.RUNNING
    payload = profile_of(athlete, "decision", as_of, sees_health=sees_health) if running else None
    course = expected_course(seen.plan, numbers_for(athlete))
    return {
        "seen": seen,
        "answer": said_answer(payload, reader_of(athlete, viewer)) if payload else None,
        "sees_health": sees_health,
        "as_of": as_of,
        "figure": trial_card(seen.plan, seen.verdict, course, viewer.weight_unit),
        "taps": sets_to_tap(chosen),
        "decisions": chosen.decisions.select_related("decided_by"),
        "may_decide": may(viewer, athlete, "decide"),
        "may_tap": may(viewer, athlete, "log") and chosen.status == TrialStatus.RUNNING,
        "decision_form": DecisionForm(trial=chosen, today=as_of),
    }


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def trial_plan(request: SignedInRequest, pk: int) -> HttpResponse:
    """Plan a trial; cautions about the plan are shown first and have to be read, not obeyed."""
    athlete = athlete_for(request, pk, write="decide")
    today = today_in(athlete.club)
    asked = {name: request.GET[name] for name in ASKED if name in request.GET}
    form = TrialForm(request.POST or None, athlete=athlete, today=today, initial=asked)
    cautions: tuple[Finding, ...] = ()
    if request.method == "POST" and form.is_valid():
        cautions = plan_findings(replace(plan_of(form.save(commit=False)), key="new"), numbers_for(athlete))
        if not cautions or form.cleaned_data["knowing"]:
            begin_trial(form.instance, request.user)
            messages.success(request, "The trial is planned. Its sets count once they are tapped “in the new style”.")
            return redirect("trial", pk)
    context = {"tab": "trial", "athlete": athlete, "form": form, "cautions": cautions}
    return render(request, "trial_plan.html", context)


@login_required
@require_POST
def trial_tap(request: SignedInRequest, pk: int, trial: int) -> HttpResponse:
    """Say whether one set was in the new style."""
    athlete = athlete_for(request, pk, write="log")
    chosen = get_object_or_404(athlete.trials, pk=trial)
    form = TapForm(request.POST)
    if not form.is_valid():
        messages.error(request, "The tap could not be read: choose yes, partly or no beside a set.")
        return redirect("trial", pk)
    if chosen.status != TrialStatus.RUNNING:
        messages.error(request, "This trial is over: the sets it was decided on stay as they are.")
        return redirect("trial-earlier", pk, trial)
    lift_set = get_object_or_404(LiftSet, pk=form.cleaned_data["set"], athlete=athlete, style=chosen.new_style)
    tap_set(lift_set, chosen, form.cleaned_data["answer"], request.user)
    messages.success(request, f"Noted for {lift_set.load_typed} {lift_set.load_unit} on {lift_set.day:%-d %b}.")
    return redirect("trial", pk)


@login_required
@require_POST
def trial_decide(request: SignedInRequest, pk: int, trial: int) -> HttpResponse:
    """Record the coach's decision with its reasons and the numbers of the day."""
    athlete = athlete_for(request, pk, write="decide")
    chosen = get_object_or_404(athlete.trials, pk=trial)
    as_of = today_in(athlete.club)
    form = DecisionForm(request.POST, trial=chosen, today=as_of)
    seen: TrialView = trial_view(chosen, as_of, sees_health=True)
    if form.is_valid():
        form.instance.snapshot = to_plain(seen.verdict)
        decide_trial(chosen, form.instance, form.cleaned_data["decide_on"], request.user)
        messages.success(request, "The decision is recorded with its reasons and today's numbers.")
        return redirect("trial", pk)
    context = {"tab": "trial", "athlete": athlete, **running_context(athlete, chosen, request.user)}
    return render(request, "trial.html", {**context, "decision_form": form}, status=200)
