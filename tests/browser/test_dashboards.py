"""The log, back work, bar and grip in a browser: answer first, nothing moves, drawn, accessible, without script."""

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.browser.conftest import no_sideways_scroll
from tests.dashboard_logs import full_log

PAGES = {"log": 6, "back-load": 2, "bar-and-grip": 7}
FIRST_SCREEN = {390: (844, 370), 1280: (800, 260)}  # height of the window, and where the picture begins at the latest
SHIFTS = """
window.shifted = 0;
new PerformanceObserver((list) => {
  for (const entry of list.getEntries()) if (!entry.hadRecentInput) window.shifted += entry.value;
}).observe({ type: "layout-shift", buffered: true });
"""


@pytest.fixture
def logged(live_cast):
    full_log(live_cast.athletes["ada"])
    return live_cast


def address(cast, page: str) -> str:
    return f"/athletes/{cast.athletes['ada'].pk}/{page}/"


def draw_all(page) -> None:
    """Open every closed line and scroll past every figure until it is drawn: figures load when they come near."""
    page.evaluate("() => document.querySelectorAll('.lines > details').forEach((line) => (line.open = true))")
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


@pytest.mark.parametrize("width", FIRST_SCREEN)
@pytest.mark.parametrize("name", PAGES)
def test_the_answer_and_the_button_come_first_and_nothing_moves(name, width, logged, page_for):
    height, latest = FIRST_SCREEN[width]
    page = page_for(logged.cato, width=width, height=height)
    page.add_init_script(SHIFTS)
    page.goto(address(logged, name))
    tall = page.evaluate("() => document.documentElement.scrollHeight")
    button, picture = page.locator(".button.do").bounding_box(), page.locator(".plot").first.bounding_box()
    assert page.locator("h1.answer").bounding_box()["y"] < button["y"] + button["height"] < height
    assert picture["y"] <= latest + 30 * (width == 390)  # a heading of three lines
    shown = min(picture["y"] + picture["height"], height - 56 * (width == 390)) - picture["y"]
    assert shown >= 0.6 * picture["height"]
    page.evaluate("() => window.scrollTo(0, document.documentElement.scrollHeight)")
    page.wait_for_function("() => document.querySelector('[data-plot]').dataset.drawn", timeout=20000)
    page.wait_for_load_state("networkidle")
    assert page.evaluate("() => document.documentElement.scrollHeight") == tall
    assert page.evaluate("() => window.shifted") <= 0.01


def test_another_kind_of_pull_is_chosen_with_the_keyboard(logged, page_for):
    page = page_for(logged.cato, width=390)
    page.goto(address(logged, "log"))
    page.locator("summary", has_text="Other kinds of pull").press("Enter")
    page.select_option("[name=footing]", label=page.locator("[name=footing] option", has_text="flexible").inner_text())
    page.locator("form.choose button").press("Enter")
    page.wait_for_url("**footing=*")
    assert "floor, flexible bar shown" in page.inner_text("main")


def test_without_script_caption_table_and_file_are_there(logged, page_for):
    page = page_for(logged.cato, width=390, java_script_enabled=False)
    page.goto(address(logged, "log"))
    assert "Ring in ink: missed, 6" in page.inner_text("#caption-progress")
    assert page.locator(".plot").first.bounding_box() is None  # no empty box where nothing can be drawn
    page.locator("#figure-progress summary").click()
    assert page.locator("[data-table=progress] tbody tr").count() > 10
    page.locator("summary", has_text="How much, how heavy").click()
    with page.expect_download() as file:
        page.get_by_role("link", name="Intensity and volume of pulls").click()
    assert file.value.suggested_filename == "volume.csv"


def test_the_buttons_save_numbers_and_picture(logged, page_for):
    page = page_for(logged.cato, width=1280)
    page.goto(address(logged, "back-load"))
    page.locator("#figure-back-weeks summary").click()
    for kind in ("csv", "png"):
        with page.expect_download() as file:
            page.click(f"[data-save={kind}][data-of=back-weeks]")
        assert file.value.suggested_filename == f"back-weeks.{kind}"
