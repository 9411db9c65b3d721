"""Every number of the trade as a named setting, in one registry that pages list and clubs override."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from analysis.core.settings.bests import BESTS, GRIP_AND_BAR, LOAD
from analysis.core.settings.meets import MEETS, WARM_UPS
from analysis.core.settings.record import (
    CALIBRATION,
    COMMON_PRACTICE,
    Setting,
    SettingOutOfRange,
    Settings,
    check_value,
)
from analysis.core.settings.squad import SQUAD
from analysis.core.settings.styles import NEXT, STYLES
from analysis.core.settings.trials import TRIALS
from analysis.core.settings.weak_link import HOUSE, WEAK_LINK

__all__ = [
    "CALIBRATION",
    "COMMON_PRACTICE",
    "DEFAULTS",
    "GROUPS",
    "REGISTRY",
    "Setting",
    "SettingOutOfRange",
    "Settings",
    "check_value",
    "layered",
]

GROUPS: tuple[tuple[str, tuple[Setting, ...]], ...] = (
    ("Running bests", BESTS),
    ("Grip and bar", GRIP_AND_BAR),
    ("Lower back and frequency", LOAD),
    ("Misses and weak link", WEAK_LINK),
    ("Style trials", TRIALS),
    ("Which style", STYLES),
    ("Next action", NEXT),
    ("Meet attempts", MEETS),
    ("Warm-ups", WARM_UPS),
    ("Squad review", SQUAD),
    ("House rules", HOUSE),
)

REGISTRY: Mapping[str, Setting] = MappingProxyType({s.key: s for _, group in GROUPS for s in group})
DEFAULTS = Settings(REGISTRY)


def layered(*layers: Mapping[str, float]) -> Settings:
    """The defaults with each layer laid over the one before (club first, then athlete)."""
    settings = DEFAULTS
    for layer in layers:
        settings = settings.with_values(layer)
    return settings
