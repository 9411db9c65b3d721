"""The front door: one athlete's records in, one weak-link report out, with its reasons and its doubt."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from functools import partial

from analysis.core.estimates.misses import MissReading, classical_reading, misses_by_position, read_misses
from analysis.core.records.demands import STRENGTHS
from analysis.core.records.estimates import Finding
from analysis.core.records.lifts import LifterRecord
from analysis.core.records.messages import Words
from analysis.core.records.plain import CoreError
from analysis.core.records.terms import written_day
from analysis.core.records.weak_link import EvidenceCounts, Excluded, StyleReading, TestOffer, WeakLinkReport
from analysis.core.settings import DEFAULTS, Settings
from analysis.core.strength.gate import gate_holds
from analysis.core.weak_link.estimate import Estimate, estimate
from analysis.core.weak_link.findings import circumstance_findings
from analysis.core.weak_link.kinds import PreparedLog, main_style, prepare_log
from analysis.core.weak_link.naming import (
    counted_misses,
    enough,
    leading_link,
    status_of,
    unexplained_positions,
    why_not_enough,
)
from analysis.core.weak_link.posterior import even_draws, limiter_chances, told_chances
from analysis.core.weak_link.readings import legs_over_back, readings_by_style, strength_ranges, style_demands
from analysis.core.weak_link.reasons import (
    round_at_the_top,
    set_influences,
    statement,
    usual_place,
    weighed_misses,
    would_change,
)
from analysis.core.weak_link.tests_offered import earliest_day, no_test_reason, offered_tests, telling, without_deficit
from analysis.core.weak_link.words import (
    BEGINNER,
    CAUTIONS,
    HONESTY,
    MINOR_CAUTION,
    NOTHING_LOGGED,
    RETURNING,
    ROUND_LOCKOUT,
    headline_named,
    headline_slipped,
    headline_suspect,
    not_enough_headline,
    training_options,
)

LOOKS_BACK = 3  # training days looked back over for a name that was given before
LOOK_SIZE = 0.4  # of the draws, for those looks
SUSPECT_MISSES = 2  # up to so many misses name a first suspect


def weak_link_reports(
    lifters: Iterable[LifterRecord], as_of: date, settings: Settings = DEFAULTS
) -> list[WeakLinkReport]:
    """The reports of a squad, in the order given."""
    return [weak_link_report(lifter, as_of, settings) for lifter in lifters]


def weak_link_report(lifter: LifterRecord, as_of: date, settings: Settings = DEFAULTS) -> WeakLinkReport:
    """What the log says about one athlete's weak link on `as_of`; thin logs and odd bodies are said, never raised."""
    log = prepare_log(lifter, as_of, settings)
    readings = read_misses(lifter, log.levels, as_of, settings)
    style = main_style(lifter, log.sets, as_of)
    if lifter.standing == "beginner":
        return report_without_estimate(lifter, as_of, log, readings, style, "not-for-beginners", BEGINNER, settings)
    if not log.sets:
        return report_without_estimate(lifter, as_of, log, readings, style, "nothing-logged", NOTHING_LOGGED, settings)
    if lifter.standing == "returning":
        return report_without_estimate(lifter, as_of, log, readings, style, "new-baseline", RETURNING, settings)
    try:
        found = estimate(lifter, log, readings, style, as_of, settings)
    except CoreError as error:
        text = f"No estimate: {error}"
        return report_without_estimate(lifter, as_of, log, readings, style, "not-enough", text, settings, (str(error),))
    return report_with_estimate(lifter, as_of, log, readings, style, found, settings)


def report_with_estimate(
    lifter: LifterRecord,
    as_of: date,
    log: PreparedLog,
    readings: Sequence[MissReading],
    style: str,
    found: Estimate,
    settings: Settings,
) -> WeakLinkReport:
    styles = readings_by_style(found, log, readings, style, settings)
    findings = circumstance_findings(lifter, log, readings, style, as_of, settings)
    kept = partial(named_before, lifter, log, style, as_of, settings)
    why_not = why_not_enough(log, readings, found, styles, findings, settings, kept)
    status = status_of(why_not)
    rarely = unexplained_positions(found)
    findings = (*findings, rarely) if rarely else findings
    tests, no_test = _tests(lifter, log, found, as_of, settings)
    next_test = telling(tests)
    main = next((s for s in styles if s.style == style), None)
    counts = _counts(log, readings, found)
    lead = _leading_links(main)
    influences = set_influences(found, log)
    legs, reliability = legs_over_back(found.problem, found.posterior)
    load, demands = style_demands(found, style, main.best_kg) if main else (0.0, ())
    return WeakLinkReport(
        lifter_key=lifter.key,
        as_of=as_of,
        status=status,
        headline=_headline(status, main, readings, findings, why_not),
        why_not=why_not,
        main_style=style,
        styles=styles,
        counts=counts,
        bests=tuple(log.bests.values()),
        strengths=strength_ranges(found.problem, found.posterior, even_draws(found.posterior, 0)),
        influences=influences,
        excluded=_excluded(log, readings),
        misses_by_position=misses_by_position(readings),
        classical=classical_reading(readings, style),
        findings=findings,
        next_test=next_test,
        no_test_reason=no_test,
        other_tests=tuple(t for t in tests if t is not next_test),
        would_change=would_change(why_not, next_test),
        training=training_options(lead if status == "named" else ()),
        cautions=_cautions(lifter),
        honesty=HONESTY,
        shows_style_ratio=gate_holds(),
        legs_over_back=legs,
        legs_reliability=reliability,
        demand_kg=load,
        demands=demands,
        statement=statement(main, status == "named", readings, influences, next_test),
        weighed=weighed_misses(readings),
    )


