"""A lifter's own way to stand and pull: what was seen of it, and the ten habits fitted to it. Frozen, SI, radians."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import date
from enum import StrEnum
from typing import Any

from athletes.schema.vocabulary import Arms, BackShape, BarOverFoot, Knees

# the ten habits, in the order of every vector and covariance of them
HABITS = (
    "stance_m",  # from ankle joint to ankle joint; heels of turned-out feet stand nearer together
    "turnout_rad",  # of each foot from straight ahead
    "arm_ahead_rad",  # arm ahead of the vertical at lift-off, shoulder in front of the bar positive
    "bar_ahead_m",  # bar in front of mid-foot at lift-off
    "shin_gap_m",  # bar to the front of the shin at lift-off
    "spinal_flexion_rad",  # bend of the back as the bar leaves the floor
    "girdle_m",  # reach that the shoulder girdle adds to the arm at the floor
    "drift_m",  # bar comes back from lift-off to the knee
    "lead_rad",  # knees straighter than shin contact asks as the bar passes the knee
    "arms_at_knee_rad",  # arms further ahead as the bar passes the knee
)


class Known(StrEnum):
    """What is known of how a lifter stands: nothing but people's habits, tape and eye, or measured stills."""

    HABITS = "habits"
    TAPE = "tape"
    STILLS = "stills"


@dataclass(frozen=True, slots=True)
class Seen:
    """One measured quantity: value and its standard deviation (m or rad)."""

    value: float
    sd: float


@dataclass(frozen=True, slots=True)
class PostureSeen:
    """What was seen of one lifter in one style; None = not seen. SI, radians, side view.

    `stance_m` is ankle joint to ankle joint, `heels_m` heel middle to heel middle; `by_eye` names which of "stance",
    "heels" and "turnout" were judged without a tape. Entries by eye are classes; those of stills carry their own
    standard deviation. Angles of stills: trunk (hip to shoulder), thigh and shank's lean from the vertical as in the
    model's postures, at lift-off and with the bar level with the knee.
    """

    stance_m: float | None = None
    heels_m: float | None = None
    turnout_rad: float | None = None
    by_eye: frozenset[str] = frozenset()
    bar_over: BarOverFoot | None = None
    arms: Arms | None = None
    back: BackShape | None = None
    knees: Knees | None = None
    trunk: Seen | None = None
    thigh: Seen | None = None
    shank: Seen | None = None
    arm: Seen | None = None
    hip_bar: Seen | None = None
    bar_ahead: Seen | None = None
    bend: Seen | None = None
    knee_trunk: Seen | None = None
    knee_thigh: Seen | None = None
    knee_shank: Seen | None = None
    knee_arm: Seen | None = None
    drift: Seen | None = None


@dataclass(frozen=True, slots=True)
class OwnPosture:
    """A lifter's habits in one style: values in the order of HABITS, and their covariance (row by row).

    `known` says what they rest on, `source` in words what was looked at, `day` when; who entered it is kept outside.
    """

    style: str
    values: tuple[float, ...]
    covariance: tuple[tuple[float, ...], ...]
    known: Known
    source: str
    day: date

    def as_json(self) -> dict[str, object]:
        """The record as plain values for storage; from_json reads it back."""
        return asdict(self) | {"known": self.known.value, "day": self.day.isoformat()}

    @classmethod
    def from_json(cls, stored: Mapping[str, Any]) -> OwnPosture:
        """The record from what as_json gave (lists may stand for tuples); ValueError when it is not ten habits."""
        values = tuple(map(float, stored["values"]))
        covariance = tuple(tuple(map(float, row)) for row in stored["covariance"])
        if {len(values), len(covariance), *map(len, covariance)} != {len(HABITS)}:
            raise ValueError("a stored posture needs ten habits and their covariance")
        day = date.fromisoformat(stored["day"])
        return cls(str(stored["style"]), values, covariance, Known(stored["known"]), str(stored["source"]), day)

    def value(self, habit: str) -> float:
        """One habit (m or rad)."""
        return self.values[HABITS.index(habit)]

    def sd(self, habit: str) -> float:
        """Standard deviation of one habit (m or rad)."""
        at = HABITS.index(habit)
        return float(max(self.covariance[at][at], 0.0) ** 0.5)


def least_known(sources: Sequence[Known]) -> Known:
    """What a comparison of several styles rests on: the least that is known of any of them."""
    order = tuple(Known)
    return min(sources, key=order.index, default=Known.HABITS)
