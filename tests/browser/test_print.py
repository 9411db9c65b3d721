"""What goes on paper: one A4 page of the report and of the decision, styles told apart without colour."""

import re
from datetime import timedelta

import pytest

from athletes.models import PlanItem, Trial
from tests.analysis.measured import measure
from tests.dashboard_logs import TODAY, full_log


@pytest.fixture
def told(live_cast):
    """A measured lifter with half a year of both styles, a running trial and a plan."""
    ada = live_cast.athletes["ada"]
    full_log(ada)
    measure(ada, TODAY - timedelta(days=20))
    Trial.objects.create(
        athlete=ada, new_style="sumo", old_style="conventional", started_on=TODAY - timedelta(weeks=6), weeks=12,
        decide_on=TODAY + timedelta(weeks=6), no_baseline_reason="first lifts",
    )  # fmt: skip
    for ahead in (1, 4, 8, 11):
        PlanItem.objects.create(
            athlete=ada, day=TODAY + timedelta(days=ahead), style="sumo", sets=3, reps=2, load_typed="140",
            load_unit="kg", load_kg=140.0,
        )  # fmt: skip
    return live_cast


def pages_of(page) -> int:
    """Pages of the document that the browser would print on A4."""
    page.emulate_media(media="print")
    return len(re.findall(rb"/Type\s*/Page\b", page.pdf(format="A4", prefer_css_page_size=True)))


@pytest.mark.parametrize("name", ["report", "decision"])
def test_it_is_one_page_of_a4(name, told, page_for):
    page = page_for(told.cato)
    page.goto(f"/athletes/{told.athletes['ada'].pk}/{name}/")
    assert page.locator("main svg").count() >= 2
    assert pages_of(page) == 1
    for hidden in ("nav", ".button", "summary"):
        assert all(not one.is_visible() for one in page.locator(f"main {hidden}").all())


def test_against_stands_beside_for_above_the_lines_to_sign(told, page_for):
    page = page_for(told.cato)
    page.goto(f"/athletes/{told.athletes['ada'].pk}/report/")
    page.emulate_media(media="print")
    against, speaks = (
        page.locator(".beside section", has=page.locator("h2", has_text=word)).first.bounding_box()
        for word in ("Against", "For ")
    )
    assert against["y"] == speaks["y"] and against["x"] != speaks["x"]
    assert page.locator(".sign").bounding_box()["y"] > against["y"] + against["height"]


def test_styles_are_told_apart_in_grey(told, page_for):
    page = page_for(told.cato)
    page.goto(f"/athletes/{told.athletes['ada'].pk}/report/")
    page.emulate_media(media="print")
    drawn = page.evaluate(
        """() => ["conventional", "sumo"].map((style) => {
             const line = document.querySelector(`.paper [class*="${style}"][class*="lockout"], .paper .l-${style}`);
             return line && getComputedStyle(line).strokeDasharray;
           })"""
    )
    assert drawn[0] and drawn[1] and drawn[0] != drawn[1], drawn
