"""Drawings are to scale, and every figure carries its numbers as words and as a table."""

import re
from xml.etree import ElementTree

import pytest

from analysis.core.leverages.report import leverage_report
from analysis.core.records.bodies import BodyInput
from analysis.core.records.pulls import SetupInput
from analysis.drawings.front import front_top, front_view
from analysis.drawings.marks import number
from analysis.drawings.panels import KEY_POSITIONS, frame_indexes, frames, key_index, panel, sheet_for
from analysis.figures.card import Table, card
from analysis.figures.curves import Curve, Units, pull_card
from analysis.figures.theme import STYLE_DASH, STYLE_MARKER, axis, layout, style_line

SVG = "{http://www.w3.org/2000/svg}"


def centimetres(metres: float) -> str:
    return f"{metres * 100:.1f} cm"


@pytest.fixture(scope="module")
def report():
    return leverage_report(BodyInput("f", {"stature": 1.66, "mass": 64.0}))


def drawn(report, position="lift-off", window="pull"):
    sheet = sheet_for(report.styles, window, centimetres)
    return sheet, {
        r.name: ElementTree.fromstring(
            panel(r, key_index(r, position), sheet, r.name, position)
            .svg(r.name)
            .replace("<svg", f'<svg xmlns="{SVG[1:-1]}"')
        )
        for r in report.styles
    }


def part(tree, name):
    return next(e for e in tree.iter() if e.get("data-part") == name)


def test_the_disc_is_450_mm_on_the_scale_of_the_bracket(report):
    """Oracle: the disc's diameter of the technical rules, against the lettered hip-to-bar distance."""
    _, trees = drawn(report)
    for style in report.styles:
        units_per_metre = 2.0 * float(part(trees[style.name], "disc-0").get("r")) / 0.45
        xs = [float(x) for x in re.findall(r"[ML](-?[\d.]+),", part(trees[style.name], "bracket").get("d"))[:2]]
        assert abs(xs[1] - xs[0]) / units_per_metre == pytest.approx(
            style.lift_off["hip_bar_distance_m"].value, abs=0.002
        )


def test_all_panels_of_a_row_share_one_window_so_lockout_lines_can_be_compared(report):
    sheet, trees = drawn(report)
    assert len({tree.get("viewBox") for tree in trees.values()}) == 1
    heights = {}
    for name, tree in trees.items():
        (line,) = [e for e in tree.iter() if e.get("class") == "lockout"]
        heights[name] = float(line.get("d").split(",")[1].split("L")[0])
    units = sheet.window.scale
    drop = (heights["sumo"] - heights["conventional"]) / units
    told = report.style("conventional").lockout_height_m.value - report.style("sumo").lockout_height_m.value
    assert drop == pytest.approx(told, abs=0.002)


@pytest.mark.parametrize("position", list(KEY_POSITIONS))
def test_every_picture_says_its_numbers_in_words(report, position):
    _, trees = drawn(report, position, position)
    for style in report.styles:
        words = trees[style.name].find(f"{SVG}desc").text
        at = key_index(style, position)
        assert centimetres(float(style.pull["hip_bar_distance_m"][at])) in words
        assert f"knees bent {style.pull['knee_flexion_deg'][at]:.0f}°" in words


def test_joints_stand_where_the_model_puts_them(report):
    sheet, trees = drawn(report)
    for style in report.styles:
        ring = part(trees[style.name], "joint-hip")
        x, _, z = style.joints["hip"][0]
        assert float(ring.get("cx")) == pytest.approx((x - sheet.window.left) * sheet.window.scale, abs=0.1)
        assert float(ring.get("cy")) == pytest.approx((sheet.window.top - z) * sheet.window.scale, abs=0.1)


def test_only_a_wide_stance_shows_the_other_leg(report):
    _, trees = drawn(report)
    ghosts = {name: any(e.get("data-part") == "far-thigh" for e in tree.iter()) for name, tree in trees.items()}
    assert ghosts == {"conventional": False, "sumo": True, "wide-sumo": True, "rounded": False}


def test_no_picture_carries_a_style_attribute_or_a_colour_of_its_own(report):
    sheet = sheet_for(report.styles, "pull", centimetres)
    for r in report.styles:
        text = panel(r, 0, sheet, r.name, "x").svg(r.name)
        assert not re.search(r"\sstyle=|fill=|stroke=|<script", text)


