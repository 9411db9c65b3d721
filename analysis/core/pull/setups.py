"""Styles: the presets, what may be changed in them, and setups as arrays for the vectorised core."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np
import numpy.typing as npt

from analysis.core.body import constants as c
from analysis.core.pull.bar import BAR_PRESETS
from analysis.core.records.errors import ImpossibleStance, UnknownKey
from analysis.core.records.pulls import Setup, SetupInput

FloatArray = npt.NDArray[np.float64]

_PRESETS: dict[str, dict[str, float]] = {
    "conventional": {
        "stance_m": c.CONVENTIONAL_STANCE_M,
        "turnout_rad": c.CONVENTIONAL_TURNOUT_RAD,
        "hand_spacing_m": c.CONVENTIONAL_HANDS_M,
        "spinal_flexion_rad": c.FLAT_SPINE_RAD,
    },
    "sumo": {
        "stance_m": c.SUMO_STANCE_M,
        "turnout_rad": c.SUMO_TURNOUT_RAD,
        "hand_spacing_m": c.SUMO_HANDS_M,
        "spinal_flexion_rad": c.FLAT_SPINE_RAD,
    },
    "wide-sumo": {
        "stance_m": c.WIDE_STANCE_M,
        "turnout_rad": c.WIDE_TURNOUT_RAD,
        "hand_spacing_m": c.SUMO_HANDS_M,
        "spinal_flexion_rad": c.FLAT_SPINE_RAD,
    },
    "rounded": {
        "stance_m": c.CONVENTIONAL_STANCE_M,
        "turnout_rad": c.CONVENTIONAL_TURNOUT_RAD,
        "hand_spacing_m": c.CONVENTIONAL_HANDS_M,
        "spinal_flexion_rad": c.ROUNDED_SPINE_RAD,
    },
}
DEFAULT_SETUPS = tuple(SetupInput(preset=preset) for preset in _PRESETS)

# what a setting may be at all: m and rad; outside it is a typing error, not a technique
BOUNDS: dict[str, tuple[float, float]] = {
    "stance_m": (0.0, 2.0),
    "turnout_rad": (0.0, math.radians(85.0)),
    "hand_spacing_m": (0.0, 1.31),
    "spinal_flexion_rad": (0.0, math.radians(75.0)),
    "flexion_at_start_rad": (0.0, math.radians(75.0)),
    "sole_m": (0.0, 0.10),
    "start_height_m": (0.05, 1.20),
    "disc_diameter_m": (0.10, 0.60),
    "bar_diameter_m": (0.015, 0.060),
    "bar_span_m": (0.80, 2.00),
}


def filled_setup(asked: SetupInput) -> Setup:
    """Every setting of a style; UnknownKey for an unknown preset or bar, ImpossibleStance for a bad number."""
    if asked.preset not in _PRESETS:
        raise UnknownKey("style", f"{asked.preset!r} is none of {', '.join(_PRESETS)}")
    if asked.bar not in BAR_PRESETS:
        raise UnknownKey("bar", f"{asked.bar!r} is none of {', '.join(BAR_PRESETS)}")
    preset, bar = _PRESETS[asked.preset], BAR_PRESETS[asked.bar]
    disc = c.DISC_DIAMETER_M if asked.disc_diameter_m is None else asked.disc_diameter_m
    start = disc / 2.0 + asked.start_offset_m if asked.start_height_m is None else asked.start_height_m

    def chosen(key: str) -> float:
        given = getattr(asked, key)
        return preset[key] if given is None else float(given)

    setup = Setup(
        name=asked.name or asked.preset,
        preset=asked.preset,
        stance_m=chosen("stance_m"),
        turnout_rad=chosen("turnout_rad"),
        hand_spacing_m=chosen("hand_spacing_m"),
        spinal_flexion_rad=chosen("spinal_flexion_rad"),
        flexion_at_start_rad=(
            chosen("spinal_flexion_rad") if asked.flexion_at_start_rad is None else asked.flexion_at_start_rad
        ),
        sole_m=0.0 if asked.sole_m is None else asked.sole_m,
        start_height_m=start,
        disc_diameter_m=disc,
        bar=asked.bar,
        bar_bends=bar.bends or asked.bar_diameter_m is not None or asked.bar_span_m is not None,
        bar_diameter_m=bar.diameter_m if asked.bar_diameter_m is None else asked.bar_diameter_m,
        bar_span_m=bar.span_m if asked.bar_span_m is None else asked.bar_span_m,
    )
    _refuse_the_impossible(setup)
    return setup


def _refuse_the_impossible(setup: Setup) -> None:
    for key, (low, high) in BOUNDS.items():
        value = getattr(setup, key)
        if not (math.isfinite(value) and low <= value <= high):
            scale, unit = (180.0 / math.pi, "deg") if key.endswith("_rad") else (1.0, "m")
            reason = f"{value * scale:g} {unit} is not between {low * scale:.3g} and {high * scale:.3g} {unit}"
            raise ImpossibleStance(key, reason)


@dataclass(frozen=True, slots=True)
class Setups:
    """Setups as arrays of one shape (m, rad), ready to broadcast against bodies and heights."""

    stance: FloatArray
    turnout: FloatArray
    hand_spacing: FloatArray
    spinal_flexion: FloatArray
    flexion_at_start: FloatArray
    sole: FloatArray
    start_height: FloatArray
    bar_radius: FloatArray

    def with_heights_axis(self) -> Setups:
        """The same setups with a trailing axis of one for the heights of the pull."""
        return Setups(**{f.name: getattr(self, f.name)[..., None] for f in fields(self)})


def setup_arrays(setups: Sequence[Setup]) -> Setups:
    """Setups as arrays of shape (styles,)."""
    return Setups(
        stance=np.array([s.stance_m for s in setups]),
        turnout=np.array([s.turnout_rad for s in setups]),
        hand_spacing=np.array([s.hand_spacing_m for s in setups]),
        spinal_flexion=np.array([s.spinal_flexion_rad for s in setups]),
        flexion_at_start=np.array([s.flexion_at_start_rad for s in setups]),
        sole=np.array([s.sole_m for s in setups]),
        start_height=np.array([s.start_height_m for s in setups]),
        bar_radius=np.array([s.bar_diameter_m / 2.0 for s in setups]),
    )
