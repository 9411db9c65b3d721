"""What a named number of the trade is: a default, its limits, where it comes from, and who may change it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from analysis.core.records.plain import CoreError, UnknownKey

COMMON_PRACTICE = "common practice, no source"
CALIBRATION = "calibration"
FROM_MEMORY = "from memory"


@dataclass(frozen=True, slots=True)
class Setting:
    """One editable number: `share` is a fraction of 1, `switch` 0 or 1, `choice` a place in `choices`."""

    key: str
    default: float
    unit: str
    low: float
    high: float
    source: str
    help: str
    choices: tuple[str, ...] = ()

    @property
    def group(self) -> str:
        """The part of the key before the dot, which groups settings on a page."""
        return self.key.partition(".")[0]

    @property
    def is_common_practice(self) -> bool:
        """Whether the page must show the mark "common practice, no source"."""
        return self.source == COMMON_PRACTICE


def practice(key: str, default: float, unit: str, low: float, high: float, help_text: str) -> Setting:
    """A number of the trade that no study supports."""
    return Setting(key, default, unit, low, high, COMMON_PRACTICE, help_text)


class SettingOutOfRange(CoreError):
    """A value for a setting outside its limits, or not a number."""


@dataclass(frozen=True)
class Settings(Mapping[str, float]):
    """All settings with the values chosen for one athlete; read as `settings["trial.weeks_least"]`."""

    registry: Mapping[str, Setting]
    chosen: Mapping[str, float] = field(default_factory=dict)

    def __getitem__(self, key: str) -> float:
        """The chosen value, else the default; UnknownKey when no such setting exists."""
        if key in self.chosen:
            return self.chosen[key]
        if key not in self.registry:
            raise UnknownKey("setting", f"there is no setting called {key!r}")
        return self.registry[key].default

    def __iter__(self) -> Iterator[str]:
        return iter(self.registry)

    def __len__(self) -> int:
        return len(self.registry)

    def on(self, key: str) -> bool:
        """Whether a switch is on."""
        return self[key] >= 0.5

    def choice(self, key: str) -> str:
        """The word chosen for a setting of unit `choice`."""
        return self.registry[key].choices[round(self[key])]

    def with_values(self, overrides: Mapping[str, float]) -> Settings:
        """These settings with some values replaced; later layers (club, then athlete) win."""
        for key, value in overrides.items():
            check_value(self.registry, key, value)
        return Settings(self.registry, {**self.chosen, **overrides})


def check_value(registry: Mapping[str, Setting], key: str, value: float) -> None:
    """Raise UnknownKey or SettingOutOfRange with the limits named, or return nothing."""
    if key not in registry:
        raise UnknownKey("setting", f"there is no setting called {key!r}")
    setting = registry[key]
    if not setting.low <= value <= setting.high:
        raise SettingOutOfRange(key, f"{value:g} is outside {setting.low:g} to {setting.high:g} {setting.unit}")
