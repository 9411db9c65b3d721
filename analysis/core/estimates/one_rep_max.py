"""What one set says about the best single: published formulas, reps in reserve, and what is not used."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from math import exp, hypot, log, sqrt

import numpy as np
from numpy.typing import ArrayLike, NDArray

from analysis.core.records.estimates import SetEstimate
from analysis.core.records.lifts import SetRecord
from analysis.core.records.plain import UnknownKey
from analysis.core.settings import DEFAULTS, Settings

Array = NDArray[np.float64]
Z80 = 1.2815515655446004  # 80 % of a normal distribution lies within this many SD
NOTHING_LEFT = 0.5  # reps in reserve up to here: RPE 9.5 and 10 (Zourdos et al. 2016)
NEXT_LOAD = 1.05  # a single followed the same day by a miss at most this much heavier had nothing left


@dataclass(frozen=True, slots=True)
class Formula:
    """A published formula: best = of(load, reps to failure), and its source."""

    of: Callable[[Array, Array], Array]
    source: str


FORMULAS: dict[str, Formula] = {
    "epley": Formula(lambda w, r: w * (1.0 + r / 30.0), "Epley 1985, Boyd Epley Workout (from memory)"),
    "brzycki": Formula(lambda w, r: w * 36.0 / (37.0 - r), "Brzycki 1993, JOPERD 64(1):88-90 (from memory)"),
    "lombardi": Formula(lambda w, r: w * r**0.10, "Lombardi 1989, Beginning Weight Training, p. 201 (from memory)"),
    "mayhew": Formula(
        lambda w, r: 100.0 * w / (52.2 + 41.9 * np.exp(-0.055 * r)),
        "Mayhew et al. 1992, J Appl Sport Sci Res 6:200-206 (from memory)",
    ),
    "wathan": Formula(
        lambda w, r: 100.0 * w / (48.8 + 53.8 * np.exp(-0.075 * r)),
        "Wathan 1994, in Baechle (ed) Essentials of Strength Training and Conditioning (from memory)",
    ),
}
LIMITS_OF_FORMULAS = (
    "LeSuer et al. 1997 (67 untrained students): all the formulas they tried put the deadlift too low "
    "(from memory). Over 5 reps to failure every formula is rough."
)


def estimate(load_kg: ArrayLike, reps_to_failure: ArrayLike, formula: str = "epley-brzycki") -> Array:
    """Estimated best single, kg, from a load in kg and reps to failure (made plus in reserve, may be 1.5).

    "epley-brzycki" is the mean of the two, which follows the NSCA load chart within one point up to
    10 reps; "median" is the median of all five. Raises UnknownKey for another name.
    """
    w, r = np.asarray(load_kg, float), np.asarray(reps_to_failure, float)
    if formula == "epley-brzycki":
        return np.asarray((FORMULAS["epley"].of(w, r) + FORMULAS["brzycki"].of(w, r)) / 2.0)
    if formula == "median":
        return np.asarray(np.median([f.of(w, r) for f in FORMULAS.values()], axis=0))
    if formula not in FORMULAS:
        raise UnknownKey("formula", f"there is no formula called {formula!r}")
    return np.asarray(FORMULAS[formula].of(w, r))


def spread_of(reps_to_failure: float, settings: Settings = DEFAULTS) -> float:
    """Half-width of the 80 % range of an estimate, as a fraction, by reps to failure."""
    if reps_to_failure <= 3:
        return settings["best.spread_1_3"]
    if reps_to_failure <= 5:
        return settings["best.spread_4_5"]
    return settings["best.spread_6_8"]


def set_estimate(one: SetRecord, settings: Settings = DEFAULTS, *, nothing_left: bool = False) -> SetEstimate:
    """What one set says, kg, with an 80 % range; a set that is not used carries its reason.

    `nothing_left` marks a single that other rows of the day show to have been a true one.
    """
    return _at_load(one, _says(one, settings, nothing_left))


@dataclass(frozen=True, slots=True)
class _Says:
    """What a set says per kg of its load; the same for all sets of equal result, reps and effort."""

    kg: float
    down: float
    up: float
    sd_log: float
    reps_low: float
    reps_high: float
    is_single: bool
    used: bool
    reason: str


def _at_load(one: SetRecord, says: _Says) -> SetEstimate:
    kg = one.load_kg * says.kg
    return SetEstimate(
        one.key,
        one.day,
        kg,
        kg * says.down,
        kg * says.up,
        says.sd_log,
        says.reps_low,
        says.reps_high,
        says.is_single,
        says.used,
        says.reason,
    )


def _says(one: SetRecord, settings: Settings, nothing_left: bool) -> _Says:
    low, high = reserve_range(one, settings)
    reason = unused_reason(one, low, high, settings)
    if reason:
        return _Says(0.0, 0.0, 0.0, 0.0, one.reps_made + low, one.reps_made + high, False, False, reason)
    if one.reps_made == 1 and (nothing_left or _is_true_single(one)):
        sd = settings["best.day_sd"]
        return _Says(1.0, exp(-Z80 * sd), exp(Z80 * sd), sd, 1.0, 1.0, True, True, "a real single")
    return _estimated(one, low, high, settings)


def reserve_range(one: SetRecord, settings: Settings = DEFAULTS) -> tuple[float, float]:
    """Reps in reserve as a range; effort not noted is 0 up to the setting."""
    if one.rir_low is None and one.rir_high is None:
        return 0.0, settings["best.unnoted_rir"]
    ends = sorted(r for r in (one.rir_low, one.rir_high) if r is not None)
    return float(ends[0]), float(ends[-1])


def effort_noted(one: SetRecord) -> bool:
    """Whether RPE or reps in reserve were noted."""
    return one.rir_low is not None or one.rir_high is not None


def unused_reason(one: SetRecord, low: float, high: float, settings: Settings) -> str:
    """Why a set gives no estimate, in plain words, or ""."""
    if one.result != "made" or one.reps_made < 1:
        return "not a made lift: misses enter neither the bests nor the estimates"
    if one.load_kg <= 0:
        return "no load"
    mid = (low + high) / 2.0
    if effort_noted(one) and mid > settings["best.rir_most"]:
        return f"RPE under 7 ({mid:g} in reserve): too far from the limit to say anything"
    reps = one.reps_made + mid
    if reps > settings["best.reps_most"]:
        return f"{reps:g} reps to failure: over {settings['best.reps_most']:g} reps no formula is trusted"
    return ""


def _is_true_single(one: SetRecord) -> bool:
    """A single at RPE 9.5 or 10, or a test whose effort was not noted."""
    if not effort_noted(one):
        return one.is_test
    return (one.rir_high if one.rir_high is not None else one.rir_low or 0.0) <= NOTHING_LEFT


def _estimated(one: SetRecord, low: float, high: float, settings: Settings) -> _Says:
    """Middle of the reserve range, widened by that range, by the formula and by the day."""
    reps = (one.reps_made + low, one.reps_made + (low + high) / 2.0, one.reps_made + high)
    spread = spread_of(reps[1], settings)
    factor, sd, down, up = _factors(reps, settings.choice("best.formula"), spread, settings["best.day_sd"])
    reason = "" if effort_noted(one) else f"effort not noted: {low:g} to {high:g} in reserve assumed"
    return _Says(factor, down, up, sd, reps[0], reps[2], False, True, reason)


@lru_cache(maxsize=4096)
def _factors(
    reps: tuple[float, float, float], formula: str, spread: float, day_sd: float
) -> tuple[float, float, float, float]:
    """Estimate per kg of load, its log SD, and the factors to its 80 % range; the same for every load."""
    least, middle, most = (float(v) for v in estimate(1.0, reps, formula))
    sd = hypot(spread / Z80, log(most / least) / sqrt(12.0), day_sd)
    return middle, sd, exp(-Z80 * sd), exp(Z80 * sd)


def unused(found: SetEstimate, reason: str) -> SetEstimate:
    """The same set, not used, for a reason that only the other sets show."""
    return SetEstimate(found.key, found.day, 0.0, 0.0, 0.0, 0.0, found.reps_low, found.reps_high, False, False, reason)


def singles_with_nothing_left(sets: Sequence[SetRecord]) -> frozenset[str]:
    """Keys of made singles followed, the same day and in the same kind, by a strength miss a little heavier."""
    missed: dict[date, list[SetRecord]] = {}
    for one in sets:
        if one.result == "missed":
            missed.setdefault(one.day, []).append(one)
    return frozenset(
        one.key
        for one in sets
        if one.day in missed
        and one.reps_made == 1
        and one.result == "made"
        and any(one.load_kg < m.load_kg <= one.load_kg * NEXT_LOAD and m.tags == one.tags for m in missed[one.day])
    )


def set_estimates(sets: Sequence[SetRecord], settings: Settings = DEFAULTS) -> tuple[SetEstimate, ...]:
    """One estimate, used or not, for every set, in the order given."""
    spent = singles_with_nothing_left(sets)
    known: dict[tuple[object, ...], _Says] = {}
    found = []
    for one in sets:
        nothing_left = one.key in spent
        same = (one.reps_made, one.rir_low, one.rir_high, one.result, one.is_test, one.load_kg > 0, nothing_left)
        says = known.get(same)
        if says is None:
            says = known[same] = _says(one, settings, nothing_left)
        found.append(_at_load(one, says))
    return tuple(found)
