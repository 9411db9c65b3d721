"""The front door: one athlete's records in, one weak-link report out, with its reasons and its doubt."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from analysis.core.estimates.misses import MissReading, classical_reading, misses_by_position, read_misses
from analysis.core.records.lifts import LifterRecord
from analysis.core.records.messages import Words
from analysis.core.records.plain import CoreError
from analysis.core.records.terms import written_day
from analysis.core.records.weak_link import EvidenceCounts, Excluded, StyleReading, TestOffer, WeakLinkReport
from analysis.core.settings import DEFAULTS, Settings
from analysis.core.strength.gate import gate_holds
from analysis.core.weak_link.estimate import Estimate, estimate
from analysis.core.weak_link.findings import circumstance_findings
from analysis.core.weak_link.kinds import Logged, logged, main_style
from analysis.core.weak_link.naming import status_of, why_not_enough
from analysis.core.weak_link.posterior import even_draws
from analysis.core.weak_link.readings import legs_over_back, strength_ranges
from analysis.core.weak_link.reasons import set_influences, would_change
from analysis.core.weak_link.styles import readings_by_style, style_demands
from analysis.core.weak_link.tests_offered import earliest_day, no_test_reason, offered_tests, telling, without_deficit
from analysis.core.weak_link.words import (
    BEGINNER,
    CAUTIONS,
    HONESTY,
    MINOR_CAUTION,
    NOTHING_LOGGED,
    RETURNING,
    named_headline,
    not_enough_headline,
    training_options,
)


def weak_link_reports(
    lifters: Iterable[LifterRecord], as_of: date, settings: Settings = DEFAULTS
) -> list[WeakLinkReport]:
    """The reports of a squad, in the order given."""
    return [weak_link_report(lifter, as_of, settings) for lifter in lifters]


def weak_link_report(lifter: LifterRecord, as_of: date, settings: Settings = DEFAULTS) -> WeakLinkReport:
    """What the log says about one athlete's weak link on `as_of`; thin logs and odd bodies are said, never raised."""
    log = logged(lifter, as_of, settings)
    readings = read_misses(lifter, log.levels, as_of, settings)
    style = main_style(lifter, log.sets, as_of)
    if lifter.standing == "beginner":
        return _plain(lifter, as_of, log, readings, style, "not-for-beginners", BEGINNER, settings)
    if not log.sets:
        return _plain(lifter, as_of, log, readings, style, "nothing-logged", NOTHING_LOGGED, settings)
    if lifter.standing == "returning":
        return _plain(lifter, as_of, log, readings, style, "new-baseline", RETURNING, settings)
    try:
        found = estimate(lifter, log, readings, style, as_of, settings)
    except CoreError as error:
        text = f"No estimate: {error}"
        return _plain(lifter, as_of, log, readings, style, "not-enough", text, settings, (str(error),))
    return _full(lifter, as_of, log, readings, style, found, settings)


def _full(
    lifter: LifterRecord,
    as_of: date,
    log: Logged,
    readings: Sequence[MissReading],
    style: str,
    found: Estimate,
    settings: Settings,
) -> WeakLinkReport:
    styles = readings_by_style(found, log, readings, style, settings)
    findings = circumstance_findings(lifter, log, readings, style, as_of, settings)
    why_not = why_not_enough(log, readings, found, styles, findings, settings)
    status = status_of(why_not)
    tests, no_test = _tests(lifter, log, found, as_of, settings)
    next_test = telling(tests)
    main = next((s for s in styles if s.style == style), None)
    counts = _counts(log, readings, found)
    lead = _leading_links(main)
    legs, reliability = legs_over_back(found.problem, found.posterior)
    load, demands = style_demands(found, style, main.best_kg) if main else (0.0, ())
    return WeakLinkReport(
        lifter_key=lifter.key,
        as_of=as_of,
        status=status,
        headline=_headline(status, main, why_not, next_test, counts, sum(r.code == "grip" for r in readings)),
        why_not=why_not,
        main_style=style,
        styles=styles,
        counts=counts,
        bests=tuple(log.bests.values()),
        strengths=strength_ranges(found.problem, found.posterior, even_draws(found.posterior, 0)),
        influences=set_influences(found, log),
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
    )


def _plain(
    lifter: LifterRecord,
    as_of: date,
    log: Logged,
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
    lifter: LifterRecord, log: Logged, found: Estimate, as_of: date, settings: Settings
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
    why_not: tuple[Words, ...],
    test: TestOffer | None,
    counts: EvidenceCounts,
    opened: int,
) -> Words:
    if status == "named" and main is not None:
        leading = max(main.chances, key=lambda c: c.chance)
        misses = opened if leading.link == "grip" else counts.misses
        return named_headline(main.style, leading, misses, counts.sets)
    would_tell = f"{test.text[0].upper()}{test.text[1:]} would tell most." if test else ""
    return not_enough_headline(why_not, would_tell)


def _leading_links(main: StyleReading | None) -> tuple[str, ...]:
    if main is None:
        return ()
    ordered = sorted(main.chances, key=lambda c: -c.chance)
    return tuple(c.link for c in ordered[:2] if c.chance >= 0.2)


def _counts(log: Logged, readings: Sequence[MissReading], found: Estimate | None) -> EvidenceCounts:
    return EvidenceCounts(
        misses=sum(r.counts for r in readings),
        misses_left_out=sum(not r.counts for r in readings),
        heavy_made=len(found.found.heavy_made) if found else 0,
        sets=sum(len(b.points) for b in log.bests.values()),
        kinds=len(log.bests),
    )


def _excluded(log: Logged, readings: Sequence[MissReading]) -> tuple[Excluded, ...]:
    own = tuple(Excluded(r.set.key, r.set.day, r.set.load_kg, r.code, r.reason) for r in readings if r.code)
    seen = {e.set_key for e in own}
    return own + tuple(e for e in log.excluded if e.set_key not in seen)


def _cautions(lifter: LifterRecord) -> tuple[str, ...]:
    minor = lifter.standing == "under-18" or (lifter.age is not None and lifter.age < 18)
    return (*CAUTIONS, MINOR_CAUTION) if minor else CAUTIONS
