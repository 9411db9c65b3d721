"""What a flexible bar gives over a stiff one in each style: statics of this body at the logged best, with its doubt.

The bar lets the hands rise before the whole load is in them, so it helps a lift that is hardest at the floor and does
nothing for one that sticks higher. No measured gain is published (none was found); the trade's bands stand beside.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from analysis.core.body.anthropometry import drawn_bodies
from analysis.core.body.body import Body
from analysis.core.estimates.one_rep_max import Z80
from analysis.core.pull.bar import BAR_PRESETS, rise_of_hands
from analysis.core.pull.setups import drawn_setups, filled_setup, setup_arrays, usual_stances
from analysis.core.records.bodies import BodyInput
from analysis.core.records.demands import STRENGTH_OF_LINK
from analysis.core.records.estimates import Comparison
from analysis.core.records.postures import OwnPosture
from analysis.core.records.pulls import SetupInput
from analysis.core.records.training import BarGain, HandCurve
from analysis.core.records.weak_link import StrengthRange
from analysis.core.strength.bending import best_on_bar, finely
from analysis.core.strength.demand_table import strength_prior
from analysis.core.strength.limits import allowed_by_strength
from analysis.core.strength.pull_demand import fully_possible, pull_demands

FloatArray = npt.NDArray[np.float64]
DRAWS = 200
HABIT_DRAWS = 40  # of body and habits, in turn over the strengths drawn
FLOOR_SHARE = 0.10  # sticking below this share of the pull is sticking at the floor
ABOUT_NOTHING = 0.01
PRACTICE = ((180.0, (0.0, 0.01)), (250.0, (0.01, 0.03)), (float("inf"), (0.02, 0.05)))
PRACTICE_WORDS = "up to 180 kg 0-1 %, to 250 kg 1-3 %, above 2-5 %"


@dataclass(frozen=True, slots=True)
class LoadAsked:
    """The best on a stiff bar at which a style is reckoned: kg, log SD, and where it comes from."""

    style: str
    load_kg: float
    sd_log: float
    words: str


@dataclass(frozen=True, slots=True)
class Lifters:
    """Pulls of one style: what is allowed over heights is worked out from these.

    a, b (links, push, heights) and capacity (links, heights) of one body, or with a leading axis of n lifters.
    """

    a: FloatArray
    b: FloatArray
    capacity: FloatArray
    z: FloatArray
    u: FloatArray
    hands_m: float

    def allowed(self, multipliers: FloatArray) -> FloatArray:
        """Load the weakest of hips, legs and back allows, kg, (n, heights)."""
        return np.asarray(allowed_by_strength(self.a, self.b, self.capacity, multipliers).min(axis=-2))


def practice_band(load_kg: float) -> tuple[float, float]:
    """The trade's gain of a flexible bar at a load, shares; common practice, no source."""
    return next(band for limit, band in PRACTICE if load_kg < limit)


def strength_draws(strengths: Sequence[StrengthRange], draws: int = DRAWS, seed: int = 0) -> FloatArray:
    """Multipliers of hips, legs and back (draws, 3): the log's ranges where there are any, else usual lifters'."""
    prior = strength_prior()
    mean, sd = prior.log_mean[:3].copy(), prior.log_sd[:3].copy()
    for place, one in enumerate(strengths[:3]):
        mean[place] = np.log(one.middle)
        sd[place] = max((np.log(one.high) - np.log(one.low)) / (2.0 * Z80), 0.01)
    root = np.linalg.cholesky(prior.correlation[:3, :3])
    normal = np.random.default_rng(seed).standard_normal((draws, 3))
    return np.asarray(np.exp(mean + (normal @ root.T) * sd))


def bar_gains(
    body: BodyInput,
    asked: Sequence[LoadAsked],
    strengths: Sequence[StrengthRange] = (),
    logged: Mapping[str, Comparison] | None = None,
    own: Mapping[str, OwnPosture] | None = None,
) -> tuple[BarGain, ...]:
    """The gain in every style this body can take; CoreError for measurements that are no body's.

    Ranges are over strengths, and over what is not known of body and habits; `own` are the lifter's own postures by
    style.
    """
    bodies = drawn_bodies(body, HABIT_DRAWS)
    drawn = strength_draws(strengths)
    lifters = pulls_of(bodies, [one.style for one in asked], body.age, own, len(drawn))
    return tuple(
        _gain(one, lifters[one.style], drawn, (logged or {}).get(one.style)) for one in asked if one.style in lifters
    )


def pulls_of(
    bodies: Body,
    styles: Sequence[str],
    age: float | None,
    own: Mapping[str, OwnPosture] | None = None,
    lifters: int = 0,
) -> dict[str, Lifters]:
    """Pulls from the floor in every style the first body can take: its own, or `lifters` of drawn bodies and habits.

    Drawn pulls take turns over the draws that are possible; heights are the first body's (others lock out a few
    millimetres away, which does not move the first centimetres where a bar bends).
    """
    stances = usual_stances(bodies)
    setups = [filled_setup(SetupInput(preset=style, own=(own or {}).get(style)), stances) for style in styles]
    arrays = drawn_setups(setups, bodies) if lifters else setup_arrays(setups, bodies)
    found = pull_demands(bodies, arrays, age)
    possible = fully_possible(found)

    def of(array: FloatArray, i: int) -> FloatArray:
        able = np.flatnonzero(possible[:, i])
        return np.asarray(array[able[np.arange(lifters) % len(able)], i] if lifters else array[0, i])

    return {
        style: Lifters(
            of(found.a, i), of(found.b, i), of(found.capacity, i), found.z[0, i], found.u[0, i],
            setups[i].hand_spacing_m,
        )
        for i, style in enumerate(styles) if possible[0, i]
    }  # fmt: skip


