"""What the model must agree with: published bands, each with its source and the value computed now.

Bands are published means and spreads, widened. Man of 1.78 m and 85 kg at 200 kg unless said; other bodies may be
held against the same bands.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from analysis.core.body import constants as c
from analysis.core.body.anthropometry import drawn_bodies, drillis_body
from analysis.core.body.body import Body
from analysis.core.pull.bar import BAR_PRESETS, rise_of_hands
from analysis.core.pull.moments import Moments, moments_of
from analysis.core.pull.posture import Rig
from analysis.core.pull.pull import Postures, postures_at, pull_postures
from analysis.core.pull.setups import DEFAULT_SETUPS, filled_setup, setup_arrays
from analysis.core.records.bodies import BodyInput

FloatArray = npt.NDArray[np.float64]
LOAD_KG = 200.0
HALES_BELOW_M = 0.064  # bar below the knee where it slows (second-hand account of Hales et al. 2009)
CONVENTIONAL, SUMO, WIDE, ROUNDED = range(4)


@dataclass(frozen=True, slots=True)
class FourStyles:
    """One body in the four default styles, from floor to lockout."""

    rig: Rig
    p: Postures
    m: Moments

    def degrees(self, key: str, style: int) -> float:
        """An angle at lift-off (deg)."""
        return float(np.degrees(getattr(self.p, key)[0, style, 0]))

    def moment(self, joint: str, style: int, load_kg: float = LOAD_KG) -> float:
        """A moment at lift-off (N m)."""
        return float(getattr(self.m, joint).at(load_kg)[0, style, 0])

    def peak(self, joint: str, style: int, load_kg: float) -> float:
        """The largest moment of the pull (N m)."""
        return float(np.max(getattr(self.m, joint).at(load_kg)[0, style]))

    def distance(self, style: int) -> float:
        """Hip to bar at lift-off (m)."""
        return float(self.p.hip_bar_distance[0, style, 0])

    def motion(self, style: int) -> float:
        """Range of motion (m)."""
        return float(self.p.z[0, style, -1] - self.p.z[0, style, 0])

    def hip_length(self, style: int) -> float:
        """Length of the sagittal and frontal hip moment at lift-off (N m)."""
        return float(np.hypot(self.moment("hip", style), self.moment("adductor", style)))

    def below_knee(self, key: str, style: int) -> float:
        """An angle (deg) with the bar 6.4 cm below the top of the shank."""
        return float(np.degrees(np.interp(-HALES_BELOW_M, self._from_knee(style), getattr(self.p, key)[0, style])))

    def at_knee(self, key: str, style: int) -> float:
        """An angle (deg) with the bar level with the top of the shank."""
        return float(np.degrees(np.interp(0.0, self._from_knee(style), getattr(self.p, key)[0, style])))

    def _from_knee(self, style: int) -> FloatArray:
        return np.asarray(self.p.z[0, style] - self.rig.knee_z[0, style, 0])

    def work(self, joint: str, angle: str, style: int) -> float:
        """Positive work (J) of a joint from floor to lockout: its moment over the angle it opens."""
        moment, turn = getattr(self.m, joint).at(LOAD_KG)[0, style], -np.diff(getattr(self.p, angle)[0, style])
        return float(np.sum(np.maximum(0.5 * (moment[1:] + moment[:-1]) * turn, 0.0)))

    def rate(self, style: int, per_metre: bool) -> float:
        """Largest rate of knee or hip: rad/m over the first 97 % of the pull, or rad in tau = 1 - sqrt(1 - s)."""
        z = self.p.z[0, style]
        s = (z - z[0]) / (z[-1] - z[0])
        along = z if per_metre else 1.0 - np.sqrt(1.0 - s)
        rates = [np.abs(np.diff(a[0, style]) / np.diff(along)) for a in (self.p.knee_flexion, self.p.hip_flexion)]
        early = s[1:] < 0.97 if per_metre else np.ones(len(s) - 1, dtype=np.bool_)
        return float(max(rate[early].max() for rate in rates))

    def frozen(self, style: int) -> float:
        """Share of the heights from knee to 97 % of the pull at which the knees open less than 0.2 rad/m."""
        z = self.p.z[0, style]
        past = (self._from_knee(style)[1:] > 0.0) & ((z[1:] - z[0]) / (z[-1] - z[0]) < 0.97)
        opening = -np.diff(self.p.knee_flexion[0, style]) / np.diff(z)
        return float((opening[past] < 0.2).mean())


def solve_four_styles(body: Body) -> FourStyles:
    """The four default styles of one body (arrays of shape (1,)), habits at their means, stances by its leg."""
    rig, p = pull_postures(body, setup_arrays([filled_setup(asked) for asked in DEFAULT_SETUPS], body))
    return FourStyles(rig, p, moments_of(rig.body, rig.setups, p))


def reference_body(links: str = "rough", sex: str = "m", stature_m: float = 1.78, mass_kg: float = 85.0) -> Body:
    """A body with "rough" links (shares of stature) or "filled" ones (conditional normal of ANSUR II)."""
    if links == "rough":
        return drillis_body(sex, stature_m, mass_kg)
    exact = {"stature": 1e-4, "mass": 1e-3}
    return drawn_bodies(BodyInput(sex, {"stature": stature_m, "mass": mass_kg}, exact), 0)


@dataclass(frozen=True, slots=True)
class Check:
    """A quantity, the band it must lie in, where the band comes from, and how to compute it from a body seen."""

    key: str
    quantity: str
    unit: str
    low: float
    high: float
    source: str
    value: Callable[[FourStyles], float]
    digits: int = 2


@dataclass(frozen=True, slots=True)
class CheckRow:
    """A check with its value for one body; `holds` says whether it lies in the band."""

    check: Check
    value: float
    holds: bool


SCHELLENBERG = "Schellenberg et al. 2013, BMC Sports Sci Med Rehabil 5:27, table of studies"
ESCAMILLA = "Escamilla et al. 2000, Med Sci Sports Exerc 32:1265-1275"
ESCAMILLA_2001 = "Escamilla et al. 2001, Med Sci Sports Exerc 33:1345-1353 (10 % less bar distance)"
CHOLEWICKI = "Cholewicki, McGill and Norman 1991, Med Sci Sports Exerc 23:1179-1186"
MCGUIGAN = "McGuigan and Wilson 1996, J Strength Cond Res 10:250-255, second-hand"
OWN_BOUND = "own bound on smoothness; no published rate"
HANEN = "Hanen et al. 2025, Front Bioeng Biotechnol, doi 10.3389/fbioe.2025.1597209"
CHOE = "Choe et al. 2021: 3.59 and 1.18 N m/kg at 70-85 % of the best"
CHOE_WORK = "Choe et al. 2021: positive work of the hip 3.22, of the knee 0.46 J/kg"
GEOMETRY = "geometry of an average body"
HALES = "geometry; Hales, Johnson and Johnson 2009, J Strength Cond Res 23:2574-2580"
HALES_2009 = "Hales, Johnson and Johnson 2009, J Strength Cond Res 23:2574-2580"
BECKHAM = "Beckham et al. 2012, J Trainology 1:32-35: isometric force floor < above knee < near lockout"
PRACTICE = "common practice, no source"
BEAM = "Euler-Bernoulli beam theory, steel bar of 29 mm or 27 mm"


def _bar(preset: str) -> Callable[[FourStyles], float]:
    bar = BAR_PRESETS[preset]
    return lambda s: 1000.0 * rise_of_hands(LOAD_KG, c.CONVENTIONAL_HANDS_M, bar.diameter_m, bar.span_m)


def _less(key: str) -> Callable[[FourStyles], float]:
    return lambda s: s.degrees(key, CONVENTIONAL) - s.degrees(key, ROUNDED)


def _load_held_kg(s: FourStyles, bar_at_m: FloatArray) -> float:
    """Load (kg) that the lift-off's hip moment would hold with the bar at a height (m), conventional."""
    p = postures_at(s.rig, np.broadcast_to(bar_at_m[..., None, None], (1, 4, 1)))
    hip = moments_of(s.rig.body, s.rig.setups, p).hip
    moment = s.moment("hip", CONVENTIONAL)
    return float((moment - hip.b[0, CONVENTIONAL, 0]) / hip.a[0, CONVENTIONAL, 0])


