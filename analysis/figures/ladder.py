"""The pull as a ladder from floor to lockout: where misses stopped, where the model expects the bar to stick."""

from __future__ import annotations

from html import escape

from analysis.core.records.weak_link import StyleReading

WIDTH, HEIGHT, TOP, BOTTOM, RAIL = 340, 430, 24, 390, 118
ZONES = (
    ("floor", 0.0), ("mid-shin", 0.22), ("below-knee", 0.38), ("at-knee", 0.5), ("mid-thigh", 0.74), ("lockout", 1.0),
)  # fmt: skip
NAMES = {
    "floor": "floor", "mid-shin": "mid-shin", "below-knee": "below knee", "at-knee": "at the knee",
    "mid-thigh": "mid-thigh", "lockout": "lockout",
}  # fmt: skip


def height_on_page(share: float) -> float:
    """Vertical place of a share of the pull, 0 at the floor and 1 at lockout."""
    return BOTTOM - (BOTTOM - TOP) * min(max(share, 0.0), 1.0)


def pull_ladder(reading: StyleReading) -> str:
    """An inline SVG of one style: rail, named heights, a mark per miss, an arrow where the bar is expected to stick."""
    parts = [_rail(), *_names(), *_marks(reading), _stick(reading)]
    title = f"Where {reading.label} stopped and where it is expected to stick"
    head = (
        f'<svg class="ladder" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" aria-label="{escape(title)}: '
        f'{escape(ladder_words(reading))}">'
    )
    return head + "".join(parts) + "</svg>"


def ladder_words(reading: StyleReading) -> str:
    """The same in a sentence, for readers who cannot see the drawing."""
    counted = [m for m in reading.miss_marks if m.counted]
    places = ", ".join(f"{NAMES[m.position]} ({m.day:%-d %b %Y})" for m in counted)
    places = f"Stopped: {places}" if places else "No miss counts"
    return f"{places}; expected to stick: {NAMES.get(reading.sticking_position, reading.sticking_position)}."


def _rail() -> str:
    line = f'<line x1="{RAIL}" x2="{RAIL}" y1="{TOP}" y2="{BOTTOM}" class="rail"/>'
    ground = f'<line x1="{RAIL - 60}" x2="{WIDTH - 20}" y1="{BOTTOM}" y2="{BOTTOM}" class="ground"/>'
    return line + ground


def _names() -> list[str]:
    return [_name(NAMES[zone], height_on_page(share)) for zone, share in ZONES]


def _name(words: str, y: float) -> str:
    rung = f'<line x1="{RAIL - 6}" x2="{RAIL + 6}" y1="{y:.1f}" y2="{y:.1f}" class="rung"/>'
    return f'{rung}<text x="{RAIL - 12}" y="{y - 5:.1f}" text-anchor="end">{words}</text>'


def _marks(reading: StyleReading) -> list[str]:
    """One ring per miss; those left out of the estimate are open and dashed."""
    seen: dict[int, int] = {}
    made = []
    for mark in reading.miss_marks:
        y = height_on_page(mark.share)
        column = seen.get(round(y), 0)
        seen[round(y)] = column + 1
        look = "miss" if mark.counted else "miss left-out"
        made.append(f'<circle cx="{RAIL + 24 + 20 * column}" cy="{y:.1f}" r="7" class="{look}"/>')
    return made


def _stick(reading: StyleReading) -> str:
    y = height_on_page(reading.sticking_share)
    arrow = f"M{WIDTH - 20} {y:.1f} h-70 m14 -7 l-14 7 l14 7"
    words = f'<text x="{WIDTH - 20}" y="{y - 9:.1f}" text-anchor="end">expected to stick</text>'
    return f'<path d="{arrow}" class="stick"/>{words}'
