"""The vocabularies of the schema as plain tuples, in the order the core indexes them, and the core's own terms."""

from __future__ import annotations

from datetime import date
from itertools import accumulate, pairwise

from athletes.schema.vocabulary import (
    BAR_WORDS,
    PLACE_WORDS,
    SEEN_WORDS,
    STYLE_UNNOTED,
    BarKind,
    GaveWay,
    Grip,
    Lift,
    MissPosition,
    Result,
    Shape,
    Standing,
    Start,
    Style,
)

STYLES = tuple(Style.values)
POSTURE_PRESETS = (*STYLES, "rounded")
LIFTS = tuple(Lift.values)
SHAPES = tuple(Shape.values)
BARS = tuple(BarKind.values)
GRIPS = tuple(Grip.values)
STARTS = tuple(Start.values)
RESULTS = tuple(Result.values)
MISS_POSITIONS = tuple(MissPosition.values)
GAVE_WAY = tuple(GaveWay.values)
LINKS = ("hips", "legs", "back", "grip")
STANDINGS = tuple(Standing.values)


def band_edges(start_m: float, knee_m: float, top_m: float) -> tuple[float, ...]:
    """Heights of the bar (m) between one noted position and the next, from the floor up.

    The bands end 3 cm above the start, half-way up the shin, 2 cm below the knee, 4 cm above it, and 12 cm short
    of lockout; in a pull that starts higher the bands below the start are empty (calibration).
    """
    edges = [start_m + 0.03, 0.5 * (start_m + 0.03 + knee_m - 0.06), knee_m - 0.02, knee_m + 0.04, top_m - 0.12]
    return tuple(accumulate(edges, max))


def position_heights(start_m: float, knee_m: float, top_m: float) -> dict[str, float]:
    """One height (m) for each position: the start, the middle of every band between, lockout."""
    between = [0.5 * (low + high) for low, high in pairwise(band_edges(start_m, knee_m, top_m))]
    return dict(zip(MISS_POSITIONS, [start_m, *between, top_m], strict=True))


STYLE_WORDS: dict[str, str] = {term.value: term.label for term in Style} | {"": STYLE_UNNOTED}


def written_day(day: date) -> str:
    """A day as "25 Nov 2026"."""
    return f"{day.day} {day:%b %Y}"


def counted(number: int, one: str, many: str = "") -> str:
    """A count with its noun: "1 set", "2 sets"; `many` where it is not just an s more."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def in_ten(chance: float) -> str:
    """A chance as "about 7 in 10"."""
    tenths = round(chance * 10)
    if tenths <= 0:
        return "less than 1 in 10"
    return "more than 9 in 10" if tenths >= 10 else f"about {tenths} in 10"


__all__ = ["BAR_WORDS", "PLACE_WORDS", "SEEN_WORDS", "STYLE_WORDS", "counted", "in_ten", "written_day"]
