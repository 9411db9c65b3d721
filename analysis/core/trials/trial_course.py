"""What a trial usually looks like on the way: the first cost and how it fades with practice."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp

from analysis.core.records.estimates import TrialPlan
from analysis.core.settings import DEFAULTS, Settings

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
