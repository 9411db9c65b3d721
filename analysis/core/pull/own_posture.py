"""A lifter's own posture: the ten habits fitted to tape, eye and stills, with their covariance.

Minimised: sum((y - f(theta)) / sigma)^2 + (theta - mu)' P (theta - mu), f the closed forms of two postures (lift-off
and bar level with the knee), mu and P^-1 the mean and covariance among lifters of the style. Four Gauss-Newton steps,
Jacobian by forward differences; the covariance is the inverse of J' J / sigma^2 + P at the end.

| Symbol | Unit | Meaning |
|---|---|---|
| theta | m, rad | the ten habits in the order of records.postures.HABITS |
| y, sigma | m, rad | what was seen in the order of OBSERVED, and its standard deviation |
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date

import numpy as np
import numpy.typing as npt

from analysis.core.body import constants as c
from analysis.core.body.anthropometry import drawn_bodies
from analysis.core.body.body import Body
from analysis.core.pull.habits import HABIT_BOUNDS, HIGH, LOW, mean_habits, prior_covariance
from analysis.core.pull.path import legs_to_knee
from analysis.core.pull.posture import upper_body
from analysis.core.pull.pull import impossible, problem_of, pull_postures, rig_of
from analysis.core.pull.setups import filled_setup, setups_of_habits
from analysis.core.records.bodies import BodyInput
from analysis.core.records.plain import ImplausibleMeasurement
from analysis.core.records.postures import HABITS, Known, OwnPosture, PostureSeen, Seen
from analysis.core.records.pulls import Setup, SetupInput
from athletes.schema.vocabulary import Arms, BackShape, BarOverFoot, Knees

FloatArray = npt.NDArray[np.float64]
STEPS = 4  # Gauss-Newton
STEP_SD = 1e-3  # forward difference, in standard deviations of the habit among lifters
TAPE_LEAVES = 1e-4  # share of the precision of people's stance and turnout that is left once they are measured
TAPED_WITHIN = 1.2  # times the error of a tape: heels are a tenth worse for the toes' error, an eye 1.6 times and more
MISFIT_SD = 3.0  # what was seen lies this far from the fitted posture: ask about it

_STILLS = (
    "trunk", "thigh", "shank", "arm", "hip_bar", "bar_ahead", "bend",
    "knee_trunk", "knee_thigh", "knee_shank", "knee_arm", "drift",
)  # fmt: skip
OBSERVED = (*_STILLS, "stance", "heels", "turnout", "legs_first")
_SLOT = {key: at for at, key in enumerate(OBSERVED)}


# what a tape gives, and the habit that is then this lifter's, not people's
_MEASURED = (("stance", "stance_m"), ("heels", "stance_m"), ("turnout", "turnout_rad"))


def _deg(mean: float, sd: float) -> Seen:
    return Seen(math.radians(mean), math.radians(sd))


# what a class seen by eye stands for, and how far off it may be
BY_EYE: dict[BarOverFoot | Arms | BackShape | Knees, Seen] = {
    BarOverFoot.HEEL_SIDE: Seen(-0.02, 0.012),
    BarOverFoot.MIDDLE: Seen(0.0, 0.012),
    BarOverFoot.TOE_SIDE: Seen(0.02, 0.012),
    Arms.VERTICAL: _deg(1.0, 2.5),
    Arms.AHEAD: _deg(8.0, 3.0),
    BackShape.FLAT: _deg(8.0, 6.0),
    BackShape.SLIGHT: _deg(20.0, 8.0),
    BackShape.ROUNDED: _deg(38.0, 10.0),
    Knees.EARLY: _deg(12.0, 4.0),
    Knees.TOGETHER: _deg(7.0, 3.0),
    Knees.LATE: _deg(2.0, 4.0),
}
TAPE_SD = {"stance": 0.02, "heels": 0.02, "turnout": math.radians(5.0)}
EYE_SD = {"stance": 0.06, "heels": 0.06, "turnout": math.radians(8.0)}  # judged from where a coach stands
# of one mark on a still taken from the side with the camera solved: m and rad
STILL_SD: dict[str, float] = {
    **{key: math.radians(3.0) for key in ("trunk", "shank", "knee_trunk", "knee_shank")},
    **{key: math.radians(3.3) for key in ("thigh", "knee_thigh")},
    **{key: math.radians(2.0) for key in ("arm", "knee_arm")},
    "bend": math.radians(8.0),
    "hip_bar": 0.025,
    "bar_ahead": 0.012,
    "drift": 0.012,
}


def observed(body: Body, style: str, habits: FloatArray) -> FloatArray:
    """What tape, eye and stills would see (bodies, sets, OBSERVED), m and rad, of habits (bodies, sets, 10)."""
    r = rig_of(body, setups_of_habits(habits, filled_setup(SetupInput(preset=style))))
    start = r.setups.start_height + 0.0 * r.knee_z
    z = np.concatenate([start, np.maximum(r.knee_z, start)], axis=-1)
    with np.errstate(invalid="ignore", divide="ignore"):
        upper = upper_body(r, z)
        legs = legs_to_knee(r, upper, z)
        trunk = np.arctan2(upper.shoulder_z - legs.hip_z, upper.shoulder_x - legs.hip_x)
        thigh = np.arctan2(legs.hip_z - legs.knee_z, legs.knee_x - legs.hip_x)
        shank = np.arctan2(legs.knee_x, legs.knee_z - r.ankle_z)
        arm = np.arcsin((upper.shoulder_x - upper.bar_x) / upper.reach)
    of = {key: habits[..., at] for at, key in enumerate(HABITS)}
    found = {
        "hip_bar": (upper.bar_x - legs.hip_x)[..., 0],
        "bar_ahead": of["bar_ahead_m"],
        "bend": of["spinal_flexion_rad"],
        "drift": of["drift_m"],
        "stance": of["stance_m"],
        "heels": of["stance_m"] - heels_behind(body.foot[:, None], of["turnout_rad"]),
        "turnout": of["turnout_rad"],
        "legs_first": of["lead_rad"] + c.ARMS_PER_LEAD * of["arms_at_knee_rad"],
    }
    for key, angle in (("trunk", trunk), ("thigh", thigh), ("shank", shank), ("arm", arm)):
        found[key], found["knee_" + key] = angle[..., 0], angle[..., 1]
    return np.stack([np.broadcast_to(found[key], habits.shape[:-1]) for key in OBSERVED], axis=-1)


def fitted_habits(body: Body, style: str, seen: FloatArray, sd: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Habits (bodies, 10) and their covariance (bodies, 10, 10) from what was seen (bodies, OBSERVED; NaN = not seen).

    `sd` broadcasts against `seen`. Nothing seen gives people's habits back. A stance or turnout that was measured is
    not drawn towards people's: their spread is that of different lifters, and the tape is of this one.
    """
    middle = mean_habits(style, body)
    precision = np.broadcast_to(np.linalg.inv(prior_covariance(style)), (len(seen), len(HABITS), len(HABITS))).copy()
    for key, habit in _MEASURED:
        at = HABITS.index(habit)
        precision[np.isfinite(seen[:, _SLOT[key]]), at, at] *= TAPE_LEAVES
    step = STEP_SD * np.sqrt(np.diag(prior_covariance(style)))
    tries = np.concatenate([np.zeros((1, len(HABITS))), np.diag(step)])
    weight = np.where(np.isfinite(seen), 1.0 / np.broadcast_to(sd, seen.shape) ** 2, 0.0)
    habits = middle.copy()
    for round_ in range(STEPS + 1):
        every = observed(body, style, habits[:, None, :] + tries)
        slope = np.nan_to_num((every[:, 1:] - every[:, :1]) / step[:, None])  # bodies, habits, OBSERVED
        weighted = slope * weight[:, None, :]
        information = weighted @ slope.transpose(0, 2, 1) + precision
        if round_ == STEPS:
            break
        away = np.where(weight > 0.0, np.nan_to_num(seen - every[:, 0]), 0.0)
        pull = (weighted @ away[..., None] + precision @ (middle - habits)[..., None])[..., 0]
        habits = np.clip(habits + np.linalg.solve(information, pull[..., None])[..., 0], LOW, HIGH)
    return habits, np.asarray(np.linalg.inv(information), dtype=np.float64)


