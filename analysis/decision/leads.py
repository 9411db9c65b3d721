"""Where the button of each answer leads: the page that does the thing, filled in as far as the answer knows."""

from __future__ import annotations

from datetime import date, timedelta
from urllib.parse import urlencode

from django.urls import reverse

from analysis.core.decision.days import test_day, working_day
from analysis.core.decision.states import trial_start, trial_weeks
from analysis.core.records.decision import Answer, DecisionFacts, State
from analysis.core.settings import Settings
from athletes.models import Athlete

# The name of an address of the athlete for each state; days and fields are added by `leads_to`.
LEADS = {
    State.TRIAL_PAIN: "health-notes",
    State.PAIN: "health-notes",
    State.UNDER_18: "plan",
    State.BEGINNER: "plan",
    State.RETURNING: "plan",
    State.NOT_MEASURED: "measure",
    State.TRIAL_HIPS_NOT_CLOSER: "pictures",
    State.TRIAL_FILM_AGAINST: "plan",
    State.TRIAL_DAYS_SHORT: "plan",
    State.TRIAL_ON_COURSE: "test-day",
    State.DUE_ADOPT: "trial",
    State.DUE_LEVEL: "trial",
    State.DUE_FOUR_MORE: "trial",
    State.DUE_BACK: "trial",
    State.DECIDED_NEW: "styles",
    State.DECIDED_OLD: "styles",
    State.DECIDED_BOTH: "styles",
    State.MEET_AHEAD: "athlete-meets",
    State.STANCE_OUT: "plan",
    State.OFFERED_TRIAL: "trial-plan",
    State.VIEWS_DIFFER: "test-day",
    State.START_FLATTER: "pictures",
    State.TRAIN_LINK: "plan",
    State.KEEP: "plan",
}
TO_DECIDE = frozenset((State.DUE_ADOPT, State.DUE_LEVEL, State.DUE_FOUR_MORE, State.DUE_BACK))
DECIDED = frozenset((State.DECIDED_NEW, State.DECIDED_OLD, State.DECIDED_BOTH))


def leads_to(athlete: Athlete, facts: DecisionFacts, answer: Answer) -> str:
    """The address behind the button, with its day or its fields filled in."""
    state = answer.state
    values = answer.action.values
    if state == State.OFFERED_TRIAL:
        return address(athlete, "trial-plan", **trial_fields(facts, values))
    if state == State.MEET_AHEAD and facts.important_meet is not None:
        entry = athlete.meet_entries.filter(meet__day=facts.important_meet).first()
        return reverse("meet-entry", args=[entry.meet_id, entry.pk]) if entry else address(athlete, "athlete-meets")
    if state == State.TRIAL_ON_COURSE and facts.trial is not None:
        ends = working_day(facts.trial.decision_day, facts.holidays)
        return address(athlete, "test-day", day=test_day(ends, facts.holidays).isoformat(), reps="1", rpe_cap="8")
    if state in TO_DECIDE or state in DECIDED:
        return f"{address(athlete, LEADS[state])}#decide"
    if state == State.VIEWS_DIFFER and facts.trial is None:
        return f"{address(athlete, 'weak-link')}#next-test"
    if LEADS[state] == "plan":
        return address(athlete, "plan", day=plan_day(facts, answer).isoformat())
    return address(athlete, LEADS[state])


def plan_day(facts: DecisionFacts, answer: Answer) -> date:
    """The day to plan: the start the answer names, the day of the next look, else the next open day."""
    start = answer.action.values.get("start")
    if isinstance(start, date):
        return start
    ahead = timedelta(weeks=8) if answer.state == State.KEEP else timedelta(days=1)
    return working_day(facts.day + ahead, facts.holidays)


def trial_fields(facts: DecisionFacts, values: object) -> dict[str, str]:
    """The fields of the trial's form that the answer already knows."""
    known = values if isinstance(values, dict) else {}
    start, ends = known.get("start"), known.get("decision")
    found = {"new_style": facts.other_style, "old_style": facts.main_style}
    if isinstance(start, date) and isinstance(ends, date):
        weeks = round((ends - start).days / 7)
        found |= {"started_on": start.isoformat(), "decide_on": ends.isoformat(), "weeks": str(weeks)}
    return found


def trial_form(athlete: Athlete, facts: DecisionFacts, settings: Settings) -> str:
    """The trial's form for who plans one all the same, filled in with the next possible start."""
    start = working_day(trial_start(facts, settings), facts.holidays)
    ends = working_day(start + timedelta(weeks=trial_weeks(facts, settings)), facts.holidays)
    return address(athlete, "trial-plan", **trial_fields(facts, {"start": start, "decision": ends}))


def address(athlete: Athlete, name: str, **fields: str) -> str:
    """An address of the athlete with fields in its query."""
    query = f"?{urlencode(fields)}" if fields else ""
    return reverse(name, args=[athlete.pk]) + query
