"""From a few measurements to a whole body: the conditional normal of ANSUR II, with measurement error.

Reference: Gordon et al. 2014, 2012 Anthropometric Survey of U.S. Army Personnel, NATICK/TR-15/007 (public domain),
4,082 men and 1,986 women, adults of 17-58 years. Lengths in m, mass in kg.
"""

from __future__ import annotations

import csv
import functools
import itertools
import math
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt

from analysis.core.body import constants as c
from analysis.core.body.body import LINK_KEYS, Body, body_from_links
from analysis.core.records.bodies import BodyInput, FilledBody, FilledLength
from analysis.core.records.plain import ImplausibleMeasurement, UnknownKey

FloatArray = npt.NDArray[np.float64]
_DATA = Path(__file__).parent / "data"
_FILES = {"m": "anthropometry_men.csv", "f": "anthropometry_women.csv"}

# typical error of one measurement (m; mass kg), about 1 % of a length and less for stature: from memory, in the
# range Perini et al. 2005 (Rev Bras Med Esporte 11:81-85) call acceptable
MEASUREMENT_ERROR: dict[str, float] = {
    "stature": 0.004,
    "sitting_height": 0.005,
    "arm_span": 0.008,
    "acromial_height": 0.007,
    "trochanterion_height": 0.009,
    "tibiale_height": 0.005,
    "lateral_epicondyle_height": 0.005,
    "lateral_malleolus_height": 0.003,
    "standing_grip_height": 0.008,
    "biacromial_breadth": 0.005,
    "bicristal_breadth": 0.005,
    "hip_breadth": 0.006,
    "foot_length": 0.003,
    "hand_length": 0.003,
    "mass": 0.5,
}
VARIABLES = tuple(MEASUREMENT_ERROR)
SURPRISING_SD = 4.0  # a measurement this far from what the others say is asked about
FAR_OUTSIDE_SD = 3.0  # a stature this far from the table's mean is outside what the table knows
# heights of one body from the floor up; each must lie above the one before it
_RISING = (
    "lateral_malleolus_height",
    "tibiale_height",
    "trochanterion_height",
    "acromial_height",
    "stature",
)


@dataclass(frozen=True, slots=True)
class Reference:
    """Mean and covariance of VARIABLES in one sex (m, kg)."""

    mean: FloatArray
    covariance: FloatArray


@functools.cache
def reference(sex: str) -> Reference:
    """The reference table of a sex; UnknownKey when it is neither "m" nor "f"."""
    if sex not in _FILES:
        raise UnknownKey("sex", f"{sex!r} is neither 'm' nor 'f'")
    with (_DATA / _FILES[sex]).open(encoding="utf-8", newline="") as lines:
        rows = {row["variable"]: row for row in csv.DictReader(line for line in lines if line[0] != "#")}
    scale = np.array([1.0 if key == "mass" else 0.01 for key in VARIABLES])
    mean = np.array([float(rows[key]["mean"]) for key in VARIABLES]) * scale
    table = np.array([[float(rows[one][other]) for other in VARIABLES] for one in VARIABLES])
    return Reference(mean, table * np.outer(scale, scale))


def checked(measured: Mapping[str, float], sex: str) -> dict[str, float]:
    """The measurements, or the error that names the one that cannot be (unknown, not a number, no body's)."""
    table = reference(sex)
    for key, value in measured.items():
        if key not in MEASUREMENT_ERROR:
            raise UnknownKey(key, f"is none of {', '.join(VARIABLES)}")
        if not (math.isfinite(value) and value > 0.0):
            shown = f"{value:g} kg" if key == "mass" else f"{value * 100:g} cm"
            raise ImplausibleMeasurement(key, f"{shown} cannot be")
        low, high = _bounds(key, float(table.mean[VARIABLES.index(key)]))
        if not low <= value <= high:
            raise ImplausibleMeasurement(key, _outside(key, value, low, high))
    _refuse_disorder(measured)
    return dict(measured)


def _bounds(key: str, mean: float) -> tuple[float, float]:
    """Widest plausible range: children of about 1 m and the tallest and heaviest people known stay inside."""
    return (15.0, 400.0) if key == "mass" else (0.5 * mean, 1.6 * mean)


def _outside(key: str, value: float, low: float, high: float) -> str:
    if key == "mass":
        return f"{value:g} kg is not between {low:.0f} and {high:.0f} kg"
    return f"{value * 100:g} cm is not between {low * 100:.0f} and {high * 100:.0f} cm"


