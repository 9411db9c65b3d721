"""One listed number: its name, its value as it stands in the program, how surely it is known, where it comes from."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import timedelta
from types import ModuleType
from typing import Any

import numpy as np

from analysis.core.body.constants import Constant
from analysis.core.settings import CALIBRATION, COMMON_PRACTICE, Setting

PRACTICE = "common practice"
KINDS = ("published", "calibration", "from memory", PRACTICE, "fineness")
FINENESS = "fineness", "how finely it is computed; says nothing about lifters"
NO_SOURCE = PRACTICE, COMMON_PRACTICE


@dataclass(frozen=True, slots=True)
class ShownNumber:
    """One number as text; `where` is "module.NAME" for a number that lives in a module."""

    name: str
    value: str
    kind: str
    source: str
    where: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """Numbers of one part under one heading."""

    heading: str
    rows: tuple[ShownNumber, ...]


def number(value: Any, unit: str = "1") -> str:
    """A value written out: a number, a time, or several of them with commas."""
    after = "" if unit in ("1", "") else f" {unit}"
    if isinstance(value, timedelta):
        return f"{value.days} days"
    if isinstance(value, list | tuple | np.ndarray):
        return ", ".join(number(one) for one in value) + after
    if isinstance(value, str):
        return value + after
    return f"{value:.4g}{after}"


def living(module: ModuleType, name: str, label: str, unit: str, kind: tuple[str, str]) -> ShownNumber:
    """A number that lives in a module under `name`, read there; `kind` is (kind, source)."""
    return ShownNumber(label, number(getattr(module, name), unit), *kind, where=f"{module.__name__}.{name}")


def parts(
    module: ModuleType, name: str, kind: tuple[str, str], written: Iterable[tuple[str, str]]
) -> list[ShownNumber]:
    """Rows (label, value) of a table that lives in a module under `name`."""
    where = f"{module.__name__}.{name}"
    return [ShownNumber(label, value, *kind, where=where) for label, value in written]


def of_constant(constant: Constant) -> ShownNumber:
    """A listed constant of the mechanics."""
    return ShownNumber(constant.key, number(constant.value, constant.unit), constant.kind, constant.source)


def of_setting(setting: Setting) -> ShownNumber:
    """A setting with its default; what it is called on the page of settings is its sentence."""
    kind = {COMMON_PRACTICE: PRACTICE, CALIBRATION: "calibration"}.get(setting.source, "published")
    if "no source" in setting.source:
        kind = PRACTICE
    if setting.unit == "choice":
        value = setting.choices[round(setting.default)].replace("-", " and ")
    elif setting.unit == "switch":
        value = "on" if setting.default else "off"
    else:
        value = number(setting.default, setting.unit)
    return ShownNumber(f"{setting.help} (setting {setting.key})", value, kind, setting.source)


def settings_group(heading: str, settings: Sequence[Setting]) -> Group:
    """The settings of one part."""
    return Group(f"{heading}: settings a club may change", tuple(of_setting(one) for one in settings))