def _rows_of(seen: PostureSeen) -> tuple[FloatArray, FloatArray]:
    """What was seen and its standard deviation in the order of OBSERVED; NaN = not seen."""
    value, sd = np.full(len(OBSERVED), np.nan), np.ones(len(OBSERVED))

    def put(key: str, one: Seen | None) -> None:
        if one is not None:
            value[_SLOT[key]], sd[_SLOT[key]] = one.value, one.sd

    for key, word in (
        ("bar_ahead", seen.bar_over),
        ("arm", seen.arms),
        ("bend", seen.back),
        ("legs_first", seen.knees),
    ):
        put(key, None if word is None else BY_EYE[word])
    for key, taped in (("stance", seen.stance_m), ("heels", seen.heels_m), ("turnout", seen.turnout_rad)):
        put(key, None if taped is None else Seen(taped, (EYE_SD if key in seen.by_eye else TAPE_SD)[key]))
    for key in _STILLS:  # a still wins over the eye
        put(key, getattr(seen, key))
    return value, sd


def own_posture(body: BodyInput, style: str, seen: PostureSeen, source: str, day: date) -> OwnPosture:
    """The lifter's habits in a style with their covariance, from what was seen of them.

    Raises ImplausibleMeasurement for a value that cannot be or when nothing was seen, ImpossibleStance when this body
    cannot pull in the posture.
    """
    value, sd = _rows_of(seen)
    if not np.isfinite(value).any():
        raise ImplausibleMeasurement("posture", "nothing was entered")
    for key, habit in _MEASURED:
        _refuse_outside(key, habit, float(value[_SLOT[key]]))
    one = drawn_bodies(body, 0)
    habits, covariance = fitted_habits(one, style, value[None], sd[None])
    posture = OwnPosture(
        style=style,
        values=tuple(map(float, habits[0])),
        covariance=tuple(tuple(map(float, row)) for row in covariance[0]),
        known=Known.STILLS if any(getattr(seen, key) is not None for key in _STILLS) else Known.TAPE,
        source=source,
        day=day,
    )
    rig, pull = pull_postures(one, setups_of_habits(habits, filled_setup(SetupInput(preset=style))), 21)
    problem = int(problem_of(rig, pull)[0, 0])
    if problem:
        raise impossible(problem, posture.value("stance_m"))
    return posture


