"""What the decision reads of trials: the running one with its posterior, the last decided, styles tried and left."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from analysis.core.records.decision import TrialFacts
from analysis.core.records.estimates import TrialPoint, TrialVerdict
from analysis.core.records.lifts import LifterRecord
from analysis.core.settings import Settings
from analysis.core.trials.rule import gain_of, heavy_days, trial_prior
from analysis.progress.stored import record_from
from analysis.store.profiles import Sources
from analysis.trials.reading import running_trial
from athletes.models import Athlete, Trial
from athletes.schema.vocabulary import Style, SuccessMeasure, Verdict

DECIDED_FOR = timedelta(weeks=26)  # a recorded decision is the answer for half a year


def left_styles(athlete: Athlete, lifter: LifterRecord) -> dict[str, int]:
    """Style -> days it was pulled in a trial that ended without it."""
    found: dict[str, int] = {}
    for trial in athlete.trials.filter(decisions__verdict=Verdict.DROP).distinct():
        span = (trial.started_on, trial.decide_on)
        days = {s.day for s in lifter.sets if s.tags.style == trial.new_style and span[0] <= s.day <= span[1]}
        found[trial.new_style] = max(found.get(trial.new_style, 0), len(days))
    return found


def trial_of(
    athlete: Athlete, sources: Sources, styles: tuple[str, str], before: tuple[float, float]
) -> TrialFacts | None:
    """A running trial as the log has it, or the last one decided within half a year."""
    day, numbers = sources.as_of, sources.numbers
    running = running_trial(athlete)
    if running is None:
        return decided_trial(athlete, day)
    verdict = record_from(TrialVerdict, sources.profile("trial")["verdict"])
    return running_facts(running, verdict, sources.lifter, numbers, before)


def decided_trial(athlete: Athlete, day: date) -> TrialFacts | None:
    """The trial of the latest recorded decision of half a year."""
    last = athlete.decisions.select_related("trial").filter(trial__isnull=False, on__gt=day - DECIDED_FOR).first()
    if last is None or last.trial is None or last.verdict == Verdict.EXTEND:
        return None
    trial = last.trial
    decided = "new" if last.verdict == Verdict.ADOPT else "old"
    return TrialFacts(trial.new_style, trial.old_style, trial.started_on, trial.decide_on, decided=decided)


def running_facts(
    trial: Trial, verdict: TrialVerdict, lifter: LifterRecord, numbers: Settings, before: tuple[float, float]
) -> TrialFacts:
    """The running trial with what its posterior, begun at the belief before it, makes of the log."""
    style_of = {one.key: one.tags.style for one in lifter.sets}
    load_of = {one.key: one.load_kg for one in lifter.sets}
    new, old = split_points(verdict.points, style_of, trial.new_style)
    sign = 1.0 if trial.new_style != Style.CONVENTIONAL else -1.0
    prior = trial_prior(sign * before[0], before[1], numbers)
    gain = gain_of(old, new, prior, numbers) if new and old else None
    heading = verdict.heading
    return TrialFacts(
        new_style=trial.new_style,
        old_style=trial.old_style or Style.CONVENTIONAL.value,
        begins=trial.started_on,
        decision_day=trial.decide_on,
        days=verdict.sessions,
        days_planned=max(round(trial.weeks * trial.pulls_a_week), 1),
        heavy_days=heavy_days(new, load_of, numbers),
        gain=float(gain.gain) if gain else 0.0,
        loss=float(gain.loss) if gain else 0.0,
        chance_better=float(gain.chance) if gain else 0.5,
        chance_not_worse=float(gain.chance) if gain else 0.5,
        old_kg=heading.old_kg if heading else trial.baseline_old_kg,
        estimate_kg=(heading.heading_low_kg, heading.heading_high_kg) if heading else None,
        success="weight" if trial.success == SuccessMeasure.MORE_WEIGHT else "hard-sets",
        old_kept=len(old) >= 2,
        gain_threshold_met=verdict.word == "adopt",
        extended=trial.decisions.filter(verdict=Verdict.EXTEND).exists(),
        hips="not-closer" if any(one.code == "hips-as-before" for one in verdict.reasons) else "",
        pain=lifter.pain_noted or any(one.code == "pain-stop-rule" for one in verdict.reasons),
    )


def split_points(
    points: Sequence[TrialPoint], style_of: Mapping[str, str], new_style: str
) -> tuple[list[TrialPoint], list[TrialPoint]]:
    """Daily values of the new and of the old style."""
    new = [p for p in points if any(style_of.get(key) == new_style for key in p.set_keys)]
    return new, [p for p in points if p not in new]
