"""Before a trial begins: dates it must not cross, its length, and what a first comparison may hint at."""

from __future__ import annotations

from datetime import timedelta

from analysis.core.records.estimates import Finding, RunningBest, TrialPlan
from analysis.core.records.terms import counted, written_day
from analysis.core.records.wording import percent
from analysis.core.settings import DEFAULTS, Settings


def plan_findings(plan: TrialPlan, settings: Settings = DEFAULTS) -> tuple[Finding, ...]:
    """What is unwise about a plan: too near an important date, too short, too few sessions."""
    found = []
    for day in plan.important_dates:
        if plan.begins <= day < plan.begins + timedelta(weeks=max(plan.weeks, settings["trial.meet_weeks"])):
            after = counted((day - plan.begins).days // 7, "week")
            text = f"{written_day(day)} is {after} after the start: start after it."
            found.append(Finding("crosses-date", text, "caution"))
    if plan.weeks < settings["trial.weeks_least"]:
        text = (
            f"{counted(plan.weeks, 'week')} is short: nothing is judged before {settings['trial.weeks_least']:g} weeks."
        )
        found.append(Finding("short-trial", text, "caution"))
    sessions = plan.weeks * plan.sessions_a_week
    if sessions < settings["trial.exposures_least"]:
        text = f"{sessions:.0f} sessions planned; at least {settings['trial.exposures_least']:g} are needed for a word."
        found.append(Finding("few-sessions", text, "caution"))
    if plan.decision_day < plan.begins + timedelta(weeks=settings["trial.weeks_least"]):
        found.append(Finding("early-decision", "The decision day is before the least time of a trial.", "caution"))
    return tuple(found)


def first_hint(untrained: RunningBest, trained: RunningBest, settings: Settings = DEFAULTS) -> Finding:
    """What the first lifts in an untrained style say against a trained one: at most a reason for a trial.

    A high ratio is a strong hint to run a trial; a low one is not a rejection, since a new style usually
    starts 10 to 30 % low (setting; common practice, no source).
    """
    ratio = untrained.now_kg / trained.now_kg
    numbers = (("ratio", ratio), ("untrained_days", untrained.day_count), ("trained_days", trained.day_count))
    keys = tuple(p.key for p in untrained.points)
    if ratio >= settings["trial.hint_ratio"]:
        text = f"The untrained style already stands at {percent(ratio)}: a strong hint to run a trial, not a verdict."
        return Finding("run-a-trial", text, "note", numbers, keys)
    if ratio < settings["trial.weak_ratio"]:
        text = f"The untrained style stands at {percent(ratio)}: no rejection, it has not been practised."
        return Finding("no-rejection", text, "note", numbers, keys)
    text = f"The untrained style stands at {percent(ratio)}, about where an unpractised style starts: too early."
    return Finding("too-early-to-say", text, "note", numbers, keys)
