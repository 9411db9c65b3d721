"""Records as plain JSON-able data, so that a stored profile is text and not code."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from datetime import date
from math import isfinite
from typing import Any

import numpy as np

AS_THEY_ARE = frozenset((str, int, bool, type(None)))


def to_plain(value: Any) -> Any:
    """Dicts, lists, strings and numbers of a record; dates as ISO text, arrays as lists, other keys as text."""
    if type(value) in AS_THEY_ARE:
        return value
    if isinstance(value, list | tuple | set | frozenset):
        return [to_plain(inner) for inner in value]
    if isinstance(value, dict):
        return {str(key): to_plain(inner) for key, inner in value.items()}
    if isinstance(value, np.ndarray):
        return to_plain(value.tolist())
    if isinstance(value, np.generic):
        return to_plain(value.item())
    if isinstance(value, float):
        return value if isfinite(value) else None
    if isinstance(value, date):
        return value.isoformat()
    if is_dataclass(value) and not isinstance(value, type):
        return {f.name: to_plain(getattr(value, f.name)) for f in fields(value)}
    return value