def named_before(
    lifter: LifterRecord, log: PreparedLog, style: str, as_of: date, settings: Settings, link: str
) -> bool:
    """Whether the log up to one of the last training days named this link, and no day since then took the name away.

    A name is kept above a lower chance than it is given at, so that one set more does not make it come and go.
    """
    training = sorted({s.day for s in log.sets}, reverse=True)[:LOOKS_BACK]
    for last in training:
        day = last - timedelta(days=1)
        earlier = prepare_log(lifter, day, settings)
        if not earlier.sets:
            return False
        readings = read_misses(lifter, earlier.levels, day, settings)
        found = estimate(lifter, earlier, readings, style, day, settings, size=LOOK_SIZE)
        chance = float(told_chances(limiter_chances(found.posterior, found.main))[0, STRENGTHS.index(link)])
        if chance < settings["weak.keep_chance"] or not enough(earlier, readings, found, style, settings):
            return False
        if chance >= settings["weak.clear_chance"]:
            return True
    return False


def report_without_estimate(
    lifter: LifterRecord,
    as_of: date,
    log: PreparedLog,
    readings: Sequence[MissReading],
    style: str,
    status: str,
    headline: str,
    settings: Settings,
    why_not: tuple[str, ...] = (),
) -> WeakLinkReport:
    """A report without an estimate: what was logged, left out and found all the same."""
    return WeakLinkReport(
        lifter_key=lifter.key,
        as_of=as_of,
        status=status,
        headline=headline,
        why_not=why_not,
        main_style=style,
        styles=(),
        counts=_counts(log, readings, None),
        bests=tuple(log.bests.values()),
        strengths=(),
        influences=(),
        excluded=_excluded(log, readings),
        misses_by_position=misses_by_position(readings),
        classical=(),
        findings=circumstance_findings(lifter, log, readings, style, as_of, settings),
        next_test=None,
        no_test_reason=no_test_reason(lifter, as_of, settings) or "Nothing to test against yet.",
        other_tests=(),
        would_change=(),
        training=(),
        cautions=_cautions(lifter),
        honesty=HONESTY,
        shows_style_ratio=gate_holds(),
    )


def _tests(
    lifter: LifterRecord, log: PreparedLog, found: Estimate, as_of: date, settings: Settings
) -> tuple[tuple[TestOffer, ...], Words]:
    reason = no_test_reason(lifter, as_of, settings)
    day = earliest_day(log, lifter, as_of, settings)
    meet = lifter.next_meet
    if not reason and meet is not None and 0 <= (meet - day).days <= settings["weak.test_meet_days"]:
        reason = f"By the time the last heavy pull is rested off, the meet on {written_day(meet)} is too close."
    if reason:
        return (), reason
    tests = offered_tests(found, day, settings)
    return (without_deficit(tests) if lifter.back_pain_noted else tests), ""


def _headline(
    status: str,
    main: StyleReading | None,
    readings: Sequence[MissReading],
    findings: Sequence[Finding],
    why_not: Sequence[Words],
) -> Words:
    """The first sentence: a place and a link, a first suspect, or why there is none."""
    if main is None:
        return not_enough_headline(why_not)
    link = leading_link(main)
    opened = sum(r.code == "grip" for r in readings if r.set.tags.style == main.style)
    misses = counted_misses(readings, main.style)
    strong = any(f.code == "strength-at-top" for f in findings)
    fallen = any(f.code == "sudden-fall" for f in findings)
    if not fallen and not strong and round_at_the_top(readings, main.style):
        return ROUND_LOCKOUT
    if status == "named" and link == "grip" and opened:
        return headline_slipped(opened, opened == misses)
    if status == "named":
        place, number, of = usual_place(readings, main.style)
        return headline_named(place if 2 * number > of else "", link)
    if not fallen and 1 <= misses <= SUSPECT_MISSES:
        return headline_suspect(misses, link)
    return not_enough_headline(why_not)


def _leading_links(main: StyleReading | None) -> tuple[str, ...]:
    if main is None:
        return ()
    ordered = sorted(main.chances, key=lambda c: -c.chance)
    return tuple(c.link for c in ordered[:2] if c.chance >= 0.2)


def _counts(log: PreparedLog, readings: Sequence[MissReading], found: Estimate | None) -> EvidenceCounts:
    return EvidenceCounts(
        misses=sum(r.counts for r in readings),
        misses_left_out=sum(not r.counts for r in readings),
        heavy_made=len(found.found.heavy_made) if found else 0,
        sets=sum(len(b.points) for b in log.bests.values()),
        kinds=len(log.bests),
    )


def _excluded(log: PreparedLog, readings: Sequence[MissReading]) -> tuple[Excluded, ...]:
    own = tuple(Excluded(r.set.key, r.set.day, r.set.load_kg, r.code, r.reason) for r in readings if r.code)
    seen = {e.set_key for e in own}
    return own + tuple(e for e in log.excluded if e.set_key not in seen)


def _cautions(lifter: LifterRecord) -> tuple[str, ...]:
    minor = lifter.is_minor
    return (*CAUTIONS, MINOR_CAUTION) if minor else CAUTIONS
