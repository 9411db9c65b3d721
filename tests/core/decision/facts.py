"""Invented facts of lifters for the decision: one small record per state, and the archetypes."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from analysis.core.records.decision import (
    BackShape,
    BuildScore,
    DecisionFacts,
    HealthFacts,
    LinkPosterior,
    Stance,
    State,
    StyleResult,
    TrialFacts,
)

DAY = date(2026, 3, 4)
PLAIN = DecisionFacts(DAY, years={"conventional": 4.0}, best_kg=180.0, stance_m=0.33)


def links(legs_over_back, reliability=0.6, *, back=0.5, misses=4, name="", **more):
    """Links with the back's chance in conventional; the rest goes to the hips."""
    chances = {"conventional": {"back": back, "hips": 1 - back - 0.05, "legs": 0.03, "grip": 0.02}}
    return LinkPosterior(legs_over_back, reliability, chances, {"conventional": name}, misses, **more)


def facts(**changes):
    """The plain lifter with changes."""
    return replace(PLAIN, **changes)


TRIAL = TrialFacts(
    "sumo", "conventional", DAY - timedelta(weeks=12), DAY, days=17, heavy_days=5, old_kg=180.0, estimate_kg=(172, 188)
)
RUNNING = replace(TRIAL, begins=DAY - timedelta(weeks=6), decision_day=DAY + timedelta(weeks=6), days=9)
BACK_LIKELY = links(0.0, back=0.72, name="back")

ONE_FOR_EACH_STATE = {
    State.TRIAL_PAIN: facts(trial=replace(RUNNING, pain=True)),
    State.PAIN: facts(health=HealthFacts(pain=True)),
    State.UNDER_18: facts(age=16.0),
    State.BEGINNER: facts(standing="beginner"),
    State.RETURNING: facts(standing="returning"),
    State.NOT_MEASURED: facts(measured=False, logged_days=0),
    State.TRIAL_HIPS_NOT_CLOSER: facts(trial=replace(RUNNING, hips="not-closer")),
    State.TRIAL_FILM_AGAINST: facts(trial=replace(RUNNING, film="not-yet")),
    State.TRIAL_DAYS_SHORT: facts(trial=replace(RUNNING, days=3)),
    State.TRIAL_ON_COURSE: facts(trial=RUNNING),
    State.DUE_ADOPT: facts(trial=replace(TRIAL, gain=0.03, loss=0.001, chance_better=0.9)),
    State.DUE_LEVEL: facts(trial=replace(TRIAL, gain=0.004, loss=0.004, chance_better=0.5)),
    State.DUE_FOUR_MORE: facts(trial=replace(TRIAL, gain=0.015, loss=0.006, chance_better=0.7)),
    State.DUE_BACK: facts(trial=replace(TRIAL, gain=0.001, loss=0.03, chance_better=0.1)),
    State.DECIDED_NEW: facts(trial=replace(TRIAL, decided="new")),
    State.DECIDED_OLD: facts(trial=replace(TRIAL, decided="old")),
    State.DECIDED_BOTH: facts(trial=replace(TRIAL, decided="both")),
    State.MEET_AHEAD: facts(important_meet=DAY + timedelta(weeks=6)),
    State.STANCE_OUT: facts(health=HealthFacts(pinch=True), stances=(Stance(0.85, pinches=True, tried=True),)),
    State.OFFERED_TRIAL: facts(links=links(1.6), build=BuildScore(0.3, 0.5)),
    State.VIEWS_DIFFER: facts(links=links(1.2), results=(StyleResult(-0.005, 0.02),)),
    State.START_FLATTER: facts(back=BackShape(6, 5, 135.0, 135.0, 150.0)),
    State.TRAIN_LINK: facts(links=BACK_LIKELY),
    State.KEEP: facts(),
}

ARCHETYPES = {
    "A": facts(links=links(1.3), build=BuildScore(-0.8, 0.5, arms=1.5)),
    "B": facts(links=links(-1.2), build=BuildScore(0.9, 0.5, arms=-1.5), years={"conventional": 3.0}),
    "C": facts(links=links(1.6), build=BuildScore(0.3, 0.5), years={"conventional": 3.0}),
    "D": facts(links=links(1.0), health=HealthFacts(pinch=True), stances=(Stance(0.85, tried=True, pinches=True),)),
    "E": facts(links=links(0.5), health=HealthFacts(back_soreness=6.0), years={"conventional": 2.0}),
    "F": facts(standing="beginner", years={"conventional": 0.25}),
    "G": facts(links=links(1.6), important_meet=DAY + timedelta(weeks=6)),
    "H": facts(links=links(0.8), results=(StyleResult(-0.025, 0.02),), years={"conventional": 3.0, "sumo": 3.0}),
}