def _refuse_outside(key: str, habit: str, value: float) -> None:
    low, high = HABIT_BOUNDS[habit]
    if math.isfinite(value) and not low < value <= high:
        scale, unit = (180.0 / math.pi, "degrees") if habit.endswith("_rad") else (100.0, "cm")
        shown = f"{value * scale:.3g} {unit} is not between {low * scale:.3g} and {high * scale:.3g} {unit}"
        raise ImplausibleMeasurement(key, shown)


def heels_behind(foot_m: FloatArray | float, turnout_rad: FloatArray | float) -> FloatArray:
    """How much nearer together (m) the middles of the heels stand than the ankles: 7 cm at 42 degrees.

    The heel lies HEEL_BEHIND_ANKLE of the foot behind the ankle, along the foot.
    """
    return np.asarray(2.0 * c.HEEL_BEHIND_ANKLE * foot_m * np.sin(turnout_rad))


def heels_of(setup: Setup, foot_m: float) -> float:
    """Stance of a setup as a tape takes it, heel middle to heel middle (m)."""
    return setup.stance_m - float(heels_behind(foot_m, setup.turnout_rad))


def taped(covariance: Sequence[Sequence[float]]) -> bool:
    """Whether stance and toes are measured or fixed, not judged by eye or left to what people do.

    `covariance` (10 x 10) is of the habits of a posture or a setup.
    """
    spread = {habit: math.sqrt(max(covariance[at][at], 0.0)) for at, habit in enumerate(HABITS)}
    pairs = (("stance_m", "stance"), ("turnout_rad", "turnout"))
    return all(spread[habit] <= TAPED_WITHIN * TAPE_SD[key] for habit, key in pairs)


def legs_first(setup: Setup) -> Seen:
    """How much straighter the knees are than shin contact asks as the bar passes them (rad), with its spread.

    Lead of the knees + 1.07 x arms ahead at the knee, of people or, in a setup with the lifter's own posture, of them.
    """
    of = np.zeros(len(HABITS))
    of[HABITS.index("lead_rad")], of[HABITS.index("arms_at_knee_rad")] = 1.0, c.ARMS_PER_LEAD
    value = setup.lead_rad + c.ARMS_PER_LEAD * setup.arms_at_knee_rad
    return Seen(value, math.sqrt(max(float(of @ np.array(setup.covariance) @ of), 0.0)))


def misfits(body: BodyInput, posture: OwnPosture, seen: PostureSeen) -> dict[str, float]:
    """What was seen that the fitted posture does not meet, in SD (seen less fitted), the worst first."""
    value, sd = _rows_of(seen)
    fitted = observed(drawn_bodies(body, 0), posture.style, np.array([[posture.values]]))[0, 0]
    away = (value - fitted) / sd
    odd = {key: float(away[at]) for key, at in _SLOT.items() if abs(away[at]) > MISFIT_SD}
    return dict(sorted(odd.items(), key=lambda item: -abs(item[1])))
