"""The whole pull: postures over bar heights for athletes x styles x heights at once.

Frame and symbols as in posture.py; the path itself stands in path.py.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from analysis.core.body import constants as c
from analysis.core.body.body import Body, by_sex, head_place
from analysis.core.pull.path import legs_of_pull
from analysis.core.pull.posture import Legs, Rig, Upper, hip_angle, knee_of_span, rig, upper_body
from analysis.core.pull.setups import Setups
from analysis.core.records.plain import ImpossibleStance

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Postures:
    """Postures with the bar at heights z: every field (athletes, styles, heights), m and rad, NaN = impossible.

    Knee flexion 0 straight; hip flexion between the lower trunk link and the thigh's sagittal projection, 0
    straight; trunk = hip-to-shoulder line above the horizontal; shank lean in the sagittal projection, positive
    forward. hand_x is the bar; the near side has positive y.
    """

    z: FloatArray
    u: FloatArray
    knee_flexion: FloatArray
    hip_flexion: FloatArray
    trunk_angle: FloatArray
    shank_lean: FloatArray
    spinal_flexion: FloatArray
    lower_trunk: FloatArray  # angle of the lower trunk link above the horizontal
    upper_trunk: FloatArray
    arm_angle: FloatArray  # shoulder ahead of the bar positive
    arm_reach: FloatArray
    bar_x: FloatArray
    mid_foot_x: FloatArray
    ankle_y: FloatArray
    ankle_z: FloatArray
    knee_x: FloatArray
    knee_y: FloatArray
    knee_z: FloatArray
    hip_x: FloatArray
    hip_y: FloatArray
    hip_z: FloatArray
    mid_x: FloatArray
    mid_z: FloatArray
    shoulder_x: FloatArray
    shoulder_z: FloatArray

    @property
    def hip_bar_distance(self) -> FloatArray:
        """Horizontal distance (m) from hip to bar, bar in front positive."""
        return self.bar_x - self.hip_x

    @property
    def hip_angle(self) -> FloatArray:
        """H (rad, 0 straight): hip-to-shoulder line against the thigh in the side view, as a photograph shows it."""
        cx, cz = self.shoulder_x - self.hip_x, self.shoulder_z - self.hip_z
        tx, tz = self.hip_x - self.knee_x, self.hip_z - self.knee_z
        return np.asarray(np.arctan2(cx * tz - cz * tx, cx * tx + cz * tz))

    @property
    def hip_angle_3d(self) -> FloatArray:
        """The same (rad) between the thigh in space and the hip-to-shoulder line."""
        cx, cz = self.shoulder_x - self.hip_x, self.shoulder_z - self.hip_z
        tx, ty, tz = self.hip_x - self.knee_x, self.hip_y - self.knee_y, self.hip_z - self.knee_z
        length = np.sqrt((cx**2 + cz**2) * (tx**2 + ty**2 + tz**2))
        return np.asarray(np.arccos(np.clip((cx * tx + cz * tz) / length, -1.0, 1.0)))

    @property
    def thigh_angle(self) -> FloatArray:
        """Thigh above the horizontal (rad) in the side view."""
        return np.asarray(np.arctan2(self.hip_z - self.knee_z, self.knee_x - self.hip_x))

    @property
    def thigh_angle_3d(self) -> FloatArray:
        """Thigh above the horizontal (rad) in space."""
        across = np.hypot(self.knee_x - self.hip_x, self.knee_y - self.hip_y)
        return np.asarray(np.arctan2(self.hip_z - self.knee_z, across))


def _angled(r: Rig, z: FloatArray, upper: Upper, legs: Legs) -> Postures:
    chord_angle = np.arctan2(upper.shoulder_z - legs.hip_z, upper.shoulder_x - legs.hip_x)
    lower_trunk = chord_angle + upper.tilt
    part = c.SPINAL_JOINT * r.body.trunk
    full = np.broadcast_to
    return Postures(
        z=z,
        u=upper.u,
        knee_flexion=knee_of_span(r.body, legs.span),
        hip_flexion=hip_angle(upper, legs) - upper.tilt,
        trunk_angle=chord_angle,
        shank_lean=np.arctan2(legs.knee_x, legs.knee_z - r.ankle_z),
        spinal_flexion=upper.bend,
        lower_trunk=lower_trunk,
        upper_trunk=lower_trunk - upper.bend,
        arm_angle=np.arcsin((upper.shoulder_x - upper.bar_x) / upper.reach),
        arm_reach=upper.reach,
        bar_x=upper.bar_x,
        mid_foot_x=full(r.mid_foot_x, z.shape),
        ankle_y=full(r.ankle_y, z.shape),
        ankle_z=full(r.ankle_z, z.shape),
        knee_x=legs.knee_x,
        knee_y=legs.knee_y,
        knee_z=legs.knee_z,
        hip_x=legs.hip_x,
        hip_y=full(r.hip_y, z.shape),
        hip_z=legs.hip_z,
        mid_x=legs.hip_x + part * np.cos(lower_trunk),
        mid_z=legs.hip_z + part * np.sin(lower_trunk),
        shoulder_x=upper.shoulder_x,
        shoulder_z=upper.shoulder_z,
    )


@np.errstate(invalid="ignore", divide="ignore")
def postures_at(r: Rig, z: FloatArray) -> Postures:
    """Postures at bar heights `z` (athletes, styles, heights), in any order; each depends on its height alone."""
    upper = upper_body(r, z)
    return _angled(r, z, upper, legs_of_pull(r, upper, z))


def rig_of(body: Body, setups: Setups) -> Rig:
    """The rig of bodies (athletes,) in setups (styles,), every field broadcastable to (athletes, styles, 1)."""
    return rig(body.mapped(lambda array: array[:, None, None]), setups.with_heights_axis())


def pull_postures(body: Body, setups: Setups, heights: int = 61) -> tuple[Rig, Postures]:
    """Postures of every athlete in every style at `heights` even bar heights from the start to lockout."""
    r = rig_of(body, setups)
    steps = np.linspace(0.0, 1.0, heights)
    start = r.setups.start_height
    z = start + (r.lockout_z - start) * steps
    return r, postures_at(r, z)


PROBLEMS = (
    "",
    "the stance is wider than the legs reach",
    "the hands are wider apart than the arms reach",
    "the bar starts above the lockout of this body",
    "the bar starts so low that the shin cannot clear it",
    "the thigh is too short to join this stance and turnout to the hip with the knee over the foot",
    "trunk and legs do not meet with the bar at this height",
)


def problem_of(r: Rig, p: Postures) -> npt.NDArray[np.int64]:
    """Index into PROBLEMS of the first thing that makes each (athlete, style) impossible, 0 = possible."""
    body, setups = r.body, r.setups
    shape = p.z.shape[:2]

    def anywhere(bad: npt.NDArray[np.bool_]) -> npt.NDArray[np.bool_]:
        return np.asarray(np.broadcast_to(bad, p.z.shape).any(axis=2))

    checks = (
        anywhere(~(np.abs(r.ankle_y - r.hip_y) < body.shank + body.thigh)),
        anywhere(~(r.hand_offset < body.arm)),
        anywhere(~(setups.start_height < r.lockout_z)),
        anywhere((r.bar_x**2 + (setups.start_height - r.ankle_z) ** 2) <= r.shin_clear**2),
        anywhere(np.isnan(p.hip_x) & ~(np.abs(r.ankle_y - r.hip_y) < body.thigh)),
        anywhere(np.isnan(p.hip_x)),
    )
    problem = np.zeros(shape, dtype=np.int64)
    for number, bad in reversed(list(enumerate(checks, start=1))):
        problem = np.where(bad, number, problem)
    return problem


_QUANTITY = ("", "stance", "hand spacing", "start height", "start height", "stance", "start height")
WIDE_M = 0.5  # above it an impossible posture is put down to the stance


def impossible(problem: int, stance_m: float) -> ImpossibleStance:
    """The typed error for one entry of `problem_of`; a wide stance is named first as what to change."""
    if problem >= 3 and stance_m > WIDE_M:
        return ImpossibleStance("stance", f"{stance_m:g} m is wider than this body can take here ({PROBLEMS[problem]})")
    return ImpossibleStance(_QUANTITY[problem], PROBLEMS[problem])


def head_of(body: Body, p: Postures) -> tuple[FloatArray, FloatArray]:
    """Centre of the head (x, z) on the line of the upper trunk, in m."""
    beyond = (by_sex(body, head_place) - c.SPINAL_JOINT) * body.trunk
    return p.mid_x + beyond * np.cos(p.upper_trunk), p.mid_z + beyond * np.sin(p.upper_trunk)
