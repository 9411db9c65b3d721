"""Two bodies or two setups side by side: the what-if panel and the comparison with another body."""

from __future__ import annotations

from dataclasses import replace

from analysis.core.leverages.findings import story
from analysis.core.leverages.report import average_body, leverage_report, paired_setup, with_arm_changed
from analysis.core.records.bodies import BodyInput
from analysis.core.records.pulls import LeverageReport, Setup, SetupInput, StyleReport
from analysis.leverages.page import Page
from analysis.leverages.pictures import label_of, panel_rows
from analysis.leverages.tables import numbers_table
from analysis.leverages.what_if import WhatIfForm

OTHER_SEED = 1  # another body's draws are independent of this one's


def what_if_context(page: Page, form: WhatIfForm) -> dict[str, object]:
    """The style as this athlete has it beside the change; the core's refusal goes to the form's field.

    CoreError when the measurements themselves cannot be.
    """
    asked = form.setup()
    usual = paired_setup(page.usual(asked.preset), asked, page.body)
    arm = form.cleaned_data.get("arm")
    before, after = _bodies(page.body, arm)
    first = leverage_report(before, [usual], page.load_kg)
    second = leverage_report(after, [asked], page.load_kg)
    changed = second.styles[0]
    if changed.error is not None:
        form.blame(changed.error.quantity, changed.error.reason)
        return {}
    pair = replace(first, styles=(first.styles[0], changed))
    same = arm is None and _settings(first.styles[0]) == _settings(changed)
    return _pair_context(pair, page, True) | {"arm_changed": arm is not None, "unchanged": same}


def _settings(report: StyleReport) -> Setup | None:
    """The filled setup without its name, under which it stands on the page."""
    return replace(report.setup, name="") if report.setup else None


def _bodies(body: BodyInput, arm: float | None) -> tuple[BodyInput, BodyInput]:
    if arm is None:
        return body, body
    return with_arm_changed(body, 1.0), with_arm_changed(body, 1.0 + arm)


def compare_context(page: Page, other: Page | None, style: str) -> dict[str, object]:
    """This athlete and another body in one style; CoreError when either body cannot be.

    `other` None is an average body of the same stature and sex. Moments appear only when the viewer may see both
    masses.
    """
    setup = SetupInput(preset=style, name=page.athlete.name)
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