def _above_knee(s: FourStyles) -> float:
    return _load_held_kg(s, s.rig.knee_z[:, CONVENTIONAL, 0] + 0.05)


def _near_lockout(s: FourStyles) -> float:
    return _load_held_kg(s, s.rig.lockout_z[:, CONVENTIONAL, 0] - 0.055)


def _more(
    key: str, at: Callable[[FourStyles, str, int], float], first: int = CONVENTIONAL
) -> Callable[[FourStyles], float]:
    """An angle in sumo less that in another style (deg)."""
    return lambda s: at(s, key, SUMO) - at(s, key, first)


def _knee_at_knee(s: FourStyles, style: int) -> float:
    """Net knee moment (N m) with the bar level with the top of the shank."""
    return float(np.interp(0.0, s.p.z[0, style] - s.rig.knee_z[0, style, 0], s.m.knee.at(LOAD_KG)[0, style]))


def _work_ratio(s: FourStyles, knee: str) -> float:
    """Positive work of the hip over that of the knee's net moment or extensor demand, conventional."""
    return s.work("hip", "hip_flexion", CONVENTIONAL) / s.work(knee, "knee_flexion", CONVENTIONAL)


def _shorter(s: FourStyles) -> float:
    return 100.0 * (s.motion(CONVENTIONAL) - s.motion(SUMO))


