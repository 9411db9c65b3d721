"""One squad's question as arrays: athletes x kinds x heights, ready for every draw at once.

Hips and back do not depend on the push, and knees and adductors share one multiplier, so what the legs allow at a
height is a function of that multiplier alone: it is tabulated once (`legs`), which makes a draw cheap.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from analysis.core.records.demands import DemandTable, KindDemand, StrengthPrior
from analysis.core.records.plain import CoreError
from analysis.core.records.terms import MISS_POSITIONS, band_edges

FloatArray = npt.NDArray[np.float64]

BIG_KG = 1e4  # stands for "does not limit"
LEGS_LOW, LEGS_HIGH, LEGS_STEPS = -1.7, 2.5, 169  # grid of the log legs multiplier
SIGNS = ("never-moved", "slowed-stopped", "back-rounded", "straight-but-round", "hips-shot-up")
NOT_NOTED = len(SIGNS)
MISSED, MADE_HEAVY = 0, 1


@dataclass(frozen=True, slots=True)
class Stuck:
    """Where one lift stopped (missed) or was slowest (made heavy); indices into kinds, positions and signs."""

    key: str
    kind: int
    position: int
    sign: int = NOT_NOTED
    quality: int = MISSED
    share: float = 1.0


@dataclass(frozen=True, slots=True)
class Evidence:
    """What one log says: per kind a level (log kg, NaN = none) with its SD, stuck lifts, and who gave way at the hands.

    `grip_opened` and `grip_held` count misses per kind where the grip opened and where something else gave way.
    """

    level: FloatArray
    level_sd: FloatArray
    stuck: tuple[Stuck, ...]
    grip_opened: FloatArray
    grip_held: FloatArray


@dataclass(frozen=True, slots=True)
class Problem:
    """Stacked tables and evidence: A athletes, K kinds (padded), H heights; see the fields' names."""

    prior: tuple[StrengthPrior, ...]
    prior_mean: FloatArray  # A x 4
    prior_root: FloatArray  # A x 4 x 4, log multiplier = mean + root @ standard normal
    u: FloatArray  # A x K x H
    hip_gain: FloatArray  # kg per unit of multiplier
    hip_drop: FloatArray  # kg taken by the body itself
    back_gain: FloatArray
    back_drop: FloatArray
    legs: FloatArray  # A x K x steps x H, kg
    bend: FloatArray  # A x K x H, kg
    grip_kg: FloatArray  # A x K, before the style's mean factor, as the links' loads are
    notes: FloatArray  # A x K x H x positions: chance of each note at each height
    level: FloatArray  # A x K, less the style mean; 0 where there is none
    precision: FloatArray  # A x K x K, zero rows where there is none
    error_cov: FloatArray  # A x K x K: style factor and model error of every kind
    style_mean: FloatArray  # A x K
    level_var: FloatArray  # A x K, inf where there is none
    counts: FloatArray  # A x K x 2 x positions x (signs + 1)
    grip_opened: FloatArray
    grip_held: FloatArray
    is_pull: npt.NDArray[np.bool_]  # A x K
    centres: Mapping[str, float]

    @property
    def shape(self) -> tuple[int, int, int]:
        """Athletes, kinds, heights."""
        athletes, kinds, heights = self.u.shape
        return athletes, kinds, heights


def stack(tables: Sequence[DemandTable], evidence: Sequence[Evidence], settings: Mapping[str, float]) -> Problem:
    """The squad's tables and evidence as one Problem; kinds are padded to the longest table."""
    count = max(len(t.kinds) for t in tables)
    blur = settings["weak.blur"]
    rows = [[_kind_arrays(k, blur) for k in _padded(t, count)] for t in tables]

    def field(name: str) -> FloatArray:
        return np.array([[kind[name] for kind in row] for row in rows])

    errors = np.array([_error_cov(_padded(t, count), settings) for t in tables])
    levels = [_padded_levels(e, count) for e in evidence]
    level, var = np.array([v[0] for v in levels]), np.array([v[1] for v in levels])
    style_mean = field("style_mean")
    return Problem(
        prior=tuple(t.prior for t in tables),
        prior_mean=np.array([t.prior.log_mean for t in tables]),
        prior_root=np.array([_root(t.prior) for t in tables]),
        u=field("u"),
        hip_gain=field("hip_gain"),
        hip_drop=field("hip_drop"),
        back_gain=field("back_gain"),
        back_drop=field("back_drop"),
        legs=field("legs"),
        bend=field("bend"),
        grip_kg=field("grip_kg"),
        notes=field("notes"),
        level=np.where(np.isfinite(var), level - style_mean, 0.0),
        precision=np.array([level_precision(c, v) for c, v in zip(errors, var, strict=True)]),
        error_cov=errors,
        style_mean=style_mean,
        level_var=var,
        counts=np.array([_counts(e.stuck, count) for e in evidence]),
        grip_opened=np.array([_pad(e.grip_opened, count) for e in evidence]),
        grip_held=np.array([_pad(e.grip_held, count) for e in evidence]),
        is_pull=np.array([[k.lift == "deadlift" for k in _padded(t, count)] for t in tables]),
        centres={k: settings[k] for k in ("weak.wrong_note", "weak.seen_strength", "weak.sharpness")},
    )


