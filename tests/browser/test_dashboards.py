"""Progress, back load, bar and grip in a real browser: fit, quiet, drawn, accessible, readable without script."""

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.browser.conftest import no_sideways_scroll
from tests.dashboard_logs import full_log

PAGES = {"progress": 5, "back-load": 2, "bar-and-grip": 7}


@pytest.fixture
def logged(live_cast):
    full_log(live_cast.athletes["ada"])
    return live_cast


def address(cast, page: str) -> str:
    return f"/athletes/{cast.athletes['ada'].pk}/{page}/"


def draw_all(page) -> None:
    """Scroll past every figure until it is drawn: figures load when they come near."""
    for card in page.query_selector_all(".plot-card"):
        card.scroll_into_view_if_needed()
    page.wait_for_function(
        "() => [...document.querySelectorAll('[data-plot]')].every((figure) => figure.dataset.drawn)", timeout=20000
    )


def serious_findings(page) -> list[str]:
    """What axe finds serious; its own probing styles are refused by our policy, so its noise is put aside."""
    assert page.complaints == []
    found = Axe().run(page, options={"preload": False}).response["violations"]
    page.complaints.clear()
    return [f"{f['id']}: {f['nodes'][0]['html'][:120]}" for f in found if f["impact"] in ("serious", "critical")]


@pytest.mark.parametrize("width,dark", [(390, False), (1280, True)])
@pytest.mark.parametrize("name", PAGES)
def test_the_page_fits_is_drawn_and_has_no_serious_finding(name, width, dark, logged, page_for):
    page = page_for(logged.cato, width=width, dark=dark)
    page.goto(address(logged, name))
    assert page.locator("[data-plot]").count() == PAGES[name]
    draw_all(page)
    assert no_sideways_scroll(page)
    assert serious_findings(page) == []
    for box in page.locator(".plot-card .main-svg:first-child").all():
        assert box.bounding_box()["width"] <= width


def test_another_footing_is_chosen_with_the_keyboard(logged, page_for):
    page = page_for(logged.cato, width=390)
    page.goto(address(logged, "progress"))
    page.select_option("[name=footing]", label=page.locator("[name=footing] option", has_text="flexible").inner_text())
    page.focus("[name=span]")
    page.keyboard.press("Enter")
    page.locator("form.choose button").press("Enter")
    page.wait_for_url("**footing=*")
    assert "Comparable sets only: deadlift, floor, flexible bar" in page.inner_text("main")


def test_without_script_caption_table_and_file_are_there(logged, page_for):
    page = page_for(logged.cato, width=390, java_script_enabled=False)
    page.goto(address(logged, "progress"))
    assert "(8 in 10) now" in page.inner_text("#caption-progress")
    page.locator("#figure-progress summary").click()
    assert page.locator("[data-table=progress] tbody tr").count() > 10
    with page.expect_download() as file:
        page.get_by_role("link", name="Intensity and volume of pulls").click()
    assert file.value.suggested_filename == "volume.csv"


def test_the_buttons_save_numbers_and_picture(logged, page_for):
    page = page_for(logged.cato, width=1280)
    page.goto(address(logged, "back-load"))
    draw_all(page)
    for kind in ("csv", "png"):
        with page.expect_download() as file:
            page.click(f"[data-save={kind}][data-of=back-weeks]")
        assert file.value.suggested_filename == f"back-weeks.{kind}"