def _refuse_disorder(measured: Mapping[str, float]) -> None:
    present = [key for key in _RISING if key in measured]
    for lower, upper in itertools.pairwise(present):
        if measured[lower] >= measured[upper]:
            reason = f"{measured[lower] * 100:g} cm is not below {upper} {measured[upper] * 100:g} cm"
            raise ImplausibleMeasurement(lower, reason)


def _given(table: Reference, index: list[int], value: FloatArray, error: FloatArray) -> Reference:
    """The conditional normal: mean + K (y - mean_y), covariance - K covariance_y; K = C_xy (C_yy + R)^-1."""
    if not index:
        return table
    seen = table.covariance[np.ix_(index, index)] + np.diag(error**2)
    gain = np.linalg.solve(seen, table.covariance[index, :]).T
    mean = table.mean + gain @ (value - table.mean[index])
    covariance = table.covariance - gain @ table.covariance[index, :]
    return Reference(mean, 0.5 * (covariance + covariance.T))


def _posterior(body: BodyInput) -> Reference:
    measured = checked(body.measured_m, body.sex)
    keys = [key for key in VARIABLES if key in measured]
    error = np.array([body.sd_m.get(key, MEASUREMENT_ERROR[key]) for key in keys])
    index = [VARIABLES.index(key) for key in keys]
    return _given(reference(body.sex), index, np.array([measured[key] for key in keys]), error)


# which measurements make a link, with their weights, and a constant (m)
_LINK_PARTS: dict[str, tuple[dict[str, float], float]] = {
    "ankle": ({"lateral_malleolus_height": 1.0}, 0.0),
    "shank": ({"tibiale_height": 1.0, "lateral_malleolus_height": -1.0}, 0.0),
    "thigh": ({"trochanterion_height": 1.0, "tibiale_height": -1.0}, 0.0),
    "trunk": ({"acromial_height": 1.0, "trochanterion_height": -1.0}, -c.ACROMION_TO_SHOULDER_CENTRE_M),
    "arm": ({"acromial_height": 1.0, "standing_grip_height": -1.0}, -c.ACROMION_TO_SHOULDER_CENTRE_M),
    "foot": ({"foot_length": 1.0}, 0.0),
    "hip_spacing": ({"hip_breadth": c.HIP_SPACING_OF_HIP_BREADTH}, 0.0),
    "shoulder_spacing": ({"biacromial_breadth": c.SHOULDER_SPACING_OF_BIACROMIAL}, 0.0),
}


def _link_matrix(arm_factor: float = 1.0) -> tuple[FloatArray, FloatArray]:
    matrix = np.zeros((len(LINK_KEYS), len(VARIABLES)))
    offset = np.zeros(len(LINK_KEYS))
    for row, key in enumerate(LINK_KEYS):
        parts, offset[row] = _LINK_PARTS[key]
        for variable, weight in parts.items():
            matrix[row, VARIABLES.index(variable)] = weight
    arm = LINK_KEYS.index("arm")
    matrix[arm] *= arm_factor
    offset[arm] *= arm_factor
    return matrix, offset


def filled_body(body: BodyInput) -> FilledBody:
    """Every measurement and link of an athlete with its spread and origin, and what to be careful about."""
    post = _posterior(body)
    matrix, offset = _link_matrix(body.arm_factor)
    links = matrix @ post.mean + offset
    spread = np.sqrt(np.diag(matrix @ post.covariance @ matrix.T))
    measurements = tuple(
        FilledLength(key, float(mean), math.sqrt(max(float(variance), 0.0)), _origin([key], body))
        for key, mean, variance in zip(VARIABLES, post.mean, np.diag(post.covariance), strict=True)
    )
    filled_links = tuple(
        FilledLength(key, float(links[row]), float(spread[row]), _origin(list(_LINK_PARTS[key][0]), body))
        for row, key in enumerate(LINK_KEYS)
    )
    return FilledBody(body.sex, body.age, measurements, filled_links, _warnings(body, post))


def _origin(keys: list[str], body: BodyInput) -> str:
    known = sum(key in body.measured_m for key in keys)
    return "measured" if known == len(keys) else "partly" if known else "estimated"


