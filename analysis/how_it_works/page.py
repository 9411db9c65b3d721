"""The sections of the page "How it works"; a part that wants one adds its template and its numbers to SECTIONS."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from analysis.core.body.constants import all_constants
from analysis.core.estimates.one_rep_max import FORMULAS, LIMITS_OF_FORMULAS
from analysis.core.pull.checks import KNOWN_MISSES, CheckRow, check_rows, reference_body
from analysis.core.training.back_load import CONTRARY
from analysis.core.training.back_load import LIMITS as BACK_LIMITS
from analysis.how_it_works import log, meets, strength
from analysis.how_it_works import numbers as bodies
from analysis.how_it_works.dated import dated_tables
from analysis.how_it_works.gate_state import gate_state
from analysis.how_it_works.rows import KINDS, Group, ShownNumber, of_constant


@dataclass(frozen=True, slots=True)
class Section:
    """One section: an id for links, its heading, its template and what that needs, and whether it begins open."""

    slug: str
    heading: str
    template: str
    numbers: Callable[[], Mapping[str, object]]
    begins_open: bool = False


@dataclass(frozen=True, slots=True)
class ShownCheck:
    """One row of the checks table, as text."""

    quantity: str
    band: str
    values: tuple[str, ...]
    verdict: str
    source: str
    why: str


BODIES = (
    ("man of 1.78 m, 85 kg, rough shares of stature", ("rough", "m", 1.78, 85.0)),
    ("the same man, lengths filled from measured people", ("filled", "m", 1.78, 85.0)),
    ("woman of 1.65 m, 65 kg, rough shares", ("rough", "f", 1.65, 65.0)),
)


@cache
def checks() -> tuple[ShownCheck, ...]:
    """Every check with its value for each body, computed once a process."""
    found = [check_rows(reference_body(*arguments)) for _, arguments in BODIES]
    return tuple(_shown(rows) for rows in zip(*found, strict=True))


def _shown(rows: tuple[CheckRow, ...]) -> ShownCheck:
    check = rows[0].check
    unit = "" if check.unit == "1" else f" {check.unit}"

    def write(value: float) -> str:
        return f"{value:.{check.digits}f}"

    band = write(check.low) if check.low == check.high else f"{write(check.low)} to {write(check.high)}"
    held = sum(row.holds for row in rows)
    verdict = "inside" if held == len(rows) else "outside" if held == 0 else f"inside for {held} of {len(rows)}"
    values = tuple(write(row.value) + unit for row in rows)
    return ShownCheck(check.quantity, band + unit, values, verdict, check.source, KNOWN_MISSES.get(check.key, ""))


@cache
def constants() -> tuple[tuple[str, tuple[ShownNumber, ...]], ...]:
    """Every constant of the mechanics, those with the surest source first."""
    found = [of_constant(constant) for constant in all_constants()]
    return tuple((kind, rows) for kind in KINDS if (rows := tuple(c for c in found if c.kind == kind)))


def _nothing() -> Mapping[str, object]:
    return {}


def _checks() -> Mapping[str, object]:
    return {"checks": checks(), "bodies": [name for name, _ in BODIES]}


def _constants() -> Mapping[str, object]:
    return {"groups": [Group(kind, rows) for kind, rows in constants()]}


def _posture() -> Mapping[str, object]:
    told = dated_tables("pull-checks.md").titled(
        "Angles, mean", "Length of the pull", "Stance at which", "What else", "measured men"
    )
    return {"groups": bodies.setup_groups(), "dated": told}


def _strength() -> Mapping[str, object]:
    return {"groups": strength.strength_groups()}


def _gate() -> Mapping[str, object]:
    return {"state": gate_state(), "groups": strength.gate_groups(), "dated": dated_tables("gate.md").with_head("lift")}


def _weak_link() -> Mapping[str, object]:
    told = dated_tables("calibration-weak-points.md")
    return {
        "groups": strength.weak_link_groups(),
        "dated": told.with_head("world"),
        "reliable": told.with_head("stated"),
    }


def _bests() -> Mapping[str, object]:
    return {"groups": log.best_groups(), "formulas": FORMULAS.items(), "limits": LIMITS_OF_FORMULAS}


def _trials() -> Mapping[str, object]:
    told = dated_tables("calibration-trials.md").titled("as the model assumes", "slow learners", "old style kept")
    return {"groups": log.trial_groups(), "dated": told}


def _back() -> Mapping[str, object]:
    return {"groups": log.back_groups(), "contrary": CONTRARY, "limits": BACK_LIMITS}


def _meets() -> Mapping[str, object]:
    told = dated_tables("calibration-attempts.md")
    return {"groups": meets.meet_groups(), "dated": told.titled("as the model assumes", "squat and bench cost")}


SECTIONS: tuple[Section, ...] = (
    Section("in-short", "In short", "model_short.html", _nothing, begins_open=True),
    Section("cautions", "Cautions", "model_cautions.html", _nothing, begins_open=True),
    Section("body", "The body", "model_body.html", lambda: {"groups": bodies.body_groups()}),
    Section("measuring", "Measuring, and its error", "model_measuring.html",
            lambda: {"groups": bodies.measuring_groups()}),
    Section("posture", "The posture", "model_posture.html", _posture),
    Section("moments", "The turning forces", "model_moments.html", _nothing),
    Section("bar", "The bending bar", "model_bar.html", _nothing),
    Section("strength", "Strength: what the weakest link allows", "model_strength.html", _strength),
    Section("gate", "Are predicted style ratios shown?", "model_gate.html", _gate),
    Section("bests", "Running bests", "model_bests.html", _bests),
    Section("weak-link", "The weak link, and how often it is right", "model_weak_link.html", _weak_link),
    Section("trials", "Style trials", "model_trials.html", _trials),
    Section("odds", "The odds between styles", "model_odds.html", lambda: {"groups": log.odds_groups()}),
    Section("back-load", "Lower-back load", "model_back.html", _back),
    Section("bar-and-grip", "Bar and grip", "model_bar_grip.html", lambda: {"groups": log.bar_groups()}),
    Section("meets", "Meet attempts and points", "model_meets.html", _meets),
    Section("squad", "The squad’s review", "model_squad.html", lambda: {"groups": log.squad_groups()}),
    Section("checks", "What the model of the pull is held against", "model_checks.html", _checks),
    Section("constants", "Every number of the model of the pull", "model_constants.html", _constants),
    Section("limits", "What it cannot tell", "model_limits.html", _nothing, begins_open=True),
)  # fmt: skip


@cache
def sections() -> tuple[tuple[Section, Mapping[str, object]], ...]:
    """Every section with its numbers, worked out once a process: nothing in them depends on a reader or a day."""
    return tuple((section, section.numbers()) for section in SECTIONS)


@login_required
@require_safe
def how_it_works(request: HttpRequest) -> HttpResponse:
    """Equations in words, constants with their sources, checks computed now, limits and cautions."""
    return render(request, "model.html", {"here": "model", "sections": sections()})
