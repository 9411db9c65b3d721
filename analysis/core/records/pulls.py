"""Setups into the mechanics and pulls out of it: frozen, SI, radians; keys that end in _deg are degrees."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from analysis.core.records.bodies import FilledBody
from analysis.core.records.plain import CoreError
from analysis.core.records.postures import Known, OwnPosture

FloatArray = npt.NDArray[np.float64]

QUANTITY_KEYS = (
    "z_m",
    "u",
    "knee_flexion_deg",
    "hip_flexion_deg",
    "trunk_angle_deg",
    "shank_lean_deg",
    "hip_bar_distance_m",
    "hip_moment_nm",
    "knee_moment_nm",
    "adductor_moment_nm",
    "trunk_moment_nm",
    "l4l5_moment_nm",
)
EXTRA_KEYS = (
    "ankle_moment_nm",
    "knee_demand_nm",
    "carried_load_kg",
    "thigh_angle_deg",
    "spinal_flexion_deg",
    "hip_angle_deg",  # side view, hip-to-shoulder line against the thigh, as a photograph shows it
    "hip_angle_3d_deg",  # the same with the thigh in space
    "arm_angle_deg",
)
JOINTS = ("heel", "toe", "ankle", "knee", "hip", "mid_spine", "shoulder", "hand", "head")


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value and the central 80 % of draws of body and habits around it; low <= value <= high."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class SetupInput:
    """A style as asked for: a preset ("conventional", "sumo", "wide-sumo", "rounded") and what departs from it.

    Lengths in m, angles in rad, None = the preset's. `start_height_m` is the bar centre above the feet's floor;
    left out it is half the disc diameter plus `start_offset_m` (block +, deficit -). `bar` "unknown" counts no
    bending; "stiff", "training" and "flexible" bend; diameter and span override the preset's. `own` is the lifter's
    own posture in this style: it stands in for people's habits. A habit (see records.postures) given here is exact.
    """

    preset: str = "conventional"
    name: str = ""
    stance_m: float | None = None
    turnout_rad: float | None = None
    arm_ahead_rad: float | None = None
    bar_ahead_m: float | None = None
    shin_gap_m: float | None = None
    spinal_flexion_rad: float | None = None
    girdle_m: float | None = None
    drift_m: float | None = None
    lead_rad: float | None = None
    arms_at_knee_rad: float | None = None
    own: OwnPosture | None = None
    hand_spacing_m: float | None = None
    flexion_at_start_rad: float | None = None
    sole_m: float | None = None
    start_height_m: float | None = None
    start_offset_m: float = 0.0
    disc_diameter_m: float | None = None
    bar: str = "unknown"
    bar_diameter_m: float | None = None
    bar_span_m: float | None = None


@dataclass(frozen=True, slots=True)
class Setup:
    """A style with every setting filled: m and rad; `bar_diameter_m` is the shaft's, `bar_bends` if it counts.

    `covariance` (10 x 10) is of the ten habits, 0 where a habit is exact; `stance_by_body` says that the stance is
    people's for a body of this size; `known` says what the habits rest on.
    """

    name: str
    preset: str
    stance_m: float
    turnout_rad: float
    arm_ahead_rad: float
    bar_ahead_m: float
    shin_gap_m: float
    spinal_flexion_rad: float
    girdle_m: float
    drift_m: float
    lead_rad: float
    arms_at_knee_rad: float
    hand_spacing_m: float
    flexion_at_start_rad: float
    sole_m: float
    start_height_m: float
    disc_diameter_m: float
    bar: str
    bar_bends: bool
    bar_diameter_m: float
    bar_span_m: float
    stance_by_body: bool
    covariance: tuple[tuple[float, ...], ...]
    known: Known


@dataclass(frozen=True, slots=True)
class StyleReport:
    """One athlete in one setup at one load.

    `lift_off`, `knee` (bar level with the knee; None when it starts above) and `lockout` map every key of
    QUANTITY_KEYS and EXTRA_KEYS to an Estimate. `pull` maps the same keys to values over the heights of the pull,
    `joints` each of JOINTS to (heights, 3) coordinates x forward, y to the side, z up (m) of the near side.
    `draws` maps the same keys at lift-off, "lockout_height_m" and "range_of_motion_m" to their values over the draws of
    body and habits, the middle first: the same draws in every style, so that differences between styles can be paired.
    When the setup is impossible `error` says why and the rest is empty.
    """

    name: str
    setup: Setup | None  # None when a setting itself cannot be
    error: CoreError | None = None
    lift_off: Mapping[str, Estimate] = field(default_factory=dict)
    knee: Mapping[str, Estimate] | None = None
    lockout: Mapping[str, Estimate] = field(default_factory=dict)
    pull: Mapping[str, FloatArray] = field(default_factory=dict)
    joints: Mapping[str, FloatArray] = field(default_factory=dict)
    draws: Mapping[str, FloatArray] = field(default_factory=dict)
    knee_index: int = 0  # of the pull's heights, the one nearest to the bar at the knee
    lockout_height_m: Estimate | None = None
    range_of_motion_m: Estimate | None = None
    bar_rise_m: float = 0.0  # of the hands before the discs leave the floor
    draws_possible: float = 1.0  # share of draws of body and habits that can take this setup
    warnings: tuple[str, ...] = ()

    @property
    def known(self) -> Known:
        """What is known of how the lifter stands in this style."""
        return self.setup.known if self.setup else Known.HABITS


@dataclass(frozen=True, slots=True)
class GripCheck:
    """Measured standing grip height beside the conventional lockout the model gives (m); same floor and shoes."""

    measured_m: float
    lockout_m: float
    difference_m: float  # lockout less measured
    agrees: bool


@dataclass(frozen=True, slots=True)
class LeverageReport:
    """One athlete's body and every asked style beside one another; heights are of the bar centre above the feet."""

    body: FilledBody
    load_kg: float
    draws: int
    push: float
    styles: tuple[StyleReport, ...]
    grip_check: GripCheck | None = None
    warnings: tuple[str, ...] = ()

    def style(self, name: str) -> StyleReport:
        """The style called `name`; KeyError when there is none."""
        for found in self.styles:
            if found.name == name:
                return found
        raise KeyError(name)


@dataclass(frozen=True, slots=True)
class SweepReport:
    """Stances (m) from narrow to the widest reachable, and at each the Estimate of every quantity of interest.

    `values` maps "range_of_motion_m", "lockout_height_m" and every key of QUANTITY_KEYS at lift-off to a tuple as
    long as `stances_m`; `widest_m` is the widest stance that this body reaches in this setup.
    """

    setup: Setup
    stances_m: tuple[float, ...]
    widest_m: float
    values: Mapping[str, tuple[Estimate, ...]]
    warnings: tuple[str, ...] = ()
