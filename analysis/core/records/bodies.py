"""Bodies in and out of the mechanics: measurements in, lengths with their spread and origin out (SI)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class BodyInput:
    """What is known of one athlete: `measured_m` by anthropometry variable in m ("mass" in kg), age in years.

    `sex` ("m" or "f") picks the reference table. `sd_m` overrides the measurement error of a variable. `arm_factor`
    lengthens or shortens the arm and nothing else (a what-if).
    """

    sex: str
    measured_m: Mapping[str, float]
    sd_m: Mapping[str, float] = field(default_factory=dict)
    age: float | None = None
    name: str = ""
    arm_factor: float = 1.0


@dataclass(frozen=True, slots=True)
class FilledLength:
    """One length (m; mass in kg) with its standard deviation; `origin` is "measured", "partly" or "estimated"."""

    key: str
    value: float
    sd: float
    origin: str


@dataclass(frozen=True, slots=True)
class FilledBody:
    """One athlete's body with nothing missing: every measurement and every link, each with its spread."""

    sex: str
    age: float | None
    measurements: tuple[FilledLength, ...]
    links: tuple[FilledLength, ...]
    warnings: tuple[str, ...]

    def link(self, key: str) -> FilledLength:
        """The link called `key`; KeyError when there is none."""
        return next(length for length in self.links if length.key == key)

    def measurement(self, key: str) -> FilledLength:
        """The measurement called `key`; KeyError when there is none."""
        return next(length for length in self.measurements if length.key == key)
