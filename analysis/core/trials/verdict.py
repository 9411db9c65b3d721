"""The word for a trial: pain first, then time, attendance, comparability, level and tolerance, in that order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil, exp

from analysis.core.records.estimates import Finding, HipDistances, TrialHeading, TrialPlan, TrialVerdict
from analysis.core.records.lifts import DayRecord, SetRecord
from analysis.core.records.messages import HEALTH, Message, Value, as_message, kg
from analysis.core.records.wording import percent
from analysis.core.settings import DEFAULTS, Settings
from analysis.core.trials.heading import heading_of
from analysis.core.trials.sessions import Sessions, Sides, sessions_of, sides_of, trial_sets
from analysis.core.trials.tolerance import Tolerance, hip_finding, pain_findings, tolerance_finding, tolerance_of


@dataclass(frozen=True, slots=True)
class _Case:
    """All that the verdict is read from."""

    plan: TrialPlan
    as_of: date
    weeks: float
    sessions: Sessions
    planned: float
    sides: Sides
    heading: TrialHeading | None
    tolerance: Tolerance
    pain: tuple[Finding, ...]
    hips: Finding | None
    settings: Settings

    @property
    def attendance(self) -> float:
        """Sessions that counted against those planned so far, at most 1."""
        return min(len(self.sessions.weights) / self.planned, 1.0) if self.planned else 0.0


def judge_trial(
    plan: TrialPlan,
    sets: Sequence[SetRecord],
    days: Sequence[DayRecord],
    as_of: date,
    settings: Settings = DEFAULTS,
    *,
    standing: str = "trained",
    hips: HipDistances | None = None,
) -> TrialVerdict:
    """Adopt, extend, drop or too early, with where the new style is heading and every reason.

    A beginner or a lifter with no trained style gets no dip; a returning lifter's old bests are not used.
    """
    case = _case(plan, sets, days, as_of, settings, standing, hips or HipDistances())
    word, deciding = _word(case)
    return TrialVerdict(
        word=word,
        as_of=as_of,
        next_look=_next_look(case, word),
        weeks_done=case.weeks,
        sessions=len(case.sessions.weights),
        exposures=case.sessions.exposures,
        planned_sessions=case.planned,
        attendance=case.attendance,
        comparable=bool(case.sides.old and case.sides.new),
        heading=case.heading,
        points=(*case.sides.old, *case.sides.new),
        reasons=(deciding, *_background(case, standing)),
    )


def _case(
    plan: TrialPlan,
    sets: Sequence[SetRecord],
    days: Sequence[DayRecord],
    as_of: date,
    settings: Settings,
    standing: str,
    hips: HipDistances,
) -> _Case:
    weeks = max((as_of - plan.begins).days / 7.0, 0.0)
    sessions = sessions_of(plan, sets, as_of, settings)
    sides = sides_of(plan, sets, as_of, settings, returning=standing == "returning")
    beginner = standing == "beginner"
    heading = None
    if sides.old and sides.new:
        dips = bool(plan.old_style) and not beginner
        heading = heading_of(sides.old, sides.new, weeks, sessions.exposures, settings, dips=dips, beginner=beginner)
    return _Case(
        plan,
        as_of,
        weeks,
        sessions,
        min(weeks, plan.weeks) * plan.sessions_a_week,
        sides,
        heading,
        tolerance_of(plan, days, as_of, settings),
        pain_findings(trial_sets(plan, sets, as_of), days, settings),
        hip_finding(hips, settings),
        settings,
    )


def _word(case: _Case) -> tuple[str, Finding]:
    """The word and the finding that decided it."""
    if any(f.weight == "stop" for f in case.pain):
        return "drop", case.pain[0]
    early = _too_early(case)
    if early:
        return "too early", early
    held = _held_back(case)
    if held:
        return "extend", held
    return _by_level(case)


def _too_early(case: _Case) -> Finding | None:
    """Before the least weeks or sessions."""
    weeks, sessions = case.settings["trial.weeks_least"], case.settings["trial.exposures_least"]
    if case.weeks >= weeks and case.sessions.exposures >= sessions:
        return None
    text = (
        f"Too early: {case.weeks:.0f} of {case.plan.weeks} weeks and {case.sessions.exposures:g} sessions in the new "
        f"style; at least {weeks:g} weeks and {sessions:g} sessions before a word."
    )
    return Finding("too-early", text, "note", (("weeks", case.weeks), ("exposures", case.sessions.exposures)))


def _held_back(case: _Case) -> Finding | None:
    """Attendance, comparability and marked pictures: without them the level says nothing."""
    if case.attendance < case.settings["trial.attendance_least"]:
        text = f"{len(case.sessions.weights)} of {case.planned:.0f} planned sessions: attendance comes before level."
        return Finding("attendance-low", text, "caution", (("attendance", case.attendance),))
    if case.heading is None:
        return _no_comparison(case)
    return case.hips if case.hips and case.hips.code == "hips-as-before" else None


def _no_comparison(case: _Case) -> Finding:
    if not case.plan.old_style:
        text = "No trained style to compare with: the new style is building its own baseline."
        return Finding("no-old-style", text)
    text = "Not comparable with the baseline: " + ", ".join(case.sides.unlike) + ". Test both the same way."
    return Finding("not-comparable", text, "caution")


def _by_level(case: _Case) -> tuple[str, Finding]:
    """Level first, then tolerance."""
    heading, settings = case.heading, case.settings
    assert heading is not None
    finding = level_finding(heading)
    gain, points = case.tolerance.gain(), settings["trial.tolerance_points"]
    if heading.chance_better >= settings["trial.adopt_chance"]:
        if gain is not None and gain <= -points:
            return "extend", Finding("level-yes-tolerance-no", _with_level("trial.level-but-sore", finding), "caution")
        return "adopt", finding
    if heading.chance_worse >= settings["trial.drop_chance"]:
        return "drop", finding
    not_worse = 1.0 - heading.chance_worse
    if gain is not None and gain >= points and not_worse >= settings["trial.adopt_chance"]:
        return _equal_but_easier(case, finding)
    return "extend", finding


def _equal_but_easier(case: _Case, finding: Finding) -> tuple[str, Finding]:
    """Not worse in kg and clearly better tolerated: the goal agreed at the start decides."""
    if case.plan.success == "tolerance":
        return "adopt", Finding("equal-better-tolerated", _with_level("trial.easier", finding), "note")
    text = _with_level("trial.easier-but-weight", finding)
    return "extend", Finding("decide-by-goal", text, "note", finding.numbers)


def _with_level(code: str, level: Finding) -> Message:
    """The level's sentence with what soreness adds to it; the addition is private, the sentence alone is not."""
    return Message(code, {"level": as_message(level.text)}, private=HEALTH)


