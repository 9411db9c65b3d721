"""The sections of the page "How it works"; a part that wants one adds its template and its numbers to SECTIONS."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache

from analysis.mechanics.checks import KNOWN_MISSES, CheckRow, check_rows, reference_body
from analysis.mechanics.constants import Constant, all_constants

KINDS = ("published", "calibration", "from memory", "common practice")


@dataclass(frozen=True, slots=True)
class Section:
    """One section: an id for links, its heading, the template that shows it, and what that template needs."""

    slug: str
    heading: str
    template: str
    numbers: Callable[[], Mapping[str, object]]


@dataclass(frozen=True, slots=True)
class ShownCheck:
    """One row of the checks table, as text."""

    quantity: str
    band: str
    values: tuple[str, ...]
    verdict: str
    source: str
    why: str


@dataclass(frozen=True, slots=True)
class ShownConstant:
    """One constant with its value written out."""

    name: str
    value: str
    kind: str
    source: str


BODIES = (
    ("man of 1.78 m, 85 kg, rough shares of stature", ("rough", "m", 1.78, 85.0)),
    ("the same man, lengths filled from measured people", ("filled", "m", 1.78, 85.0)),
    ("woman of 1.65 m, 65 kg, rough shares", ("rough", "f", 1.65, 65.0)),
)


@cache
def checks() -> tuple[ShownCheck, ...]:
    """Every check with its value for each body, computed once a process."""
    found = [check_rows(reference_body(*arguments)) for _, arguments in BODIES]  # type: ignore[arg-type]
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
def constants() -> tuple[tuple[str, tuple[ShownConstant, ...]], ...]:
    """Every constant, those with the surest source first."""
    found = [_constant(constant) for constant in all_constants()]
    return tuple((kind, tuple(c for c in found if c.kind == kind)) for kind in KINDS)


def _constant(constant: Constant) -> ShownConstant:
    unit = "" if constant.unit == "1" else f" {constant.unit}"
    return ShownConstant(constant.key, f"{constant.value:.4g}{unit}", constant.kind, constant.source)


def _nothing() -> Mapping[str, object]:
    return {}


SECTIONS: tuple[Section, ...] = (
    Section("in-short", "In short", "analysis/model_short.html", _nothing),
    Section("body", "The body", "analysis/model_body.html", _nothing),
    Section("posture", "The posture", "analysis/model_posture.html", _nothing),
    Section("moments", "The turning forces", "analysis/model_moments.html", _nothing),
    Section("bar", "The bending bar", "analysis/model_bar.html", _nothing),
    Section("checks", "What it is held against", "analysis/model_checks.html",
            lambda: {"checks": checks(), "bodies": [name for name, _ in BODIES]}),
    Section("constants", "Every number it uses", "analysis/model_constants.html", lambda: {"kinds": constants()}),
    Section("limits", "What it cannot tell", "analysis/model_limits.html", _nothing),
    Section("cautions", "Cautions", "analysis/model_cautions.html", _nothing),
)  # fmt: skip


def sections() -> list[tuple[Section, Mapping[str, object]]]:
    """Every section with its numbers."""
    return [(section, section.numbers()) for section in SECTIONS]
