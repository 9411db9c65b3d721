"""Readings of every style that the log itself informs."""

from __future__ import annotations

from collections.abc import Sequence

from analysis.core.estimates.comparable import kind_key
from analysis.core.estimates.comparable import label as kind_label
from analysis.core.estimates.misses import MissReading
from analysis.core.records.terms import STYLES
from analysis.core.records.weak_link import StyleReading
from analysis.core.settings import Settings
from analysis.core.weak_link.estimate import Estimate
from analysis.core.weak_link.kinds import Logged
from analysis.core.weak_link.readings import style_reading


def readings_by_style(
    found: Estimate, log: Logged, readings: Sequence[MissReading], main: str, settings: Settings
) -> tuple[StyleReading, ...]:
    """The main style first; another style only when its own floor pulls are logged, so that no ratio is predicted."""
    kinds = {kind_key(k): k for k in found.kinds}
    order = [main, *(s for s in STYLES if s != main)]
    out = []
    for style in order:
        own = [k for k in log.kinds(style) if kind_key(k) in {d.key for d in found.table.kinds}]
        if style != main and not own:
            continue
        at = found.main if style == main else found.table.index(kind_key(own[0]))
        kind = found.table.kinds[at]
        best = log.bests.get(kinds[kind.key]) if kind.key in kinds else None
        name = kind_label(kinds[kind.key]) if kind.key in kinds else f"{style}, floor"
        rests_on = len(best.points) if best else 0
        out.append(
            style_reading(found.problem, found.posterior, found.even, kind, at, name, rests_on, readings, settings)
        )
    return tuple(out)
