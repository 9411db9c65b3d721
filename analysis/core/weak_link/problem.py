"""One squad's question as arrays: athletes x kinds x heights, ready for every draw at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from analysis.core.records.demands import DemandTable, KindDemand, StrengthPrior
from analysis.core.records.terms import MISS_POSITIONS
from analysis.core.weak_link.tabulated import kind_arrays

FloatArray = npt.NDArray[np.float64]

SIGNS = ("never-moved", "slowed-stopped", "back-rounded", "straight-but-round", "hips-shot-up")
NOT_NOTED = len(SIGNS)
NOT_PLACED = len(MISS_POSITIONS)
MISSED, MADE_HEAVY = 0, 1
HABIT_CONCENTRATION = 0.5  # of each class of a Dirichlet: a habit favours one or two places (calibration)
ALIKE = 0.1  # notes of one lifter resemble each other: n count as n / (1 + ALIKE (n - 1)) (calibration)
HELD_ALIKE = 0.5  # the same for notes that the grip held


@dataclass(frozen=True, slots=True)
class Stuck:
    """Where one lift stopped (missed) or was slowest (made heavy); indices into kinds, positions and signs.

    `share` is how much the note counts; `fatigue` (0-1) how much of a fresh hard day's tiredness was left; `excess`
    the part of ln(load / level) that is put on the day's strength.
    """

    key: str
    kind: int
    position: int
    sign: int = NOT_NOTED
    quality: int = MISSED
    share: float = 1.0
    fatigue: float = 0.0
    excess: float = 0.0

    @property
    def condition(self) -> Condition:
        """What notes must share to have the same chances."""
        return self.kind, self.fatigue, self.excess


Condition = tuple[int, float, float]  # kind, fatigue, excess


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
    knee_gain: FloatArray  # the three limits of the legs, A x K x 3 x H: kg per unit of the knees' multiplier
    adductor_gain: FloatArray  # per unit of the adductors'
    legs_drop: FloatArray
    knee_log: FloatArray  # A x K x H, log median of the knee's demand over the net moment's
    knee_sd: FloatArray  # A x K x H, its log SD
    knee_mix: FloatArray  # A x K x 2, which of the two knee unknowns it follows
    above: FloatArray  # A x K x H, 0 in the floor band and 1 above it; 0 throughout in squats
    bend: FloatArray  # A x K x H, kg
    grip_kg: FloatArray  # A x K, before the style's mean factor, as the links' loads are
    notes: FloatArray  # A x K x H x positions: chance of each note at each height
    stops: FloatArray  # the same times the metres for which each height stands
    level: FloatArray  # A x K, less the style mean; 0 where there is none
    precision: FloatArray  # A x K x K, zero rows where there is none
    error_cov: FloatArray  # A x K x K: style factor and model error of every kind
    style_mean: FloatArray  # A x K
    level_var: FloatArray  # A x K, inf where there is none
    counts: FloatArray  # A x conditions x 2 x (positions + 1) x (signs + 1)
    grip_opened: FloatArray
    grip_held: FloatArray
    is_pull: npt.NDArray[np.bool_]  # A x K
    conditions: tuple[Condition, ...]
    centres: Mapping[str, float]

    @property
    def shape(self) -> tuple[int, int, int]:
        """Athletes, kinds, heights."""
        athletes, kinds, heights = self.u.shape
        return athletes, kinds, heights


SHARED = ("conditions", "centres")  # fields of a Problem that are not one row an athlete


def stack(tables: Sequence[DemandTable], evidence: Sequence[Evidence], settings: Mapping[str, float]) -> Problem:
    """The squad's tables and evidence as one Problem; kinds are padded to the longest table."""
    count = max(len(t.kinds) for t in tables)
    blur = settings["weak.blur"]
    rows = [[kind_arrays(k, blur) for k in _padded(t, count)] for t in tables]
    fields = {name: np.array([[kind[name] for kind in row] for row in rows]) for name in rows[0][0]}
    errors = np.array([_error_cov(_padded(t, count), settings) for t in tables])
    levels = [_padded_levels(e, count) for e in evidence]
    level, var = np.array([v[0] for v in levels]), np.array([v[1] for v in levels])
    conditions = tuple(sorted({s.condition for e in evidence for s in e.stuck}))
    return Problem(
        **fields,
        prior=tuple(t.prior for t in tables),
        prior_mean=np.array([t.prior.log_mean for t in tables]),
        prior_root=np.array([_root(t.prior) for t in tables]),
        level=np.where(np.isfinite(var), level - fields["style_mean"], 0.0),
        precision=np.array([level_precision(c, v) for c, v in zip(errors, var, strict=True)]),
        error_cov=errors,
        level_var=var,
        counts=np.array([note_counts(e.stuck, conditions) for e in evidence]),
        grip_opened=np.array([_pad(e.grip_opened, count) for e in evidence]),
        grip_held=np.array([_pad(e.grip_held * worth(e.grip_held.sum(), HELD_ALIKE), count) for e in evidence]),
        is_pull=np.array([[k.lift == "deadlift" for k in _padded(t, count)] for t in tables]),
        conditions=conditions,
        centres={k: settings[k] for k in ("weak.wrong_note", "weak.seen_strength", "weak.sharpness")},
    )


def worth(number: float, alike: float) -> float:
    """What each of `number` notes that resemble each other counts for, 0-1."""
    return 1.0 / (1.0 + alike * max(number - 1.0, 0.0))


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


def note_counts(stuck: Sequence[Stuck], conditions: Sequence[Condition]) -> FloatArray:
    """How much was noted: conditions x 2 x (positions + 1) x (signs + 1)."""
    counts = np.zeros((len(conditions), 2, len(MISS_POSITIONS) + 1, len(SIGNS) + 1))
    for one in stuck:
        counts[conditions.index(one.condition), one.quality, one.position, one.sign] += one.share
    return counts
