"""The leverage profile of one athlete as its page shows it."""

from __future__ import annotations

from collections.abc import Sequence

from analysis.core.leverages.findings import StyleStory, rounding_story, story
from analysis.core.leverages.postures import range_postures
from analysis.core.pull.lifter_postures import lifter_postures
from analysis.core.records.pulls import LeverageReport, StyleReport
from analysis.leverages.page import LABELS, Page, measured_on, stale_lengths
from analysis.leverages.pictures import curve_cards, front_views, panel_rows
from analysis.leverages.tables import numbers_table, style_heads
from analysis.store.bridge import latest_readings


def profile_context(page: Page) -> dict[str, object]:
    """Everything the leverage page shows; CoreError when the measurements cannot belong to one body."""
    report = page.report()
    styles = [s for s in report.styles if s.joints]
    readings = latest_readings(page.athlete, page.day)
    return {
        "report": report,
        "impossible": [(LABELS.get(s.name, s.name), s.error) for s in report.styles if s.error],
        "rows": panel_rows(styles, page, range_postures(page.body, report)),
        "fronts": front_views(styles, page),
        "count": len(styles),
        "stories": stories(styles, page),
        "known": page.knowing(*styles[:2]) if len(styles) > 1 and styles[1].name != "rounded" else (),
        "not_drawn": [(LABELS[style], why) for style, why in lifter_postures(page.lifter).refused.items()],
        "heads": style_heads(report),
        "groups": numbers_table(report, page),
        "figures": curve_cards(styles, page),
        "estimated": estimated_links(report),
        "measured_on": measured_on(readings),
        "stale": stale_lengths(page.athlete, readings, page.day),
        "bounded": bounded_styles(report, page),
        "left_out": page.left_out,
        "style_warnings": [(LABELS.get(s.name, s.name), words) for s in styles for words in s.warnings],
    }


def stories(styles: Sequence[StyleReport], page: Page) -> list[tuple[str, StyleStory]]:
    """Each style against the first one, in words."""
    if not styles:
        return []
    first = styles[0]
    told = []
    for style in styles[1:]:
        tell = rounding_story if style.name == "rounded" else story
        told.append((LABELS.get(style.name, style.name), tell(first, style, page.length)))
    return told


LINK_WORDS = {
    "ankle": "ankle height", "shank": "lower leg", "thigh": "thigh", "trunk": "trunk", "arm": "arm", "foot": "foot",
    "hip_spacing": "width of the hips", "shoulder_spacing": "width of the shoulders",
}  # fmt: skip


def estimated_links(report: LeverageReport) -> list[str]:
    """Links that no measurement fixes, in words."""
    return [LINK_WORDS[link.key] for link in report.body.links if link.origin == "estimated" and link.key in LINK_WORDS]


def bounded_styles(report: LeverageReport, page: Page) -> list[tuple[str, str, str]]:
    """Styles whose stance was pulled in: label, the stance drawn, and what bounds it."""
    drawn, usual = {s.name: s for s in report.styles}, page.stances
    return [
        (LABELS[asked.preset], page.length(asked.stance_m), page.limits[0].reason)
        for asked in page.setups
        if asked.stance_m is not None and asked.preset in drawn and asked.stance_m < usual[asked.preset]
    ]
