"""Styles: what may be changed in them, the habits they rest on, and setups as arrays for the vectorised core.

Lengths in m, angles in rad; frame as in posture.py; the ten habits with sign and unit in records.postures.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, fields, replace

import numpy as np
import numpy.typing as npt

from analysis.core.body import constants as c
from analysis.core.body.body import Body
from analysis.core.pull.bar import BAR_PRESETS
from analysis.core.pull.habits import (
    HABIT_BOUNDS,
    HABIT_PRIORS,
    HIGH,
    LOW,
    MEAN_STANCES,
    drawn_habits,
    prior_covariance,
    usual_stance,
)
from analysis.core.records.plain import ImpossibleStance, UnknownKey
from analysis.core.records.postures import HABITS, Known
from analysis.core.records.pulls import Setup, SetupInput

FloatArray = npt.NDArray[np.float64]

DEFAULT_SETUPS = tuple(SetupInput(preset=preset) for preset in HABIT_PRIORS)

# what a setting may be at all: m and rad; outside it is a typing error, not a technique
BOUNDS: dict[str, tuple[float, float]] = {
    **HABIT_BOUNDS,
    "hand_spacing_m": (0.0, 1.31),
    "flexion_at_start_rad": (0.0, math.radians(75.0)),
    "sole_m": (0.0, 0.10),
    "start_height_m": (0.05, 1.20),
    "disc_diameter_m": (0.10, 0.60),
    "bar_diameter_m": (0.015, 0.060),
    "bar_span_m": (0.80, 2.00),
}


def filled_setup(asked: SetupInput, stances: Mapping[str, float] | None = None) -> Setup:
    """Every setting of a style; UnknownKey for an unknown preset or bar, ImpossibleStance for a bad number.

    `stances` (m, by style, see usual_stances) are people's for this body, left out those of an average man: they stand
    in where no stance is asked for or known. A setting asked for in so many words is exact; the lifter's own posture,
    then people's habits, give the rest with a spread.
    """
    if asked.preset not in HABIT_PRIORS:
        raise UnknownKey("style", f"{asked.preset!r} is none of {', '.join(HABIT_PRIORS)}")
    if asked.bar not in BAR_PRESETS:
        raise UnknownKey("bar", f"{asked.bar!r} is none of {', '.join(BAR_PRESETS)}")
    bar = BAR_PRESETS[asked.bar]
    disc = c.DISC_DIAMETER_M if asked.disc_diameter_m is None else asked.disc_diameter_m
    start = disc / 2.0 + asked.start_offset_m if asked.start_height_m is None else asked.start_height_m
    habits, covariance = _habits_of(asked, stances or MEAN_STANCES)
    bend = habits["spinal_flexion_rad"]
    own_stance = asked.stance_m is not None or asked.own is not None
    hands = asked.hand_spacing_m
    setup = Setup(
        name=asked.name or asked.preset,
        preset=asked.preset,
        **habits,
        hand_spacing_m=HABIT_PRIORS[asked.preset].hand_spacing_m if hands is None else float(hands),
        flexion_at_start_rad=bend if asked.flexion_at_start_rad is None else asked.flexion_at_start_rad,
        sole_m=0.0 if asked.sole_m is None else asked.sole_m,
        start_height_m=start,
        disc_diameter_m=disc,
        bar=asked.bar,
        bar_bends=bar.bends or asked.bar_diameter_m is not None or asked.bar_span_m is not None,
        bar_diameter_m=bar.diameter_m if asked.bar_diameter_m is None else asked.bar_diameter_m,
        bar_span_m=bar.span_m if asked.bar_span_m is None else asked.bar_span_m,
        stance_by_body=not own_stance and HABIT_PRIORS[asked.preset].stance_of_leg > 0.0,
        covariance=tuple(map(tuple, covariance.tolist())),
        known=asked.own.known if asked.own else Known.HABITS,
    )
    _refuse_the_impossible(setup)
    return setup


def usual_stances(body: Body) -> dict[str, float]:
    """The middle of people's stances (m, ankle to ankle) by style for the first of the bodies."""
    one = body.rows(slice(0, 1))
    return {style: float(usual_stance(style, one)[0]) for style in HABIT_PRIORS}


def exact_where(usual: SetupInput, asked: SetupInput, stances: Mapping[str, float]) -> SetupInput:
    """The usual setup with every habit that `asked` fixes fixed at its own middle, so that the two can be paired.

    Without it a change of stance would be lost in what is not known of the usual stance.
    """
    filled = filled_setup(usual, stances)
    fixed = {key: getattr(filled, key) for key in HABITS if getattr(asked, key) is not None}
    return replace(usual, **fixed)