def _longer_arms(key: str, factor: float) -> Callable[[FourStyles], float]:
    """How much an angle at lift-off (deg) changes when the arms are `factor` times as long."""

    def change(s: FourStyles) -> float:
        body = s.rig.body.mapped(lambda array: array[:, 0, 0])
        changed = solve_four_styles(replace(body, arm=body.arm * factor))
        return changed.degrees(key, CONVENTIONAL) - s.degrees(key, CONVENTIONAL)

    return change


CHECKS: tuple[Check, ...] = (
    Check("knee", "knee flexion at lift-off, conventional", "deg", 45, 85, SCHELLENBERG,
          lambda s: s.degrees("knee_flexion", CONVENTIONAL), 0),
    Check("hip", "hip flexion at lift-off, conventional", "deg", 95, 132, SCHELLENBERG,
          lambda s: s.degrees("hip_flexion", CONVENTIONAL), 0),
    Check("trunk", "trunk above the horizontal at lift-off, conventional", "deg", 20, 45, HALES,
          lambda s: s.degrees("trunk_angle", CONVENTIONAL), 0),
    Check("shank", "shank lean at lift-off, conventional", "deg", 5, 20, HALES,
          lambda s: s.degrees("shank_lean", CONVENTIONAL), 0),
    Check("thigh", "thigh above the horizontal at lift-off, conventional", "deg", 10, 40, GEOMETRY,
          lambda s: s.degrees("thigh_angle", CONVENTIONAL), 0),
    Check("hales_thigh", "thigh above the horizontal, bar 6.4 cm below the knee, conventional", "deg", 48, 67,
          HALES_2009 + " (57.4, SD 4.6)", lambda s: s.below_knee("thigh_angle", CONVENTIONAL), 0),
    Check("hales_trunk", "trunk above the horizontal there", "deg", 17, 46,
          HALES_2009 + " (31.7, SD 7.2; taken as from the vertical)",
          lambda s: s.below_knee("trunk_angle", CONVENTIONAL), 0),
    Check("distance", "hip to bar at lift-off, conventional", "m", 0.30, 0.45, GEOMETRY,
          lambda s: s.distance(CONVENTIONAL), 3),
    Check("motion", "range of motion, conventional", "m", 0.46, 0.60, GEOMETRY,
          lambda s: s.motion(CONVENTIONAL), 3),
    Check("stance", "stance of sumo, by the leg, for the rows on length of the pull", "m", 0.59, 0.81,
          ESCAMILLA + " (0.70, SD 0.11)", lambda s: float(2.0 * s.p.ankle_y[0, SUMO, 0])),
    Check("motion_sumo", "range of motion, sumo / conventional", "1", 0.88, 0.96, ESCAMILLA_2001,
          lambda s: s.motion(SUMO) / s.motion(CONVENTIONAL)),
    Check("motion_19", "the same, held against 19 % less", "1", 0.78, 0.84, MCGUIGAN,
          lambda s: s.motion(SUMO) / s.motion(CONVENTIONAL)),
    Check("motion_25", "the same, held against 25-40 % more in conventional", "1", 0.71, 0.80,
          ESCAMILLA + ", different lifters", lambda s: s.motion(SUMO) / s.motion(CONVENTIONAL)),
    Check("motion_cm", "pull shorter in sumo, held against 3-4 inches", "cm", 8, 10, PRACTICE, _shorter, 1),
    Check("stance_wide", "stance of wide sumo, by the leg", "m", 0.75, 1.10, PRACTICE,
          lambda s: float(2.0 * s.p.ankle_y[0, WIDE, 0])),
    Check("motion_wide", "range of motion, wide sumo / conventional", "1", 0.75, 0.96, ESCAMILLA_2001,
          lambda s: s.motion(WIDE) / s.motion(CONVENTIONAL)),
    Check("upright", "trunk more upright in sumo at lift-off", "deg", 3, 20, ESCAMILLA + " (5-10)",
          lambda s: s.degrees("trunk_angle", SUMO) - s.degrees("trunk_angle", CONVENTIONAL), 1),
    Check("thigh_flat", "thigh in space more horizontal in sumo at lift-off", "deg", 5, 25, ESCAMILLA + " (11-16)",
          lambda s: -_more("thigh_angle_3d", FourStyles.degrees)(s), 1),
    Check("thigh_flat_knee", "the same with the bar at the knee", "deg", 5, 25, ESCAMILLA + " (11-16)",
          lambda s: -_more("thigh_angle_3d", FourStyles.at_knee)(s), 1),
    Check("knee_sumo_bend", "knee more bent in sumo at lift-off", "deg", 1, 24, ESCAMILLA + " (about 12)",
          _more("knee_flexion", FourStyles.degrees), 1),
    Check("hip_side", "hip in the side view, sumo less conventional, at lift-off", "deg", -25, 0,
          HANEN + " (more hip flexion in conventional)", _more("hip_angle", FourStyles.degrees), 1),
    Check("hip_space", "hip in space, sumo less conventional, at lift-off", "deg", -25, 0,
          HANEN + " (more hip flexion in conventional)", _more("hip_angle_3d", FourStyles.degrees), 1),
    Check("hip_space_2000", "the same, held against hips about 12 deg more bent in sumo", "deg", 6, 18,
          ESCAMILLA + ", different lifters, interval unclear", _more("hip_angle_3d", FourStyles.degrees), 1),
    Check("ankle_conventional", "ankle moment at lift-off, conventional, plantar flexor positive", "N m", 1, 300,
          ESCAMILLA + " (plantar flexor)", lambda s: s.moment("ankle", CONVENTIONAL), 0),
    Check("ankle_sumo", "the same, sumo", "N m", -300, -1, ESCAMILLA + " (dorsiflexor)",
          lambda s: s.moment("ankle", SUMO), 0),
    Check("knee_conventional", "least net knee moment of the pull, conventional, extensor positive", "N m", -400, -1,
          ESCAMILLA + " (extensor and flexor)", lambda s: float(s.m.knee.at(LOAD_KG)[0, CONVENTIONAL].min()), 0),
    Check("knee_sumo", "net knee moment at lift-off, sumo", "N m", 1, 600, ESCAMILLA + " (extensor)",
          lambda s: s.moment("knee", SUMO), 0),
    Check("knee_sumo_knee", "the same with the bar at the knee", "N m", 1, 600, ESCAMILLA + " (extensor)",
          lambda s: _knee_at_knee(s, SUMO), 0),
    Check("trunk_moment", "trunk moment at lift-off, sumo / conventional", "1", 0.80, 0.97, CHOLEWICKI + " (0.90)",
          lambda s: s.moment("trunk", SUMO) / s.moment("trunk", CONVENTIONAL)),
    Check("l4l5", "L4/L5 moment / hip moment at lift-off, conventional", "1", 0.75, 1.0, CHOLEWICKI + " (0.94)",
          lambda s: s.moment("l4l5", CONVENTIONAL) / s.moment("hip", CONVENTIONAL)),
    Check("hip_moment", "hip moment (sagittal and frontal), sumo / conventional", "1", 0.85, 1.10,
          HANEN + "; weak: reports differ", lambda s: s.hip_length(SUMO) / s.hip_length(CONVENTIONAL)),
    Check("knee_demand", "knee demand at lift-off, sumo / conventional", "1", 1.0, 1.5, HANEN + " (activity 1.15)",
          lambda s: s.moment("knee_demand", SUMO) / s.moment("knee_demand", CONVENTIONAL)),
    Check("round_distance", "hip to bar, flat less rounded", "m", 0.001, 0.1, PRACTICE,
          lambda s: s.distance(CONVENTIONAL) - s.distance(ROUNDED), 3),
    Check("round_hip", "hip flexion at lift-off, flat less rounded", "deg", 1, 60, PRACTICE, _less("hip_flexion"), 0),
    Check("round_knee", "knee flexion at lift-off, flat less rounded", "deg", 1, 30, PRACTICE,
          _less("knee_flexion"), 0),
    Check("arms_trunk", "trunk more upright with arms 6 % longer", "deg", 0.5, 10, PRACTICE,
          _longer_arms("trunk_angle", 1.06), 1),
    Check("arms_knee", "knee flexion with arms 6 % longer, change", "deg", -10, -0.5, PRACTICE,
          _longer_arms("knee_flexion", 1.06), 1),
    Check("short_arms_trunk", "trunk angle with arms 6 % shorter, change", "deg", -10, -0.5, PRACTICE,
          _longer_arms("trunk_angle", 0.94), 1),
    Check("short_arms_knee", "knee flexion with arms 6 % shorter, change", "deg", 0.5, 10, PRACTICE,
          _longer_arms("knee_flexion", 0.94), 1),
    Check("held_knee", "load the same hip moment holds, above the knee / at the floor", "1", 1.01, 3.0, BECKHAM,
          lambda s: _above_knee(s) / LOAD_KG),
    Check("held_top", "load the same hip moment holds, 5.5 cm short of lockout / above the knee", "1", 1.01, 6.0,
          BECKHAM, lambda s: _near_lockout(s) / _above_knee(s)),
    Check("choe_demand", "peak hip moment / peak knee extensor demand, 137.5 kg, conventional", "1", 2.0, 5.0,
          CHOE + " (3.0); our knee extensors also hold what the hamstrings bend",
          lambda s: s.peak("hip", CONVENTIONAL, 137.5) / s.peak("knee_demand", CONVENTIONAL, 137.5)),
    Check("choe_net", "peak hip moment / peak net knee moment, 137.5 kg, conventional", "1", 2.0, 5.0,
          CHOE + " (3.0)", lambda s: s.peak("hip", CONVENTIONAL, 137.5) / s.peak("knee", CONVENTIONAL, 137.5)),
    Check("work_net", "positive work of the hip / of the net knee moment, conventional", "1", 4, 12, CHOE_WORK + " (7)",
          lambda s: _work_ratio(s, "knee"), 0),
    Check("work_demand", "positive work of the hip / of the knee extensors, conventional", "1", 4, 12,
          CHOE_WORK + " (7)",
          lambda s: _work_ratio(s, "knee_demand"), 0),
    Check("frozen", "share of the heights past the knee with the knees at rest, any style", "1", 0, 0, OWN_BOUND,
          lambda s: max(s.frozen(style) for style in range(4))),
    Check("rate_tau", "largest rate of knee or hip over 1 - sqrt(1 - s), conventional, sumo, rounded", "rad", 0, 6,
          OWN_BOUND, lambda s: max(s.rate(style, per_metre=False) for style in (CONVENTIONAL, SUMO, ROUNDED)), 1),
    Check("rate_tau_wide", "the same, wide sumo", "rad", 0, 17, OWN_BOUND, lambda s: s.rate(WIDE, per_metre=False), 1),
    Check("rate_metre", "largest rate of knee or hip to 97 % of the pull, any style", "rad/m", 0, 18, OWN_BOUND,
          lambda s: max(s.rate(style, per_metre=True) for style in range(4)), 1),
    Check("bar_stiff", "rise of the hands, 29 mm bar, 200 kg", "mm", 8, 15, BEAM, _bar("stiff"), 0),
    Check("bar_flexible", "rise of the hands, 27 mm long bar, 200 kg", "mm", 15, 26, BEAM, _bar("flexible"), 0),
    Check("start", "bar above the floor at the start", "m", 0.225, 0.225, c.RULES,
          lambda s: float(s.p.z[0, CONVENTIONAL, 0]), 3),
)  # fmt: skip

