"""Terms of the vocabularies as people say them, and dates as they are written in sentences."""

from __future__ import annotations

from datetime import date

STYLE_WORDS = {"conventional": "conventional", "sumo": "sumo", "wide-sumo": "wide sumo", "": "style not noted"}
PLACE_WORDS = {
    "floor": "at the floor",
    "mid-shin": "at mid-shin",
    "below-knee": "just below the knee",
    "at-knee": "at the knee",
    "mid-thigh": "at mid-thigh",
    "lockout": "at lockout",
}
SEEN_WORDS = {
    "never-moved": "the bar never moved",
    "slowed-stopped": "slowed and stopped, back flat",
    "back-rounded": "back rounded",
    "straight-but-round": "hips and knees straight, back still round",
    "hips-shot-up": "hips shot up",
    "grip-opened": "grip opened",
    "lost-balance": "lost balance",
    "feet-moved": "knees or feet moved",
}
BAR_WORDS = {
    "unknown": "bar not noted",
    "stiff": "stiff bar",
    "training": "training bar",
    "flexible": "flexible bar",
    "squat-bar": "squat bar",
    "hex-low": "hex bar, low handles",
    "hex-high": "hex bar, high handles",
    "other": "other bar",
}


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