def scaled_to(lifters: Lifters, multipliers: FloatArray, load_kg: FloatArray) -> FloatArray:
    """The same strengths, all raised or lowered together so that the best on the stiff bar is `load_kg` (n,).

    Exact, not searched: a link holds w kg at a height when its multiplier is (a w + b) / capacity or more, so the
    scale is the most that any height asks for, at the push that asks least of the worst link there.
    """
    bar, above = BAR_PRESETS["stiff"], lifters.z - lifters.z[0]
    rise = np.array([rise_of_hands(float(w), lifters.hands_m, bar.diameter_m, bar.span_m) for w in load_kg])[:, None]
    whole, fine = finely(
        _scale_needed(lifters, multipliers, np.repeat(load_kg[:, None], len(above), axis=1)), lifters.z
    )
    borne = np.where(fine - fine[0] >= rise, whole, -np.inf).max(axis=-1)
    carried = load_kg[:, None] * np.clip(above / rise, 0.0, 1.0)
    rising = np.where(above < rise, _scale_needed(lifters, multipliers, carried), -np.inf).max(axis=-1)
    return np.asarray(multipliers * np.maximum(borne, rising)[:, None])


def _scale_needed(lifters: Lifters, multipliers: FloatArray, load_kg: FloatArray) -> FloatArray:
    """Common factor on the multipliers (n, 3) that lets every link hold `load_kg` (n, heights), (n, heights)."""
    moment = lifters.a * load_kg[:, None, None, :] + lifters.b
    strength = (multipliers[:, list(STRENGTH_OF_LINK), None] * lifters.capacity)[:, :, None, :]
    return np.asarray((moment / strength).max(axis=1).min(axis=1))


def gains_at(lifters: Lifters, multipliers: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Best on the stiff bar, kg, gain of the flexible one, kg, and where the stiff pull sticks (share), each (n,)."""
    allowed = lifters.allowed(multipliers)
    stiff, flexible = (best_on_bar(allowed, lifters.z, lifters.hands_m, BAR_PRESETS[b]) for b in ("stiff", "flexible"))
    return stiff, flexible - stiff, lifters.u[allowed.argmin(axis=-1)]


def _gain(one: LoadAsked, lifters: Lifters, drawn: FloatArray, logged: Comparison | None) -> BarGain:
    noise = np.random.default_rng(1).standard_normal(len(drawn))
    loads = one.load_kg * np.exp(one.sd_log * noise)
    strengths = scaled_to(lifters, drawn, loads)
    _, gain, stick = gains_at(lifters, strengths)
    low, middle, high = (float(x) for x in np.quantile(gain, (0.1, 0.5, 0.9)))
    return BarGain(
        style=one.style,
        load_kg=one.load_kg,
        load_from=one.words,
        gain_kg=middle,
        low_kg=low,
        high_kg=high,
        floor_chance=float(np.mean(stick < FLOOR_SHARE)),
        practice=practice_band(one.load_kg),
        curves=tuple(_hand_curve(bar, one.load_kg, lifters) for bar in ("stiff", "flexible")),
        allowed=_allowed_curve(lifters, strengths, one.load_kg),
        logged=logged,
    )


def _hand_curve(bar: str, load_kg: float, lifters: Lifters) -> HandCurve:
    """From nothing in the hands at the start to the whole load over the rise, then straight up to lockout."""
    preset = BAR_PRESETS[bar]
    rise = rise_of_hands(load_kg, lifters.hands_m, preset.diameter_m, preset.span_m)
    start, top = float(lifters.z[0]), float(lifters.z[-1])
    return HandCurve(bar, (0.0, load_kg, load_kg), (start, start + rise, top))


def _allowed_curve(lifters: Lifters, strengths: FloatArray, load_kg: float) -> HandCurve:
    middle = np.median(lifters.allowed(strengths), axis=0)
    keep = middle <= 1.8 * load_kg
    return HandCurve("allowed", tuple(map(float, middle[keep])), tuple(map(float, lifters.z[keep])))


def rise_curves(loads_kg: Sequence[float]) -> tuple[tuple[str, str, tuple[float, ...], tuple[float, ...]], ...]:
    """Rise of the hands (m) before the discs leave on a stiff and a flexible bar, at the hands of two styles."""
    found = []
    for bar in ("stiff", "flexible"):
        for style in ("conventional", "sumo"):
            preset, hands = BAR_PRESETS[bar], filled_setup(SetupInput(preset=style)).hand_spacing_m
            rises = tuple(rise_of_hands(kg, hands, preset.diameter_m, preset.span_m) for kg in loads_kg)
            found.append((bar, style, tuple(loads_kg), rises))
    return tuple(found)