# what the model is known not to meet, and why: shown on the model page, and any other miss fails the tests
KNOWN_MISSES: dict[str, str] = {
    "choe_net": (
        "In a slow pull with the bar on the shin and over mid-foot the ground force passes close to the knee, so the "
        "net knee moment is small. Measured pulls at 70-85 % of the best start with more knee bend and speed up the "
        "bar, and their knee moment is larger. Read the model's net knee moment as a lower bound; compare styles by "
        "the knee extensor demand."
    ),
    "work_net": (
        "For the same reason the net knee moment does next to no positive work: soon after lift-off the ground force "
        "passes in front of the knee, on any path of the legs."
    ),
    "work_demand": (
        "The knee extensors that also hold what the hamstrings bend come nearer, and still do less work than measured."
    ),
    "knee_sumo_knee": (
        "The straighter knees of this path bring the ground force in front of the knee in sumo too, by a few "
        "centimetres, as the bar passes it."
    ),
    "ankle_sumo": (
        "With bar and body over mid-foot the ground force lies ahead of the ankle in every stance. Measured sumo "
        "lifters must have stood nearer their heels."
    ),
    "hip_space_2000": (
        "Publications disagree. The trunk is more upright in sumo, which opens the hip by more than the flatter thigh "
        "closes it. What closes in sumo is the room to spread and turn the hip, which a flexion angle does not show."
    ),
    "motion_19": "At this stance the model gives about half of it; a stance of 0.92 to 0.98 m gives it.",
    "motion_25": (
        "Other lifters in each style, so other bodies too. 25 % takes a stance of about 1 m, wider than the discs "
        "leave room for; no stance gives 40 %."
    ),
    "motion_cm": "At this stance the model gives about half of it; a stance of 0.86 to 0.97 m gives it.",
}


def check_rows(body: Body | None = None) -> tuple[CheckRow, ...]:
    """Every check with its value for a body (arrays of shape (1,)); the rough-share reference man when left out."""
    found = solve_four_styles(reference_body() if body is None else body)
    rows = []
    for check in CHECKS:
        value = check.value(found)
        rows.append(CheckRow(check, value, bool(check.low - 1e-9 <= value <= check.high + 1e-9)))
    return tuple(rows)
