"""People, build, measuring, first meeting and how-to in a real browser: fit, quiet, accessible, by keyboard alone."""

from datetime import date

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse

from athletes.models import Measurement, MeasuringVisit
from tests.browser.conftest import no_sideways_scroll


def addresses(cast) -> dict[str, str]:
    pk = cast.athletes["ada"].pk
    return {
        "people": reverse("people"),
        "new": reverse("athlete-new"),
        "edit": reverse("athlete-edit", args=[pk]),
        "first-meeting": reverse("first-meeting", args=[pk]),
        "build": reverse("build", args=[pk]),
        "measure": reverse("measure", args=[pk]),
        "health": reverse("health-notes", args=[pk]),
        "how-to": reverse("how-to-measure"),
    }


def serious_findings(page) -> list[str]:
    """What axe finds serious; its own probing styles are refused by our policy, so its noise is put aside."""
    assert page.complaints == []
    found = Axe().run(page, options={"preload": False}).response["violations"]
    page.complaints.clear()
    return [f"{f['id']}: {f['nodes'][0]['html'][:90]}" for f in found if f["impact"] in ("serious", "critical")]


@pytest.fixture
def measured(live_cast):
    for day, value in ((date(2026, 1, 5), 166.0), (date(2026, 6, 5), 166.4)):
        visit = MeasuringVisit.objects.create(athlete=live_cast.athletes["ada"], day=day, measured_by=live_cast.cato)
        for repeat in (1, 2):
            Measurement.objects.create(visit=visit, key="stature", repeat=repeat, typed="166", unit="cm", value=value)
    return live_cast


@pytest.mark.parametrize("width,dark", [(390, False), (1280, True)])
def test_the_pages_fit_and_have_no_serious_finding(width, dark, measured, page_for):
    page = page_for(measured.cato, width=width, dark=dark)
    for name, address in addresses(measured).items():
        page.goto(address)
        assert no_sideways_scroll(page), name
        assert (name, serious_findings(page)) == (name, [])


def test_a_visit_is_typed_asked_about_and_saved_by_keyboard_alone(live_cast, page_for):
    page = page_for(live_cast.cato, width=390)
    page.goto(addresses(live_cast)["measure"])
    page.focus("[name=stature_1]")
    page.keyboard.type("1.66")
    page.keyboard.press("Enter")
    page.wait_for_selector("text=Read as 166 cm (1.66 m, not cm): is that right?")
    assert page.input_value("[name=stature_1]") == "1.66"
    assert serious_findings(page) == []
    page.focus("[name=stature_1_as]")
    page.keyboard.press("Space")
    page.keyboard.press("Enter")
    page.wait_for_url(f"**{addresses(live_cast)['build']}")
    assert "166.0 cm" in page.inner_text("table.build")
    assert "Read as 166 cm" in page.inner_text(".messages")