def _habits_of(asked: SetupInput, stances: Mapping[str, float]) -> tuple[dict[str, float], FloatArray]:
    """The ten habits and their covariance: people's, the lifter's own in their place, what is asked for exact."""
    prior, covariance = HABIT_PRIORS[asked.preset], prior_covariance(asked.preset)
    values = np.array(prior.mean)
    values[0] = stances[asked.preset]
    if asked.own is not None:
        if asked.own.style not in _OWN_OF[asked.preset]:
            raise UnknownKey("style", f"a posture of {asked.own.style!r} does not tell how {asked.preset!r} is pulled")
        values, covariance = np.array(asked.own.values), np.array(asked.own.covariance)
        if asked.own.style != asked.preset:  # the same pull with another back
            at = HABITS.index("spinal_flexion_rad")
            values[at] = prior.mean[at]
            covariance[at, :] = covariance[:, at] = 0.0
            covariance[at, at] = prior.sd[at] ** 2
    for at, key in enumerate(HABITS):
        given = getattr(asked, key)
        if given is not None:
            values[at] = float(given)
            covariance[at, :] = covariance[:, at] = 0.0
    return dict(zip(HABITS, map(float, values), strict=True)), covariance


# whose posture may stand for a style: a rounded pull is the conventional one with another back
_OWN_OF = {style: (style, "conventional") if style == "rounded" else (style,) for style in HABIT_PRIORS}


def _refuse_the_impossible(setup: Setup) -> None:
    for key, (low, high) in BOUNDS.items():
        value = getattr(setup, key)
        if not (math.isfinite(value) and low <= value <= high):
            scale, unit = (180.0 / math.pi, "deg") if key.endswith("_rad") else (1.0, "m")
            reason = f"{value * scale:g} {unit} is not between {low * scale:.3g} and {high * scale:.3g} {unit}"
            raise ImpossibleStance(key, reason)


@dataclass(frozen=True, slots=True)
class Setups:
    """Setups as arrays (m, rad), every field (styles,) or (athletes, styles), to broadcast against heights."""

    stance: FloatArray
    turnout: FloatArray
    arm_ahead: FloatArray
    bar_ahead: FloatArray
    shin_gap: FloatArray
    spinal_flexion: FloatArray
    girdle: FloatArray
    drift: FloatArray
    lead: FloatArray
    arms_at_knee: FloatArray
    hand_spacing: FloatArray
    flexion_at_start: FloatArray
    sole: FloatArray
    start_height: FloatArray
    bar_radius: FloatArray

    def with_heights_axis(self) -> Setups:
        """The same setups with a trailing axis of one for the heights of the pull."""
        return self.mapped(lambda array: array[..., None])

    def mapped(self, change: Callable[[FloatArray], FloatArray]) -> Setups:
        """The same setups with `change` applied to every array."""
        return Setups(**{f.name: change(getattr(self, f.name)) for f in fields(self)})

    def of_rows(self, rows: slice) -> Setups:
        """The setups of some athletes; those that are the same for every athlete stay so."""
        return self.mapped(lambda array: array[rows] if array.ndim > 1 else array)


def setup_arrays(setups: Sequence[Setup], bodies: Body | None = None) -> Setups:
    """Setups as arrays of shape (styles,); with `bodies` stances that go by the body are (athletes, styles)."""
    found = _arrays(setups, _habit_rows(setups))
    if bodies is None or not any(s.stance_by_body for s in setups):
        return found
    by_body = np.stack([usual_stance(s.preset, bodies) for s in setups], axis=-1)
    return replace(found, stance=np.where([s.stance_by_body for s in setups], by_body, found.stance))


def drawn_setups(setups: Sequence[Setup], bodies: Body, seed: int = 0) -> Setups:
    """Setups of every drawn body, (bodies, styles): the first as filled, the others with drawn habits.

    `bodies` as from drawn_bodies: the filled body first. What is exact or measured in a setup departs as little as it
    is known; a stance that goes by the body goes by each drawn one.
    """
    middle = _habit_rows(setups)
    away = drawn_habits([s.preset for s in setups], [np.array(s.covariance) for s in setups], len(bodies) - 1, seed)
    values = middle + away
    for at, setup in enumerate(setups):
        if setup.stance_by_body:
            by_body = usual_stance(setup.preset, bodies)
            values[:, at, 0] += by_body - by_body[0]
    return _arrays(setups, np.clip(values, LOW, HIGH))


def _habit_rows(setups: Sequence[Setup]) -> FloatArray:
    return np.array([[getattr(s, key) for key in HABITS] for s in setups]).reshape(-1, len(HABITS))


def _arrays(setups: Sequence[Setup], habits: FloatArray) -> Setups:
    """Arrays of setups with their habits as (..., styles, 10)."""
    bend = habits[..., HABITS.index("spinal_flexion_rad")]
    start, asked = (
        np.array([getattr(s, key) for s in setups]) for key in ("flexion_at_start_rad", "spinal_flexion_rad")
    )
    return Setups(
        **{key.rsplit("_", 1)[0]: habits[..., at] for at, key in enumerate(HABITS)},
        hand_spacing=np.array([s.hand_spacing_m for s in setups]),
        flexion_at_start=np.where(start == asked, bend, start),
        sole=np.array([s.sole_m for s in setups]),
        start_height=np.array([s.start_height_m for s in setups]),
        bar_radius=np.array([s.bar_diameter_m / 2.0 for s in setups]),
    )


def setups_of_habits(habits: FloatArray, setup: Setup) -> Setups:
    """Setups (..., n) with habits (..., n, 10) in the place of those of one setup."""
    return _arrays([setup] * habits.shape[-2], habits)