def test_words_that_come_from_people_are_escaped(report):
    sheet = sheet_for(report.styles, "pull", centimetres)
    text = panel(report.styles[0], 0, sheet, '<b>Ann & "Co"', "x").svg("k")
    assert "<b>" not in text
    assert "&lt;b&gt;Ann &amp; &quot;Co&quot;" in text


def test_everything_drawn_stays_inside_the_picture(report):
    for name, tree in drawn(report, "lockout")[1].items():
        width, height = (float(v) for v in tree.get("viewBox").split()[2:])
        points = [
            (float(x), float(y))
            for e in tree.iter(f"{SVG}path")
            for x, y in re.findall(r"(-?[\d.]+),(-?[\d.]+)", e.get("d"))
        ]
        assert all(-0.1 <= x <= width + 0.1 and -0.1 <= y <= height + 0.1 for x, y in points), name


def test_frames_move_the_same_parts_from_lift_off_to_lockout(report):
    sheet = sheet_for(report.styles, "pull", centimetres)
    for r in report.styles:
        moving = frames(r, sheet)
        count = len(frame_indexes(r))
        assert {len(values) for changes in moving.values() for values in changes.values()} == {count}
        bar = moving["bar"]["cy"]
        assert float(bar[0]) - float(bar[-1]) == pytest.approx(r.range_of_motion_m.value * sheet.window.scale, abs=0.2)
        shapes = [re.sub(r"-?[\d.]+", "#", d) for d in moving["trunk"]["d"]]
        assert len(set(shapes)) == 1  # so that numbers can be blended one by one


def test_a_deficit_stands_on_a_platform_on_the_same_floor():
    report = leverage_report(
        BodyInput("m", {"stature": 1.78}), [SetupInput(), SetupInput(name="low", start_offset_m=-0.05)]
    )
    _, trees = drawn(report)
    floors = {name: next(e.get("d") for e in tree.iter() if e.get("class") == "floor") for name, tree in trees.items()}
    assert floors["conventional"] == floors["low"]
    assert [e.get("class") for e in trees["low"].iter(f"{SVG}rect")] == ["block"]
    assert float(part(trees["low"], "disc-0").get("cy")) == pytest.approx(
        float(part(trees["conventional"], "disc-0").get("cy")), abs=0.1
    )


def test_the_front_view_measures_stance_between_the_ankles(report):
    for r in report.styles:
        picture = front_view(r, r.name, centimetres, front_top(report.styles))
        (bracket,) = [m for m in picture.marks if m.cls == "bracket"]
        xs = [float(x) for x in re.findall(r"[ML](-?[\d.]+),", bracket.attrs["d"])[:2]]
        assert (xs[1] - xs[0]) / 150.0 == pytest.approx(r.setup.stance_m, abs=0.002)
        assert f"turned out {round(r.setup.turnout_rad * 180 / 3.14159265)}°" in picture.words


@pytest.mark.parametrize(("value", "text"), [(0.04, "0"), (-0.04, "0"), (12.0, "12"), (12.34, "12.3"), (-3.06, "-3.1")])
def test_coordinates_are_short(value, text):
    assert number(value) == text


def test_a_curve_lists_its_numbers_and_wears_the_styles_pattern(report):
    curve = Curve("hip_bar_distance_m", "Hip-to-bar distance", "cm", lambda r: r.pull["hip_bar_distance_m"] * 100, 1)
    found = pull_card(
        curve, report.styles, {s.name: s.name for s in report.styles}, Units("cm", lambda m: m * 100), "Words."
    )
    assert [t["line"]["dash"] for t in found.plot["data"]] == [STYLE_DASH[s.name] for s in report.styles]
    assert found.table.rows[0][2] == f"{report.styles[0].pull['hip_bar_distance_m'][0] * 100:.1f}"
    assert len(found.table.head) == 1 + 2 * len(report.styles)


def test_styles_differ_by_pattern_and_marker_not_only_by_colour():
    assert len(set(STYLE_DASH.values())) == len(set(STYLE_MARKER.values())) == 4


def test_a_misspelt_setting_of_a_figure_is_refused():
    with pytest.raises(ValueError, match="widht"):
        card(
            "a",
            "a",
            "a",
            Table((), ()),
            [{"type": "scatter", "line": style_line("sumo") | {"widht": 3}}],
            layout(axis("x"), axis("y")),
        )
