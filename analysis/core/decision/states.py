"""Which answer holds: the gates in their order, a trial that runs or was decided, then trial, start, link or keep."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np

from analysis.core.decision.lines import link_is_named, starts_flatter
from analysis.core.decision.reasons import Reasons, coaches_lean, has_left
from analysis.core.records.decision import DecisionFacts, Lean, State, TrialFacts
from analysis.core.settings import DEFAULTS, Settings
from analysis.core.trials.rule import Call, ExpectedGain, call_of

DECIDED = {"new": State.DECIDED_NEW, "old": State.DECIDED_OLD, "both": State.DECIDED_BOTH}
DUE = {
    Call.ADOPT: State.DUE_ADOPT,
    Call.LEVEL: State.DUE_LEVEL,
    Call.FOUR_MORE_WEEKS: State.DUE_FOUR_MORE,
    Call.KEEP: State.DUE_BACK,
}
LEVEL_MOST = 0.6  # own results whose surer side stays at or under this chance are level


def state_of(facts: DecisionFacts, lean: Lean, reasons: Reasons, settings: Settings = DEFAULTS) -> State:
    """The state; order: safety, standing, measured, trial, decision taken, meet, stance, then the answer itself."""
    gate = _gate(facts)
    if gate is not None:
        return gate
    if facts.trial is not None:
        return DECIDED[facts.trial.decided] if facts.trial.decided else trial_state(facts.trial, facts.day, settings)
    if weeks_to_meet(facts, settings) is not None:
        return State.MEET_AHEAD
    if facts.health.pinch:
        return State.STANCE_OUT
    if is_offered(facts, lean, reasons, settings):
        return State.OFFERED_TRIAL
    level = facts.results_of_both and lean.chance <= LEVEL_MOST
    if level and coaches_lean(facts) not in ("", facts.main_style):
        return State.VIEWS_DIFFER
    named = link_is_named(facts)
    round_lockouts = facts.links is not None and facts.links.lockout_round_misses > 0
    if starts_flatter(facts, settings) and (round_lockouts or not named):
        return State.START_FLATTER
    return State.TRAIN_LINK if named else State.KEEP


def _gate(facts: DecisionFacts) -> State | None:
    """Pain, age, learning, return, nothing known: each before any answer about style."""
    if facts.trial is not None and not facts.trial.decided and facts.trial.pain:
        return State.TRIAL_PAIN
    if facts.health.pain:
        return State.PAIN
    if facts.is_minor:
        return State.UNDER_18
    if facts.standing == "beginner":
        return State.BEGINNER
    if facts.standing == "returning":
        return State.RETURNING
    return State.NOT_MEASURED if not facts.measured and not facts.logged_days else None


def is_offered(facts: DecisionFacts, lean: Lean, reasons: Reasons, settings: Settings = DEFAULTS) -> bool:
    """Whether a trial leads: worth enough, and either the chance of more kilos or a reason besides kilos carries it."""
    if has_left(facts, settings) or lean.value <= settings["style.trial_least"]:
        return False
    likely = lean.style == facts.other_style and lean.chance >= settings["style.offer_chance"]
    return likely or reasons.needs >= settings["style.reason_least"] - 1e-9


def weeks_to_meet(facts: DecisionFacts, settings: Settings = DEFAULTS) -> int | None:
    """Whole weeks to an important meet inside the setting's window, else None."""
    if facts.important_meet is None:
        return None
    days = (facts.important_meet - facts.day).days
    return days // 7 if 0 <= days < 7 * settings["trial.meet_weeks"] else None


def trial_state(trial: TrialFacts, day: date, settings: Settings = DEFAULTS) -> State:
    """The state of a running trial without pain."""
    if trial.hips == "not-closer":
        return State.TRIAL_HIPS_NOT_CLOSER
    if trial.film == "not-yet":
        return State.TRIAL_FILM_AGAINST
    if day < trial.decision_day:
        return State.TRIAL_DAYS_SHORT if behind(trial, day, settings) else State.TRIAL_ON_COURSE
    if short_of_days(trial, settings):
        return State.TRIAL_DAYS_SHORT
    return DUE[decision_call(trial, settings)]


def behind(trial: TrialFacts, day: date, settings: Settings = DEFAULTS) -> bool:
    """Whether fewer days than the setting's share of those due by today were pulled in the new style."""
    length = max((trial.decision_day - trial.begins).days, 1)
    due = trial.days_planned * min(max((day - trial.begins).days / length, 0.0), 1.0)
    return due >= 3 and trial.days < settings["trial.attendance_least"] * due


def short_of_days(trial: TrialFacts, settings: Settings = DEFAULTS) -> bool:
    """At the decision: too few days in the new style, or too few heavy ones."""
    enough = trial.days >= settings["trial.attendance_least"] * trial.days_planned
    return not enough or trial.heavy_days < settings["trial.heavy_days_least"]


def decision_call(trial: TrialFacts, settings: Settings = DEFAULTS) -> Call:
    """What the log says on the decision day; a trial for soreness or hard sets may be adopted when about equal.

    Without the old style kept, or in a trial begun for a sore back, the old threshold on a worthwhile gain decides.
    """
    if trial.success != "weight" and trial.easier and trial.chance_not_worse >= settings["trial.adopt_chance"]:
        return Call.ADOPT
    gain = ExpectedGain(np.array(trial.gain), np.array(trial.loss), np.array(trial.chance_better))
    kept = trial.old_kept and not trial.sore_start
    if not kept and trial.gain_threshold_met:
        return Call.ADOPT
    return call_of(gain, settings, old_kept=kept, extended=trial.extended)


def trial_start(facts: DecisionFacts, settings: Settings = DEFAULTS) -> date:
    """The day a trial starts: the next Monday, or after a meet marked important the second easy week's Monday."""
    monday = facts.day + timedelta(days=(7 - facts.day.weekday()) % 7 or 7)
    if weeks_to_meet(facts, settings) is not None and facts.important_meet is not None:
        after = facts.important_meet + timedelta(days=7 - facts.important_meet.weekday())
        return after + timedelta(weeks=1)
    return monday


def trial_weeks(facts: DecisionFacts, settings: Settings = DEFAULTS) -> int:
    """Length of a trial: longer for a very strong lifter."""
    heavy = facts.best_kg is not None and facts.best_kg > settings["trial.heavy_from"]
    return int(settings["trial.weeks_heavy" if heavy else "trial.weeks"])


def keeps_old_style(facts: DecisionFacts, settings: Settings = DEFAULTS) -> bool:
    """Whether the plan keeps the old style twice a month; not with a back note or a trial begun for a sore back."""
    soreness = facts.health.back_soreness
    return not facts.health.back_note and (soreness is None or soreness < settings["style.soreness_from"])
