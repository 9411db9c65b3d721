"""Four bodies x four styles x five heights as one picture, to look at: would a coach believe each of them?

Run `python -m tests.benchmarks.draw_postures OUT.svg`; plain SVG, side view, the near side's joints and the bar.
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np

from analysis.core.body.body import Body, joined
from analysis.core.leverages.style_reports import joint_places
from analysis.core.pull.checks import reference_body
from analysis.core.pull.pull import Postures, postures_at, rig_of
from analysis.core.pull.setups import DEFAULT_SETUPS, filled_setup, setup_arrays

BODIES = (
    ("man 1.78 m", ("filled", "m", 1.78, 85.0)),
    ("woman 1.62 m", ("filled", "f", 1.62, 62.0)),
    ("tall man 1.96 m", ("filled", "m", 1.96, 105.0)),
    ("man, rough shares", ("rough", "m", 1.70, 75.0)),
)
HEIGHTS = ("lift-off", "mid shin", "knee", "mid thigh", "near lockout")
SCALE, WIDE, HIGH = 120.0, 150, 230  # pixels per metre, of one drawing


def heights_of(r) -> np.ndarray:
    """Bar heights (bodies, styles, 5): start, half-way to the knee, knee, half-way to lockout, 3 cm short of it."""
    start = r.setups.start_height + 0.0 * r.knee_z
    return np.concatenate(
        [start, 0.5 * (start + r.knee_z), r.knee_z, 0.5 * (r.knee_z + r.lockout_z), r.lockout_z - 0.03], axis=-1
    )


def _figure(places: dict[str, np.ndarray], at: tuple[int, int, int], left: float, floor: float) -> list[str]:
    def xy(name: str) -> tuple[float, float]:
        x, _, z = places[name][at]
        return left + WIDE * 0.55 + SCALE * x, floor - SCALE * z

    def line(names: tuple[str, ...], width: int, colour: str) -> str:
        points = " ".join(f"{x:.1f},{y:.1f}" for x, y in map(xy, names))
        look = f'fill="none" stroke="{colour}" stroke-width="{width}" stroke-linecap="round" stroke-linejoin="round"'
        return f'<polyline points="{points}" {look}/>'

    (bx, by), (hx, hy) = xy("hand"), xy("head")
    return [
        f'<circle cx="{bx:.1f}" cy="{by:.1f}" r="{SCALE * 0.225:.1f}" fill="#eee" stroke="#aaa"/>',
        line(("heel", "toe"), 4, "#444"),
        line(("ankle", "knee", "hip"), 7, "#4a6fa5"),
        line(("hip", "mid_spine", "shoulder"), 8, "#7a5195"),
        line(("shoulder", "hand"), 4, "#b07d2b"),
        f'<circle cx="{hx:.1f}" cy="{hy:.1f}" r="{SCALE * 0.10:.1f}" fill="#7a5195"/>',
        f'<circle cx="{bx:.1f}" cy="{by:.1f}" r="3" fill="#000"/>',
    ]


def picture(body: Body, p: Postures, places: dict[str, np.ndarray]) -> str:
    """All drawings as one SVG, a row per body and style, a column per height."""
    rows, marks = len(BODIES) * len(DEFAULT_SETUPS), []
    for row in range(rows):
        who, style = divmod(row, len(DEFAULT_SETUPS))
        floor = (row + 1) * HIGH - 20
        marks.append(f'<text x="4" y="{floor - HIGH + 34}">{BODIES[who][0]}, {DEFAULT_SETUPS[style].preset}</text>')
        for column in range(len(HEIGHTS)):
            left, at = column * WIDE * 1.25 + 60, (who, style, column)
            marks += _figure(places, at, left, floor)
            angles = [np.degrees(a[at]) for a in (p.knee_flexion, p.hip_angle, p.trunk_angle)]
            words = "knee {:.0f} hip {:.0f} trunk {:.0f}".format(*angles)
            marks.append(f'<text x="{left + 10}" y="{floor + 14}">{words}</text>')
        marks.append(f'<line x1="0" x2="1100" y1="{floor}" y2="{floor}" stroke="#ccc"/>')
    style = "<style>text{font:11px sans-serif}</style>"
    size = f'width="1100" height="{rows * HIGH}"'
    body_text = "\n".join(marks)
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{style}<rect {size} fill="#fff"/>{body_text}</svg>'


def main(out: Path) -> None:
    body = joined([reference_body(*arguments) for _, arguments in BODIES])
    r = rig_of(body, setup_arrays([filled_setup(asked) for asked in DEFAULT_SETUPS], body))
    p = postures_at(r, heights_of(r))
    out.write_text(picture(body, p, joint_places(r, p)), encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
