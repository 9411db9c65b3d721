"""Two bodies side by side in one style: another athlete, an average build, the same body with other arms."""

from __future__ import annotations

from dataclasses import replace

from analysis.core.leverages.findings import story
from analysis.core.leverages.report import average_body, leverage_report, with_arm_changed
from analysis.core.records.pulls import LeverageReport, SetupInput, StyleReport
from analysis.leverages.page import Page
from analysis.leverages.pictures import label_of, panel_rows
from analysis.leverages.tables import numbers_table

OTHER_SEED = 1  # another body's draws are independent of this one's


def compare_context(page: Page, other: Page | None, style: str, arm: float | None = None) -> dict[str, object]:
    """This athlete and another body in one style; CoreError when either body cannot be.

    `other` None is an average body of the same stature and sex, or with `arm` the athlete's own with other arms.
    Moments appear only when the viewer may see both masses.
    """
    setup = SetupInput(preset=style, name=page.athlete.name)
    if arm is not None:
        return _other_arms(page, style, arm)
    mine = leverage_report(page.body, [setup], page.load_kg)
    if other is None:
        body = average_body(page.athlete.sex, page.body.measured_m["stature"], page.body.age)
        name = "average build"
    else:
        body, name = other.body, other.athlete.name
    theirs = leverage_report(body, [replace(setup, name=name)], page.load_kg, seed=OTHER_SEED)
    pair = replace(mine, styles=(theirs.styles[0], mine.styles[0]))
    shows = page.sees_mass and (other is None or other.sees_mass)
    return _pair_context(pair, replace(page, sees_mass=shows), shows)


def _other_arms(page: Page, style: str, arm: float) -> dict[str, object]:
    """The likeliest body with its own arms and with other ones; its own uncertainty is left out of the ranges."""
    usual = page.usual(style)
    bodies = (with_arm_changed(page.body, 1.0), with_arm_changed(page.body, 1.0 + arm))
    names = (page.athlete.name, "other arms")
    reports = [
        leverage_report(body, [replace(usual, name=name)], page.load_kg)
        for body, name in zip(bodies, names, strict=True)
    ]
    pair = replace(reports[0], styles=(reports[0].styles[0], reports[1].styles[0]))
    return _pair_context(pair, page, True) | {"arm_changed": True}


def _pair_context(pair: LeverageReport, page: Page, demands: bool) -> dict[str, object]:
    drawn: list[StyleReport] = [s for s in pair.styles if s.joints]
    if len(drawn) < 2:
        return {"refused": [(s.name, s.error) for s in pair.styles if s.error]}
    return {
        "rows": panel_rows(drawn, page),
        "told": story(drawn[0], drawn[1], page.length, demands),
        "groups": numbers_table(pair, page, demands),
        "heads": [(s.name, label_of(s)) for s in drawn],
        "warnings": [warning for s in drawn for warning in s.warnings],
    }
