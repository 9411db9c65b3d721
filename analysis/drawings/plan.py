"""The floor from above: footprints, hands on the bar and a ruler; in the style that can be changed each is a handle."""

from __future__ import annotations

from cmath import rect
from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from math import degrees

from analysis.core.records.pulls import Setup
from analysis.drawings.front import FOOT
from analysis.drawings.marks import number
from analysis.drawings.paths import View

HALF_M = 0.78
WINDOW = View(-HALF_M, HALF_M, -0.345, 0.15)
BAR_AHEAD_M = 0.075  # of the ankles, drawn; toes point down the page
TOE_M = 0.205  # from the ankle to the tip of the foot
RULER_M = -0.275
GRAB, REACH = 7.0, 21.0  # ring that is seen and circle that can be touched, drawing units


@dataclass(frozen=True, slots=True)
class Handle:
    """One quantity that can be moved: its field in the form, its name, value, least and most, step and unit."""

    key: str
    name: str
    value: float
    low: float
    high: float
    step: float
    unit: str

    @property
    def words(self) -> str:
        """ "stance 67 cm"."""
        return f"{self.name} {self.value:g}{'' if self.unit == '°' else ' '}{self.unit}"


def plan(
    setup: Setup, words: str, handles: Sequence[Handle] = (), metres: float = 0.01, beside: Setup | None = None
) -> str:
    """Inline SVG of the floor; with `handles` it takes pointer and keys. `metres` is one unit of their lengths.

    `beside` are the feet of another style, dashed under the others.
    """
    role = f'role="group" data-metres="{metres:g}"' if handles else 'role="img"'
    others = [_foot(beside, side, moves=False) for side in (-1, 1)] if beside else []
    body = [_ruler(setup), *others, _bar()]
    body += [part(setup, side) for part in (_foot, _hand) for side in (-1, 1)]
    body += [_grab(one, setup, side) for one in handles for side in (-1, 1)]
    size = f"0 0 {number(WINDOW.width)} {number(WINDOW.height)}"
    return f'<svg class="figure-svg plan" viewBox="{size}" {role} aria-label="{escape(words)}">{"".join(body)}</svg>'


def _at(x: float, y: float) -> str:
    return f"translate({WINDOW.x(x)},{WINDOW.y(y)})"


def _foot(setup: Setup, side: int, moves: bool = True) -> str:
    """A footprint drawn straight ahead at the origin, so that moving and turning it is one attribute."""
    here = View(0.0, 1.0, 0.0, 0.0)
    outline = here.smooth([complex(side * outward, -forward) for forward, outward in FOOT])
    turn = f"{_at(side * setup.stance_m / 2, 0.0)} rotate({number(-side * degrees(setup.turnout_rad))})"
    if not moves:
        return f'<path class="foot-beside-it" transform="{turn}" d="{outline}"/>'
    return f'<g data-foot="{side}" transform="{turn}"><path class="footprint" d="{outline}"/></g>'


def _hand(setup: Setup, side: int) -> str:
    place = _at(side * setup.hand_spacing_m / 2, -BAR_AHEAD_M)
    fist = '<rect class="skin fist" x="-11" y="-6" width="22" height="12" rx="6"/>'
    return f'<g data-hand="{side}" transform="{place}">{fist}</g>'


def _bar() -> str:
    y = WINDOW.y(-BAR_AHEAD_M)
    return f'<path class="bar-rod plan-bar" d="M{WINDOW.x(-HALF_M)},{y}H{WINDOW.x(HALF_M)}"/>'


def _ruler(setup: Setup) -> str:
    """A scale from the middle outwards with the stance laid on it."""
    y, ticks = float(WINDOW.y(RULER_M)), []
    for cm in range(-70, 71, 10):
        x, long = WINDOW.x(cm / 100.0), 9 if cm % 50 == 0 else 5
        ticks.append(f"M{x},{number(y)}v{long}")
    half = setup.stance_m / 2.0
    span = f"M{WINDOW.x(-half)},{number(y - 4)}v8m0,-4H{WINDOW.x(half)}m0,-4v8"
    return f'<path class="reference" d="{"".join(ticks)}"/><path class="bracket" data-span d="{span}"/>'


def _grab(one: Handle, setup: Setup, side: int) -> str:
    """A ring to take hold of on each side; the right one takes the keyboard and speaks."""
    half, turn = setup.stance_m / 2.0, setup.turnout_rad
    place = {
        "stance": complex(side * half, 0.0),
        "turnout": complex(side * half, 0.0) + _toe(side, turn),
        "hands": complex(side * setup.hand_spacing_m / 2.0, -BAR_AHEAD_M),
    }[one.key]
    spoken = (
        f' role="slider" tabindex="0" aria-label="{escape(one.name)}" aria-valuemin="{one.low:g}"'
        f' aria-valuemax="{one.high:g}" aria-valuenow="{one.value:g}" aria-valuetext="{escape(one.words)}"'
        f' data-step="{one.step:g}" data-unit="{escape(one.unit)}"'
    )
    dot = f'<circle class="grab-dot" r="{GRAB / 2.6:.1f}"/>' if side > 0 else ""
    return (
        f'<g class="grab" data-handle="{one.key}" data-side="{side}" transform="{_at(place.real, place.imag)}"'
        f'{spoken if side > 0 else ""}><circle class="grab-reach" r="{REACH:g}"/>'
        f'<circle class="grab-ring" r="{GRAB:g}"/>{dot}</g>'
    )


def _toe(side: int, turnout: float) -> complex:
    """From the ankle to the tip of the foot, m: the toes point down the page and outward."""
    way = rect(TOE_M, turnout)
    return complex(side * way.imag, -way.real)
