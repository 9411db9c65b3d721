"""Readings of every style that the log informs: chances, range, sticking height, kg per strength, the curve."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from analysis.core.estimates.comparable import kind_key
from analysis.core.estimates.comparable import label as kind_label
from analysis.core.estimates.misses import MissReading, position_of
from analysis.core.records.demands import STRENGTHS, KindDemand
from analysis.core.records.terms import MISS_POSITIONS, STYLES
from analysis.core.records.weak_link import (
    LinkChance,
    LinkDemand,
    LinkGain,
    MissMark,
    StrengthRange,
    StyleDemand,
    StyleReading,
    UtilisationCurve,
)
from analysis.core.settings import Settings
from analysis.core.weak_link.estimate import COMPARED, Estimate
from analysis.core.weak_link.kinds import PreparedLog
from analysis.core.weak_link.posterior import Pull, best_range, limiter_chances, pull_of, told_chances, true_best
from analysis.core.weak_link.problem import Problem
from analysis.core.weak_link.sampler import Posterior
from analysis.core.weak_link.words import chance_words

FloatArray = npt.NDArray[np.float64]


def style_reading(
    problem: Problem,
    posterior: Posterior,
    even: FloatArray,
    kind: KindDemand,
    at: int,
    label: str,
    rests_on: int,
    readings: Sequence[MissReading],
    settings: Settings,
) -> StyleReading:
    """The reading of the kind at place `at`; `even` is `even_bests`."""
    chances = link_chances(told_chances(limiter_chances(posterior, at)[0]))
    best, low, high = best_range(problem, even, 0, at)
    pull = pull_of(problem, posterior, 0, at)
    curve, stuck = _curve(kind, pull.best, pull.allowed)
    top = max(chances, key=lambda c: c.chance)
    clear = top.chance >= settings["weak.clear_chance"]
    notes = problem.notes[0, at]
    return StyleReading(
        style=kind.style,
        label=label,
        rests_on_sets=rests_on,
        chances=chances,
        clear=clear,
        limiter=top.link if clear else "",
        best_kg=best,
        low_kg=low,
        high_kg=high,
        sticking_height_m=float(kind.z[stuck]),
        sticking_share=float(kind.u[stuck]),
        sticking_position=MISS_POSITIONS[int(notes[stuck].argmax())],
        gains=_gains(pull.gains, best),
        curve=curve,
        miss_marks=miss_marks(kind, notes, readings),
    )


def link_chances(share: FloatArray) -> tuple[LinkChance, ...]:
    """Chance of each strength to limit, with its words."""
    return tuple(
        LinkChance(link, float(p), chance_words(link, float(p))) for link, p in zip(STRENGTHS, share, strict=True)
    )


def _curve(kind: KindDemand, best: FloatArray, allowed: FloatArray) -> tuple[UtilisationCurve, int]:
    """Mean utilisation of each strength over heights, and the place where the bar most often sticks."""
    used = np.minimum(best[:, None, None] / allowed, 1.0)
    mean = used.mean(axis=0)
    middle = float(np.median(kind.z[allowed.min(axis=1).argmin(-1)]))
    stuck = int(np.abs(kind.z - middle).argmin())
    rows = [tuple(map(float, row)) for row in mean]
    return UtilisationCurve(tuple(map(float, kind.z)), tuple(map(float, kind.u)), *rows), stuck


def _gains(gains: FloatArray, best: float) -> tuple[LinkGain, ...]:
    """kg per 5 % of each strength: median over draws and 80 % range."""
    found = []
    for place, link in enumerate(STRENGTHS):
        kg = (gains[:, place] - 1.0) * best
        low, high = np.quantile(kg, (0.1, 0.9))
        found.append(LinkGain(link, float(np.median(kg)), float(low), float(high)))
    return tuple(found)


def miss_marks(kind: KindDemand, notes: FloatArray, readings: Sequence[MissReading]) -> tuple[MissMark, ...]:
    """Every miss of this style from the floor at the middle of its noted band."""
    marks = []
    for r in readings:
        position = position_of(r.set)
        if r.set.tags.style != kind.style or r.set.tags.start != "floor" or position not in MISS_POSITIONS:
            continue
        weight = notes[:, MISS_POSITIONS.index(position)] * np.gradient(kind.z)
        share = float((weight * kind.u).sum() / weight.sum())
        marks.append(MissMark(share, position, r.set.load_kg, r.set.day, r.set.key, r.counts))
    return tuple(marks)


def legs_over_back(problem: Problem, posterior: Posterior) -> tuple[float, float]:
    """Posterior mean of standardised ln(legs / back) and the share of its prior variance that the log explains."""
    step = np.zeros(len(STRENGTHS))
    step[STRENGTHS.index("legs")], step[STRENGTHS.index("back")] = 1.0, -1.0
    across = step @ problem.prior_root[0]  # of the standard normal unknowns; its length is the prior SD
    values = posterior.draws[0, :, :4] @ across / np.linalg.norm(across)
    weights = posterior.weights[0]
    mean = float(weights @ values)
    variance = float(weights @ (values - mean) ** 2)
    return mean, min(max(1.0 - variance, 0.0), 0.99)


def strength_ranges(problem: Problem, posterior: Posterior, chosen: npt.NDArray[np.int64]) -> tuple[StrengthRange, ...]:
    """Strengths against the untrained reference: median and 80 % range."""
    draws = posterior.draws[0, chosen, :4]
    strength = np.exp(problem.prior_mean[0] + draws @ problem.prior_root[0].T)
    low, middle, high = np.quantile(strength, (0.1, 0.5, 0.9), axis=0)
    return tuple(
        StrengthRange(link, float(middle[i]), float(low[i]), float(high[i])) for i, link in enumerate(STRENGTHS)
    )


def readings_by_style(
    found: Estimate, log: PreparedLog, readings: Sequence[MissReading], main: str, settings: Settings
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
