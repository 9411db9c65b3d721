"""The picture of the place: two styles on one floor, the chart beside them, the floor from above, three numbers."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import degrees

import numpy as np
from django.utils.safestring import SafeString, mark_safe
from django.utils.text import slugify

from analysis.core.leverages.pair import HIPS, PULL, TRUNK, RoundedPair, closer_until, rounded_pair
from analysis.core.leverages.postures import range_postures
from analysis.core.records.messages import Message
from analysis.core.records.pulls import LeverageReport, StyleReport
from analysis.drawings import stage as drawing
from analysis.drawings.panels import Sheet, key_index
from analysis.drawings.plan import Handle, plan
from analysis.leverages.page import LABELS, Page
from athletes.schema.units import format_number

CURVES = {
    "hips": ("hip_bar_distance_m", "hips to bar"),
    "hip-work": ("hip_moment_nm", "work for the hips, %"),
    "leg-work": ("knee_demand_nm", "work for the legs, %"),
    "back-work": ("trunk_moment_nm", "work for the back, %"),
    "hip-bend": ("hip_flexion_deg", "hip bent, °"),
    "knee-bend": ("knee_flexion_deg", "knee bent, °"),
    "trunk": ("trunk_angle_deg", "trunk up, °"),
}
CURVE_CHOICES = [(key, words.removesuffix(", %").removesuffix(", °")) for key, (_, words) in CURVES.items()]
POSITIONS = {"": "lift-off", "knee": "knee", "lockout": "lockout"}
WIDEST_HANDS_M, NARROWEST_M = 1.20, 0.20


@dataclass(frozen=True, slots=True)
class Figure:
    """One style of the picture: "first" or "second", the preset it wears, its words, what is bent, its drawing."""

    which: str
    kind: str
    label: str
    bent: tuple[tuple[str, str], ...]
    svg: SafeString


@dataclass(frozen=True, slots=True)
class Number:
    """One of the three numbers: its name, "36 → 33", and a note under it."""

    name: str
    ends: str
    note: str


@dataclass(frozen=True, slots=True)
class Scrub:
    """The slider of the bar's height in the reader's unit: least, most, step, and the words at lift-off."""

    low: str
    high: str
    step: str
    words: str


@dataclass(frozen=True, slots=True)
class Plate:
    """Everything of the picture."""

    figures: tuple[Figure, ...]
    plan: SafeString
    plan_words: str
    chart: SafeString
    caption: Message | None
    numbers: tuple[Number, ...]
    scrub: Scrub
    handles: tuple[Handle, ...]


def step_of(page: Page) -> float:
    """Lengths of the picture are written to this many metres: 1 cm, or a tenth of an inch."""
    return 0.01 if page.length_unit == "cm" else 0.00254


def written(metres: float, page: Page, unit: bool = True) -> str:
    """A length as the picture writes it: "36 cm", "14.2 in"."""
    number = format_number(
        page.units.of(round(metres / step_of(page)) * step_of(page)), 0 if page.length_unit == "cm" else 1
    )
    return f"{number}\u00a0{page.length_unit}" if unit else number


def line_of(curve: str, styles: Sequence[StyleReport], page: Page) -> drawing.Line:
    """The values of one chart; work as % of the first style's at lift-off, which tells nobody's body mass."""
    key, title = CURVES[curve]
    if key.endswith("_m"):
        scale = page.units.of(1.0)
        return drawing.Line(f"{title}, {page.units.name}", *(np.asarray(s.pull[key] * scale) for s in styles))
    if key.endswith("_nm"):
        base = float(styles[0].pull[key][0])
        return drawing.Line(title, *(np.asarray(s.pull[key] / base * 100.0) for s in styles))
    return drawing.Line(title, *(np.asarray(s.pull[key]) for s in styles))


def kinds_of(styles: Sequence[StyleReport]) -> list[tuple[str, str]]:
    """(name, preset) of every style."""
    return [(s.name, s.setup.preset if s.setup else s.name) for s in styles]


def plate(report: LeverageReport, page: Page, curve: str, at: str, ghosts: bool, handles: Sequence[Handle]) -> Plate:
    """The picture of two styles with the bar at a key position."""
    styles = [s for s in report.styles if s.joints]
    sheet = drawing.stage(styles, lambda metres: written(metres, page))
    outlines = range_postures(page.body, report) if ghosts else {}
    drawn = []
    for which, style in zip(("first", "second"), styles, strict=True):
        index = key_index(style, POSITIONS[at])
        svg = drawing.figure(style, index, sheet, kinds_of(styles), label_of(style), outlines.get(style.name, ()))
        drawn.append(_figure(which, style, index, svg.svg(slugify(which))))
    line = line_of(curve, styles, page)
    words = chart_words(line, styles, page)
    svg = drawing.chart(styles, line, sheet, words)
    return Plate(
        figures=tuple(drawn),
        plan=floor_plan(styles, page, handles),
        plan_words=", ".join(one.words for one in handles),
        chart=mark_safe(svg.svg("chart")),  # noqa: S308 - our own drawing; nothing typed is in it
        caption=closer_until(*styles) if curve == "hips" else None,
        numbers=three_numbers(styles, page),
        scrub=_scrub(styles, sheet, page),
        handles=tuple(handles),
    )


def label_of(style: StyleReport) -> str:
    """What a figure is called: a changed one by the style it was changed from."""
    preset = style.setup.preset if style.setup else style.name
    return f"{LABELS[preset]}, moved" if style.name == "your change" else LABELS.get(style.name, style.name)


def _figure(which: str, style: StyleReport, index: int, svg: str) -> Figure:
    kind = style.setup.preset if style.setup else style.name
    bent = tuple(zip(("knee", "hip", "trunk"), drawing.bent_words(style, index), strict=True))
    return Figure(which, kind, label_of(style), bent, mark_safe(svg))  # noqa: S308 - our own drawing, escaped


def floor_plan(styles: Sequence[StyleReport], page: Page, handles: Sequence[Handle]) -> SafeString:
    """The floor from above in the second style, with the first one's footprints dashed."""
    first, second = (s.setup for s in styles)
    assert first is not None and second is not None
    said = ", ".join(one.words for one in handles)
    words = f"{label_of(styles[1])} from above: {said}; dashed, {label_of(styles[0]).lower()}"
    svg = plan(second, words, handles, 1.0 / page.units.of(1.0), first)
    return mark_safe(svg)  # noqa: S308 - our own drawing, escaped as it is written


