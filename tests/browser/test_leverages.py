"""The leverage pages and How it works in a real browser."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from tests.analysis.measured import measure
from tests.browser.conftest import no_sideways_scroll

PAGES = ("leverages/", "leverages/what-if/", "leverages/stances/", "leverages/beside/")


@pytest.fixture
def cast(live_cast):
    measure(live_cast.athletes["ada"])
    return live_cast


def address(cast, page="leverages/"):
    return f"/athletes/{cast.athletes['ada'].pk}/{page}"


def all_addresses(cast):
    return [*(address(cast, page) for page in PAGES), "/how-it-works/"]


def serious(page: Page) -> list[str]:
    """Serious findings of axe; what axe's own probes make the browser say is not the page's complaint."""
    said = list(page.complaints)
    found = Axe().run(page, options={"preload": False}).response["violations"]
    page.complaints[:] = said
    return [f"{v['id']}: {v['nodes'][0]['target']}" for v in found if v["impact"] in ("serious", "critical")]


def slide_to(page: Page, share: str) -> None:
    page.locator("#share").evaluate("(s, v) => { s.value = v; s.dispatchEvent(new Event('input')); }", share)


@pytest.mark.parametrize("width", [390, 1280])
@pytest.mark.parametrize("dark", [False, True])
def test_no_page_scrolls_sideways_or_has_serious_findings(page_for, cast, width, dark):
    page = page_for(cast.cato, width=width, dark=dark)
    for where in all_addresses(cast):
        page.goto(where)
        assert no_sideways_scroll(page), where
        assert serious(page) == [], where


def test_the_scrubber_moves_every_panel_to_lockout_and_back(page_for, cast):
    page = page_for(cast.cato)
    page.goto(address(cast))
    expect(page.locator(".scrubber")).to_be_visible()
    panels = page.locator(".first-row .panel")
    before = [panels.nth(i).locator('[data-part="bar"]').get_attribute("cy") for i in range(panels.count())]
    words = panels.first.locator('[data-part="bracket-words"]').text_content()
    page.get_by_role("button", name="Lockout").click()
    after = [panels.nth(i).locator('[data-part="bar"]').get_attribute("cy") for i in range(panels.count())]
    assert len(before) == 4
    assert all(float(a) < float(b) - 50 for a, b in zip(after, before, strict=True))
    expect(page.locator(".scrubber output")).to_have_text("At lockout")
    page.get_by_role("button", name="Lift-off").click()
    assert panels.first.locator('[data-part="bracket-words"]').text_content() == words


def test_between_frames_the_bar_is_where_the_share_says(page_for, cast):
    """Oracle: the height of the bar grows evenly with the share of the pull."""
    page = page_for(cast.cato)
    page.goto(address(cast))
    expect(page.locator(".scrubber")).to_be_visible()
    heights = []
    for share in ("0", "33", "100"):
        slide_to(page, share)
        heights.append(float(page.locator('.first-row [data-style="sumo"] [data-part="bar"]').get_attribute("cy")))
    assert heights[1] == pytest.approx(heights[0] + 0.33 * (heights[2] - heights[0]), abs=0.3)


def test_the_scrubber_works_by_keyboard(page_for, cast):
    page = page_for(cast.cato)
    page.goto(address(cast))
    slider = page.get_by_label("Through the pull")
    expect(slider).to_be_visible()
    slider.focus()
    for _ in range(5):
        page.keyboard.press("ArrowRight")
    expect(page.locator(".scrubber output")).to_have_text("5 % of the pull")
    page.keyboard.press("End")
    expect(page.locator(".scrubber output")).to_have_text("At lockout")


def test_without_script_the_three_key_positions_and_all_numbers_stand_there(page_for, cast):
    page = page_for(cast.cato, java_script_enabled=False)
    page.goto(address(cast))
    for heading in ("At lift-off", "With the bar at the knee", "At lockout"):
        assert page.get_by_role("heading", name=heading, exact=True).first.is_visible()
    assert page.locator("svg.posture").count() == 12
    assert not page.locator(".scrubber").is_visible()
    page.goto(address(cast, "leverages/what-if/"))
    page.locator("#id_stance").fill("55")
    page.get_by_role("button", name="Show").click()
    assert "Your change against" in page.content()


def test_figures_draw_when_they_come_near_and_not_before(page_for, cast):
    page = page_for(cast.cato)
    page.goto(address(cast))
    expect(page.locator(".scrubber")).to_be_visible()
    assert page.locator('script[src*="plotly.min"]').count() == 0
    figure = page.locator("#figure-pull-hip_bar_distance_m")
    figure.scroll_into_view_if_needed()
    expect(figure.locator(".main-svg").first).to_be_visible(timeout=15000)
    assert figure.locator(".scatterlayer .trace").count() == 4
    assert page.locator("style").count() == 0


def test_numbers_and_picture_of_a_figure_can_be_saved(page_for, cast):
    page = page_for(cast.cato, accept_downloads=True)
    page.goto(address(cast, "leverages/stances/"))
    figure = page.locator("#figure-sweep-range_of_motion_m")
    figure.scroll_into_view_if_needed()
    expect(figure.locator(".main-svg").first).to_be_visible(timeout=15000)
    with page.expect_download() as saved:
        figure.get_by_role("button", name="Save numbers (CSV)").click()
    text = saved.value.path().read_text(encoding="utf-8-sig")
    assert text.splitlines()[0] == '"Stance, cm","Length of the pull, cm",low,high'
    assert len(text.splitlines()) == 26
    with page.expect_download() as saved:
        figure.get_by_role("button", name="Save picture (PNG)").click()
    assert saved.value.path().read_bytes().startswith(b"\x89PNG")


def test_the_picture_follows_the_form_and_keeps_what_was_typed_on_a_message(page_for, cast):
    page = page_for(cast.cato)
    page.goto(address(cast, "leverages/what-if/"))
    page.locator("#id_style").select_option("sumo")
    page.locator("#id_stance").fill("55")
    expect(page.locator("#what-if-result")).to_contain_text("longer pull")
    assert "stance=55" in page.url
    page.locator("#id_stance").fill("five")
    expect(page.locator("#what-if-result [role=alert]")).to_contain_text("not a number")
    assert page.locator("#id_stance").input_value() == "five"


def test_by_keyboard_alone_the_what_if_form_can_be_reached_filled_and_sent(page_for, cast):
    page = page_for(cast.cato)
    page.goto(address(cast, "leverages/what-if/"))
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("() => document.activeElement.id") == "id_stance":
            break
    page.keyboard.type("50")
    page.keyboard.press("Enter")
    expect(page.locator("#what-if-result")).to_contain_text("Your change against")
    assert page.evaluate("() => document.activeElement.id") == "id_stance"


def test_printed_the_three_positions_stand_there_and_the_slider_does_not(page_for, cast):
    page = page_for(cast.cato)
    page.goto(address(cast))
    expect(page.locator(".scrubber")).to_be_visible()
    assert not page.get_by_role("heading", name="At lockout", exact=True).is_visible()
    page.emulate_media(media="print")
    assert page.get_by_role("heading", name="At lockout", exact=True).is_visible()
    assert not page.locator(".scrubber").is_visible()


def test_ghosts_are_off_until_asked_for_and_only_at_lift_off(page_for, cast):
    page = page_for(cast.cato)
    page.goto(address(cast))
    expect(page.locator(".scrubber")).to_be_visible()
    ghost = page.locator(".first-row .ghost").first
    assert not ghost.is_visible()
    page.get_by_label("Show the range at lift-off").check()
    assert ghost.is_visible()
    page.get_by_role("button", name="Lockout").click()
    assert not ghost.is_visible()