def _warnings(body: BodyInput, post: Reference) -> tuple[str, ...]:
    table, found = reference(body.sex), []
    if body.age is not None and body.age < 18:
        found.append("Under 18: the tables are of adults, so lengths and masses filled in are less sure.")
    stature = VARIABLES.index("stature")
    away = (post.mean[stature] - table.mean[stature]) / math.sqrt(table.covariance[stature, stature])
    if abs(away) > FAR_OUTSIDE_SD:
        found.append(
            f"A stature of {post.mean[stature] * 100:.0f} cm is outside what the reference table covers; "
            "lengths that were not measured are extrapolated."
        )
    found.extend(f"{key} is far from what the other measurements suggest." for key in surprising(body))
    return tuple(found)


def surprising(body: BodyInput) -> tuple[str, ...]:
    """Measurements further than SURPRISING_SD from what the others say, the oddest first, each then left out."""
    left = dict(body.measured_m)
    odd: list[str] = []
    while len(left) > 1:
        distance = {key: _oddness(BodyInput(body.sex, left, body.sd_m), key) for key in left if key != "mass"}
        worst = max(distance, key=lambda key: distance[key], default="")
        if not worst or distance[worst] <= SURPRISING_SD:
            break
        odd.append(worst)
        del left[worst]
    return tuple(odd)


def _oddness(body: BodyInput, key: str) -> float:
    """How many standard deviations a measurement lies from what all the others predict."""
    others = {other: value for other, value in body.measured_m.items() if other != key}
    told, at = _posterior(BodyInput(body.sex, others, body.sd_m)), VARIABLES.index(key)
    spread = math.hypot(math.sqrt(max(told.covariance[at, at], 0.0)), MEASUREMENT_ERROR[key])
    return float(abs(body.measured_m[key] - told.mean[at]) / spread)


def drawn_bodies(body: BodyInput, draws: int, seed: int = 0) -> Body:
    """The body as filled (first) and `draws` draws of it: arrays of shape (1 + draws,).

    Draws come in mirrored pairs about the filled body, so that their middle is it; same seed, same draws.
    """
    post = _posterior(body)
    matrix, offset = _link_matrix(body.arm_factor)
    values, vectors = np.linalg.eigh(post.covariance)
    root = vectors * np.sqrt(np.maximum(values, 0.0))
    half = np.random.default_rng(seed).standard_normal(((draws + 1) // 2, len(VARIABLES)))
    noise = np.concatenate([np.zeros((1, len(VARIABLES))), half, -half])[: draws + 1]
    sample = post.mean + noise @ root.T
    return body_of_rows(body.sex, sample @ matrix.T + offset, sample[:, VARIABLES.index("mass")])


def body_of_rows(sex: str, links: FloatArray, mass: FloatArray) -> Body:
    """Bodies of one sex from rows of links in the order of LINK_KEYS (m) and masses (kg)."""
    body_from_links(sex, float(mass[0]), dict(zip(LINK_KEYS, map(float, links[0]), strict=True)))
    columns = {key: np.maximum(links[:, at], 1e-3) for at, key in enumerate(LINK_KEYS)}
    return Body(male=np.full(len(links), sex == "m"), mass=np.maximum(mass, 1.0), **columns)


def population_bodies(sex: str, count: int, seed: int = 0) -> Body:
    """Random bodies of a sex from the reference table: arrays of shape (count,)."""
    table = reference(sex)
    matrix, offset = _link_matrix()
    sample = np.random.default_rng(seed).multivariate_normal(table.mean, table.covariance, count)
    return body_of_rows(sex, sample @ matrix.T + offset, sample[:, VARIABLES.index("mass")])


def drillis_links(stature: float) -> dict[str, float]:
    """Links (m) as rough shares of stature: Drillis and Contini 1966 in Winter; spacings from ANSUR II's means."""
    return {
        "ankle": c.ANKLE_SHARE * stature,
        "shank": c.SHANK_SHARE * stature,
        "thigh": c.THIGH_SHARE * stature,
        "trunk": c.TRUNK_SHARE * stature,
        "arm": c.ARM_SHARE * stature,
        "foot": c.FOOT_SHARE * stature,
        "hip_spacing": c.HIP_SPACING_OF_HIP_BREADTH * c.HIP_BREADTH_SHARE * stature,
        "shoulder_spacing": c.SHOULDER_SPACING_OF_BIACROMIAL * c.BIACROMIAL_SHARE * stature,
    }


def drillis_body(sex: str, stature: float, mass: float) -> Body:
    """One body (arrays of shape (1,)) with rough-share links."""
    return body_from_links(sex, mass, drillis_links(stature))