def _padded(table: DemandTable, count: int) -> list[KindDemand]:
    return list(table.kinds) + [table.kinds[0]] * (count - len(table.kinds))


def _pad(values: FloatArray, count: int, fill: float = 0.0) -> FloatArray:
    return np.concatenate([values, np.full(count - len(values), fill)])


def _padded_levels(evidence: Evidence, count: int) -> tuple[FloatArray, FloatArray]:
    known = np.isfinite(evidence.level)
    var = np.where(known, evidence.level_sd**2, np.inf)
    return _pad(np.where(known, evidence.level, 0.0), count), _pad(var, count, np.inf)


def _root(prior: StrengthPrior) -> FloatArray:
    return np.asarray(prior.log_sd[:, None] * np.linalg.cholesky(prior.correlation))


@lru_cache(maxsize=8192)
def _kind_arrays(kind: KindDemand, blur_m: float) -> dict[str, FloatArray | float]:
    """One kind as the draws need it; kept, since the same tables are asked again whenever a set is logged."""
    hip_gain, hip_drop = _line(kind, 0)
    back_gain, back_drop = _line(kind, 3)
    return {
        "u": kind.u,
        "hip_gain": hip_gain,
        "hip_drop": hip_drop,
        "back_gain": back_gain,
        "back_drop": back_drop,
        "legs": legs_allowed(kind, np.exp(np.linspace(LEGS_LOW, LEGS_HIGH, LEGS_STEPS))),
        "bend": np.minimum(kind.bend_kg, BIG_KG * 10),
        "grip_kg": min(kind.grip_kg, BIG_KG) * float(np.exp(-kind.style_mean)),
        "notes": note_chances(kind, blur_m),
        "style_mean": kind.style_mean,
    }


def _line(kind: KindDemand, link: int) -> tuple[FloatArray, FloatArray]:
    """kg per unit of multiplier and kg taken by the body, for a link that the push does not change."""
    a, b = kind.a[link], kind.b[link]
    if np.ptp(a, axis=0).max() > 1e-6 * np.abs(a).max() or np.ptp(b, axis=0).max() > 1e-3:
        raise CoreError("demand table", "the hip's and the back's demand must not depend on the push")
    limits = kind.valid & (a[0] > 1e-6)
    safe = np.where(limits, a[0], 1.0)
    return np.where(limits, kind.capacity[link] / safe, BIG_KG), np.where(limits, b[0] / safe, 0.0)


def legs_allowed(kind: KindDemand, multipliers: FloatArray) -> FloatArray:
    """Load that knees and adductors allow, kg, multipliers x heights, at the push that lets them carry most."""
    a, b = kind.a[1:3], kind.b[1:3]  # links x push x heights
    force = multipliers[:, None, None, None] * kind.capacity[1:3][:, None, :] - b
    load = np.where(a > 1e-6, force / np.where(a > 1e-6, a, 1.0), np.where(force > 0.0, BIG_KG, 0.0))
    best = np.minimum(load.min(axis=1).max(axis=1), BIG_KG)
    return np.where(kind.valid, best, BIG_KG)


def note_chances(kind: KindDemand, blur_m: float) -> FloatArray:
    """Chance of each noted position at each height (heights x positions): `band_edges` blurred over `blur_m` in all."""
    edges = band_edges(float(kind.z[0]), kind.knee_z, float(kind.z[-1]))
    below = 1.0 / (1.0 + np.exp(-1.702 * (np.array(edges) - kind.z[:, None]) / (0.5 * blur_m)))
    reached = np.concatenate([np.zeros((len(kind.z), 1)), below, np.ones((len(kind.z), 1))], axis=1)
    return np.maximum(np.diff(reached, axis=1), 1e-9)


def _error_cov(kinds: Sequence[KindDemand], settings: Mapping[str, float]) -> FloatArray:
    """Covariance (log) between the kinds: style factor by family, model error by lift, style and start."""
    family = np.array([k.family for k in kinds])
    place = np.array([f"{k.lift}|{k.style}|{k.start_offset_m:.3f}" for k in kinds])
    style = np.array([k.style_sd for k in kinds])
    model = np.sqrt(np.array([settings["weak.model_sd"] ** 2 + k.body_sd**2 for k in kinds]))
    cov = (family[:, None] == family) * np.outer(style, style)
    cov = cov + (place[:, None] == place) * np.outer(model, model)
    return np.asarray(cov + np.eye(len(kinds)) * settings["weak.tag_sd"] ** 2)


def level_precision(error_cov: FloatArray, level_var: FloatArray) -> FloatArray:
    """Inverse covariance of (level - predicted) over the kinds that have a level, zero elsewhere."""
    known = np.isfinite(level_var)
    precision = np.zeros_like(error_cov)
    if known.any():
        here = np.ix_(known, known)
        precision[here] = np.linalg.inv(error_cov[here] + np.diag(level_var[known]))
    return precision


def _counts(stuck: Sequence[Stuck], kinds: int) -> FloatArray:
    counts = np.zeros((kinds, 2, len(MISS_POSITIONS), len(SIGNS) + 1))
    for one in stuck:
        counts[one.kind, one.quality, one.position, one.sign] += one.share
    return counts