def handles_of(style: StyleReport, page: Page) -> list[Handle]:
    """What can be moved in a style's feet and hands, in the reader's unit, and how far."""
    setup, of, unit = style.setup, page.units.of, page.length_unit
    assert setup is not None
    step = 1.0 if unit == "cm" else 0.5
    decimals = 0 if unit == "cm" else 1
    widest = page.limits[0].widest_m

    def length(key: str, name: str, metres: float, high: float) -> Handle:
        ends = round(of(NARROWEST_M) / step) * step, float(int(of(high) / step)) * step
        return Handle(key, name, round(of(metres), decimals), *ends, step, unit)

    return [
        length("stance", "stance", setup.stance_m, max(widest, NARROWEST_M + 0.01)),
        Handle("turnout", "toes out", round(degrees(setup.turnout_rad)), 0.0, 85.0, 1.0, "°"),
        length("hands", "hands", setup.hand_spacing_m, WIDEST_HANDS_M),
    ]


def three_numbers(styles: Sequence[StyleReport], page: Page) -> tuple[Number, ...]:
    """Hips to bar, length of the pull and trunk at lift-off, of both styles."""
    first, second = styles
    unit, step = page.length_unit, step_of(page)
    hips, pull = rounded_pair(first, second, HIPS, step), rounded_pair(first, second, PULL, step)
    trunk = rounded_pair(first, second, TRUNK, 1.0)

    def ends(one: RoundedPair) -> str:
        return " → ".join(written(end, page, unit=False) for end in (one.first, one.second))

    def apart(metres: float) -> str:
        return written(metres, page, unit=False)

    stances = [written(s.setup.stance_m, page, unit=False) for s in styles if s.setup]
    return (
        Number(f"Hips to bar, {unit}", ends(hips), _range_words(hips, apart, "closer", "farther")),
        Number(f"Pull, {unit}", ends(pull), f"stance {' → '.join(stances)}"),
        Number(
            "Trunk up", f"{trunk.first:.0f} → {trunk.second:.0f}°",
            _range_words(trunk, lambda d: f"{d:.0f}", "more bent", "more upright"),
        ),
    )  # fmt: skip


def _range_words(one: RoundedPair, write: Callable[[float], str], less: str, more: str) -> str:
    """The difference's central 80 % range with its direction; both directions where it is not clear."""
    low, high = one.difference.low, one.difference.high
    if one.way or low >= 0.0 or high <= 0.0:
        ends = [write(min(abs(low), abs(high))), write(max(abs(low), abs(high)))]
        span = ends[0] if ends[0] == ends[1] else "–".join(ends)
        return f"{span} {more if high > -low else less}" if float(ends[1]) > 0 else "the same"
    return f"{write(-low)} {less} to {write(high)} {more}"


def _scrub(styles: Sequence[StyleReport], sheet: Sheet, page: Page) -> Scrub:
    of, decimals = page.units.of, 0 if page.length_unit == "cm" else 1
    low, high = min(float(s.pull["z_m"][0]) for s in styles), max(sheet.lockouts.values())
    step = "0.5" if page.length_unit == "cm" else "0.2"
    return Scrub(f"{of(low):.2f}", f"{of(high):.2f}", step, f"{of(low):.{decimals}f} {page.length_unit}, lift-off")


def moving(report: LeverageReport, page: Page, curve: str) -> Mapping[str, object]:
    """What the slider needs: of each style what moves, and the bar's height at both ends of its pull."""
    styles = [s for s in report.styles if s.joints]
    if len(styles) < 2:
        return {"styles": {}}
    sheet = drawing.stage(styles, lambda metres: written(metres, page))
    line, of = line_of(curve, styles, page), page.units.of
    top, _ = drawing.scale_of(line)
    found = {}
    for which, style, values in zip(("first", "second"), styles, (line.first, line.second), strict=True):
        z = style.pull["z_m"]
        knee = float(z[style.knee_index])
        found[which] = {
            "parts": drawing.frames(style, values, top, sheet, which),
            "ends": [of(float(z[0])), of(float(z[-1]))],
            "knee": of(knee),
        }
    return {"styles": found, "unit": page.length_unit}


def chart_words(line: drawing.Line, styles: Sequence[StyleReport], page: Page) -> str:
    """The chart in a sentence with its numbers."""
    parts = [
        f"{label_of(s)} {values[0]:.0f} at lift-off, {values[s.knee_index]:.0f} at the knee, "
        f"{values[-1]:.0f} at lockout"
        for s, values in zip(styles, (line.first, line.second), strict=True)
    ]
    return f"{line.title} over the bar's height: {'; '.join(parts)}."