def level_finding(heading: TrialHeading) -> Finding:
    """Where the new style is heading, in words with its range and chances."""
    values: dict[str, Value] = {
        "range": kg(heading.heading_kg, heading.heading_low_kg, heading.heading_high_kg),
        "old": kg(heading.old_kg),
    }
    text = Message("trial.level", values)
    numbers = (
        ("difference", heading.difference),
        ("chance_better", heading.chance_better),
        ("chance_equal", heading.chance_equal),
        ("chance_worse", heading.chance_worse),
    )
    return Finding("level", text, "note", numbers)


def _background(case: _Case, standing: str) -> tuple[Finding, ...]:
    """What else a reader must know, in the order attendance, level, tolerance."""
    found = [_attendance(case)]
    if case.sessions.untapped:
        text = f"{len(case.sessions.untapped)} sets have no answer to: was it in the new style? They do not count."
        found.append(Finding("untapped", text, "caution", set_keys=case.sessions.untapped))
    if case.sides.left_out and case.sides.old:
        found.append(Finding("left-out", f"{case.sides.left_out} new-style sets differ in bar, grip or kit: left out."))
    if case.heading is not None:
        found.append(level_finding(case.heading))
    elif case.plan.old_style:
        found.append(_no_comparison(case))
    if standing == "returning":
        text = "Returning after a long pause: old bests are not used, the baseline is new."
        found.append(Finding("new-baseline", text))
    if case.tolerance.days_before or case.tolerance.days_lately:
        found.append(tolerance_finding(case.tolerance, case.settings))
    return (*found, *case.pain, *([case.hips] if case.hips else []))


def _attendance(case: _Case) -> Finding:
    text = f"{len(case.sessions.weights)} sessions of {case.planned:.0f} planned by now ({percent(case.attendance)})."
    return Finding("attendance", text, "note", (("attendance", case.attendance),))


def _next_look(case: _Case, word: str) -> date:
    """The earliest date on which a new word makes sense."""
    if word == "too early":
        missing = max(case.settings["trial.exposures_least"] - case.sessions.exposures, 0.0)
        by_sessions = case.as_of + timedelta(days=ceil(7 * missing / max(case.plan.sessions_a_week, 0.1)))
        by_weeks = case.plan.begins + timedelta(weeks=case.settings["trial.weeks_least"])
        return max(by_sessions, by_weeks)
    if word == "extend" and case.as_of >= case.plan.decision_day:
        return case.as_of + timedelta(weeks=case.settings["trial.extend_weeks"])
    return max(case.plan.decision_day, case.as_of)


Z80 = 1.2815515655446004


@dataclass(frozen=True, slots=True)
class Course:
    """Expected share of the old style's best by week, with the range that 8 in 10 trials keep to (calibration)."""

    weeks: tuple[float, ...]
    middle: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]


def expected_course(plan: TrialPlan, settings: Settings = DEFAULTS) -> Course:
    """The course of a new style that ends level with the old one: share = exp(dip exp(-exposures / tau)).

    Dip and tau are settings (common practice, no source); a lifter without a trained style has no dip.
    """
    dip = settings["trial.dip_mean"] if plan.old_style else 0.0
    spread = settings["trial.dip_sd"] if plan.old_style else 0.0
    weeks = tuple(float(w) for w in range(plan.weeks + 1))
    fade = [exp(-w * plan.sessions_a_week / settings["trial.tau"]) for w in weeks]
    reach = [Z80 * ((spread * f) ** 2 + settings["trial.noise_sd"] ** 2) ** 0.5 for f in fade]
    return Course(
        weeks,
        tuple(exp(dip * f) for f in fade),
        tuple(exp(dip * f - r) for f, r in zip(fade, reach, strict=True)),
        tuple(exp(dip * f + r) for f, r in zip(fade, reach, strict=True)),
    )
