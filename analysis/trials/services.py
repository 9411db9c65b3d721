"""Plan a trial, tap its sets, put a test day on the plan, decide."""

from collections.abc import Iterable
from datetime import date

from django.db import transaction

from athletes.access import audit
from athletes.models import Athlete, Decision, LiftSet, PlanItem, Trial, User
from athletes.models.choices import Lift, TrialStatus, Verdict


@transaction.atomic
def begin_trial(trial: Trial, actor: User) -> Trial:
    """Store a planned trial; the database holds that only one runs per athlete."""
    trial.author = actor
    trial.save()
    audit.record(actor, "planned a trial", trial, after=audit.fields_of(trial))
    return trial


@transaction.atomic
def tap_set(lift_set: LiftSet, trial: Trial, answer: str, actor: User) -> None:
    """Note whether a set was in the new style: yes, partly, no, or "" to take the answer back."""
    before = audit.fields_of(lift_set)
    lift_set.in_new_style = answer
    lift_set.trial = trial if answer else None
    lift_set.save(update_fields=["in_new_style", "trial", "changed"])
    audit.record(actor, "tapped", lift_set, before, audit.fields_of(lift_set))


@transaction.atomic
def decide_trial(trial: Trial, decision: Decision, decide_on: date | None, actor: User) -> Decision:
    """Record a verdict with its reasons; "extend" moves the decision date and lets the trial run on."""
    before = audit.fields_of(trial)
    decision.athlete, decision.trial, decision.decided_by = trial.athlete, trial, actor
    if decision.verdict == Verdict.ADOPT:
        decision.main_style = trial.new_style
    elif decision.verdict == Verdict.DROP:
        decision.main_style = trial.old_style
    decision.save()
    if decision.verdict == Verdict.EXTEND and decide_on is not None:
        trial.decide_on = decide_on
        trial.weeks = max((decide_on - trial.started_on).days // 7, trial.weeks)
    else:
        trial.status = TrialStatus.DECIDED
    trial.save()
    audit.record(actor, "decided", trial, before, audit.fields_of(trial))
    return decision


@transaction.atomic
def plan_test_day(athlete: Athlete, trial: Trial, day: date, rows: Iterable[dict[str, object]], actor: User) -> int:
    """Put the test day's sets on the plan, tagged as tests of the trial; returns how many lines were written."""
    first = PlanItem.objects.filter(athlete=athlete, day=day).count()
    items = [
        PlanItem(
            athlete=athlete,
            day=day,
            order=first + i,
            lift=Lift.DEADLIFT,
            trial=trial,
            is_test=True,
            author=actor,
            **row,
        )
        for i, row in enumerate(rows)
    ]
    PlanItem.objects.bulk_create(items)
    return len(items)


@transaction.atomic
def decide_main_style(athlete: Athlete, decision: Decision, actor: User) -> Decision:
    """Record the main style with its reasons, outside a trial."""
    decision.athlete, decision.decided_by = athlete, actor
    decision.save()
    audit.record(actor, "decided", decision, after=audit.fields_of(decision))
    return decision
