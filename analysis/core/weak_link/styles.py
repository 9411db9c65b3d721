"""Readings of every style that the log itself informs, and what one load asks of each link in both styles."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from analysis.core.estimates.comparable import kind_key
from analysis.core.estimates.comparable import label as kind_label
from analysis.core.estimates.misses import MissReading
from analysis.core.records.demands import STRENGTHS
from analysis.core.records.terms import MISS_POSITIONS, STYLES
from analysis.core.records.weak_link import LinkDemand, StyleDemand, StyleReading
from analysis.core.settings import Settings
from analysis.core.weak_link.estimate import COMPARED, Estimate
from analysis.core.weak_link.kinds import Logged
from analysis.core.weak_link.posterior import Pull, pull_of, true_best
from analysis.core.weak_link.readings import style_reading


def readings_by_style(
    found: Estimate, log: Logged, readings: Sequence[MissReading], main: str, settings: Settings
) -> tuple[StyleReading, ...]:
    """The main style first; another style only when its own floor pulls are logged, so that no ratio is predicted."""
    kinds = {kind_key(k): k for k in found.kinds}
    order = [main, *(s for s in STYLES if s != main)]
    out = []
    for style in order:
        own = [k for k in log.kinds(style) if kind_key(k) in {d.key for d in found.table.kinds}]
        if style != main and not own:
            continue
        at = found.main if style == main else found.table.index(kind_key(own[0]))
        kind = found.table.kinds[at]
        best = log.bests.get(kinds[kind.key]) if kind.key in kinds else None
        name = kind_label(kinds[kind.key]) if kind.key in kinds else f"{style}, floor"
        rests_on = len(best.points) if best else 0
        out.append(
            style_reading(found.problem, found.posterior, found.even, kind, at, name, rests_on, readings, settings)
        )
    return tuple(out)


COMPARED_SHARE = 0.97  # of the main style's best: heavy, and a load every style is worked out at
ROUNDED_TO_KG = 5.0


def compared_load(best_kg: float) -> float:
    """The load (kg) both styles are compared at: a heavy share of the main style's best, to 5 kg."""
    return max(round(COMPARED_SHARE * best_kg / ROUNDED_TO_KG) * ROUNDED_TO_KG, ROUNDED_TO_KG)


def style_demands(found: Estimate, main: str, best_kg: float) -> tuple[float, tuple[StyleDemand, ...]]:
    """The load (kg) and, for the main style and the others compared, each link at its hardest height.

    A load asks in proportion, so the main style's shares are its curve at the predicted best times load over best.
    The other style keeps the strengths, the lifter's own error of the model and its own mean factor; skill in it is
    not in these numbers.
    """
    load = compared_load(best_kg)
    log_best = found.even.min(-1)
    own = np.exp(true_best(found.problem, log_best, 0, found.main).mean)
    pull = pull_of(found.problem, found.posterior, 0, found.main)
    error = own / pull.best  # of the model for this lifter, one value a draw
    middle = float(np.median(own))
    order = [main, *(one for one in COMPARED if one != main)]
    places = {main: found.main} | {one: found.plain[one] for one in order[1:] if one in found.plain}
    made = []
    for style, at in places.items():
        here = pull if at == found.main else pull_of(found.problem, found.posterior, 0, at)
        factor = float(np.exp(found.problem.style_mean[0, at] - found.problem.style_mean[0, found.main]))
        made.append(StyleDemand(style, _links(found, at, here, load, error * factor, middle)))
    return load, tuple(made)


def _links(
    found: Estimate, at: int, pull: Pull, load: float, scale: np.ndarray, middle: float
) -> tuple[LinkDemand, ...]:
    """Hips, legs and back at their hardest height; the share is the curve's, its range is over the draws."""
    kind, main = found.table.kinds[at], at == found.main
    carries = pull.allowed * scale[:, None, None]
    used = load / carries
    # As the curve of the weak link has it for the main style: the mean over draws of best over allowed, at this load.
    curve = np.minimum(pull.best[:, None, None] / pull.allowed, 1.0) * (load / middle) if main else used
    links = []
    for place, link in enumerate(STRENGTHS[:3]):
        mean = curve[:, place].mean(axis=0)
        hardest = int(mean.argmax())
        low, high = np.quantile(used[:, place, hardest], (0.1, 0.9))
        share = float(mean[hardest])
        position = MISS_POSITIONS[int(found.problem.notes[0, at][hardest].argmax())]
        ends = min(float(low), share), max(float(high), share)
        links.append(LinkDemand(link, share, *ends, position, float(kind.z[hardest])))
    return tuple(links)
