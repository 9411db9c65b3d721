"""Records as plain JSON-able data, so that a stored profile is text and not code."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from datetime import date
from typing import Any

import numpy as np


def to_plain(value: Any) -> Any:
    """Dicts, lists, strings and numbers of a record; dates as ISO text, arrays as lists, other keys as text."""
    if is_dataclass(value) and not isinstance(value, type):
        return {f.name: to_plain(getattr(value, f.name)) for f in fields(value)}
    if isinstance(value, dict):
        return {str(key): to_plain(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple | set | frozenset):
        return [to_plain(inner) for inner in value]
    if isinstance(value, np.ndarray):
        return to_plain(value.tolist())
    if isinstance(value, np.generic):
        return to_plain(value.item())
    if isinstance(value, float) and not np.isfinite(value):
        return None
    return value.isoformat() if isinstance(value, date) else value
