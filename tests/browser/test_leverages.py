"""The leverage pages and How it works in a real browser: the slider, the handles, the budget of words."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from tests.analysis.measured import measure
from tests.browser.conftest import no_sideways_scroll

PAGES = ("leverages/", "leverages/curves/", "leverages/stances/", "leverages/beside/")


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


def slide_to(page: Page, height: str) -> None:
    page.locator("#height").evaluate("(s, v) => { s.value = v; s.dispatchEvent(new Event('input')); }", height)


def opened(page_for, cast, width=1280, height=800, query="", **extra) -> Page:
    page = page_for(cast.cato, width=width, height=height, **extra)
    page.goto(address(cast) + query)
    return page


def attribute(page: Page, which: str, part: str, name: str) -> float:
    return float(page.locator(f'[data-of="{which}"] [data-part="{part}"]').get_attribute(name))


@pytest.mark.parametrize("width", [390, 1280])
@pytest.mark.parametrize("dark", [False, True])
def test_no_page_scrolls_sideways_or_has_serious_findings(page_for, cast, width, dark):
    page = page_for(cast.cato, width=width, dark=dark)
    for where in all_addresses(cast):
        page.goto(where)
        assert no_sideways_scroll(page), where
        assert serious(page) == [], where


@pytest.mark.parametrize(("width", "height", "top"), [(390, 844, 370), (1280, 800, 260)])
def test_the_first_screen_answers_acts_and_shows_the_picture(page_for, cast, width, height, top):
    page = opened(page_for, cast, width, height)
    bottom = height - (56 if width < 700 else 0)
    for part in (page.locator("h1"), page.get_by_role("link", name="Measure stance and toes")):
        box = part.bounding_box()
        assert box["y"] + box["height"] <= bottom
    picture = page.locator(".lifter svg").first.bounding_box()
    assert page.locator(".plate").bounding_box()["y"] <= top
    assert picture["y"] + 0.6 * picture["height"] <= bottom


@pytest.mark.parametrize("width", [390, 1280])
def test_the_page_keeps_its_height_and_its_budget_of_words(page_for, cast, width):
    """At most 160 words with all details closed, words drawn in a picture, cautions and the foot not counted."""
    page = opened(page_for, cast, width)
    before = page.evaluate("document.documentElement.scrollHeight")
    page.mouse.wheel(0, 5000)
    page.wait_for_timeout(300)
    assert page.evaluate("document.documentElement.scrollHeight") == before
    text = page.evaluate(WORDS)
    assert len(text.split()) <= 160, text
    assert len(page.locator("h1").inner_text().split()) <= 12


WORDS = """() => {
  const copy = document.querySelector("main").cloneNode(true);
  const out = "svg, .lifter p, .at-links, [hidden], .lifter-bar, .place-pages, .note, .caution";
  copy.querySelectorAll(out).forEach((one) => one.remove());
  copy.querySelectorAll("details:not([open]) > :not(summary)").forEach((one) => one.remove());
  return copy.innerText;
}"""


def test_floors_and_lockout_lines_of_the_pictures_stand_level(page_for, cast):
    page = opened(page_for, cast)
    floors = page.locator(".stage .floor").evaluate_all("(all) => all.map((f) => f.getBoundingClientRect().top)")
    assert len(floors) == 3 and max(floors) - min(floors) <= 1.0
    for kind in ("conventional", "sumo"):
        lines = page.locator(f".lifter .l-{kind}").evaluate_all(
            "(all) => all.map((f) => f.getBoundingClientRect().top)"
        )
        assert len(lines) == 2 and abs(lines[0] - lines[1]) <= 1.0


def test_the_slider_moves_both_lifters_to_one_height_and_the_dots_with_them(page_for, cast):
    """Oracle: at a height that both pulls hold, both bars and both dots stand level."""
    page = opened(page_for, cast)
    begin = attribute(page, "first", "bar", "cy")
    slide_to(page, "45")
    expect(page.locator(".scrub output")).to_contain_text("45 cm")
    heights = [attribute(page, which, "bar", "cy") for which in ("first", "second")]
    dots = [
        float(page.locator(f'.chart [data-part="dot-{which}"]').get_attribute("cy")) for which in ("first", "second")
    ]
    assert heights[0] == pytest.approx(begin - 200 * 0.225, abs=0.6)  # 200 units a metre, from 22.5 cm
    assert max([*heights, *dots]) - min([*heights, *dots]) <= 0.6
    page.locator("#height").focus()
    page.keyboard.press("End")
    expect(page.locator(".scrub output")).to_contain_text("lockout")
    expect(page.locator('[data-of="first"] [data-part="knee-words"]')).not_to_have_text("knee bent 62°")


def test_by_keyboard_a_handle_moves_feet_figure_and_answer(page_for, cast):
    page = opened(page_for, cast)
    stance = page.get_by_role("slider", name="stance")
    before, hips = int(stance.get_attribute("aria-valuenow")), attribute(page, "second", "joint-hip", "cx")
    stance.focus()
    page.keyboard.press("PageDown")
    page.keyboard.press("ArrowLeft")
    assert stance.get_attribute("aria-valuetext") == f"stance {before - 6} cm"
    expect(page.locator("h1")).to_contain_text(f"at {before - 6} cm")
    assert attribute(page, "second", "joint-hip", "cx") != hips
    assert page.locator("#id_stance").input_value() == str(before - 6)
    assert page.evaluate("() => document.activeElement.dataset.handle") == "stance"
    assert f"stance={before - 6}" in page.url


@pytest.mark.parametrize("key", ["stance", "turnout", "hands"])
def test_by_pointer_each_handle_follows_and_the_server_draws(page_for, cast, key):
    page = opened(page_for, cast)
    expect(page.locator(".drawn.moving")).to_be_visible()
    slider = page.locator(f'[data-handle="{key}"][role]')
    before = slider.get_attribute("aria-valuenow")
    old = page.locator('[data-swap="figure-second"] svg').inner_html()
    ring = slider.locator(".grab-ring").bounding_box()
    x, y = ring["x"] + ring["width"] / 2, ring["y"] + ring["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 30, y + 4, steps=4)
    assert slider.get_attribute("aria-valuenow") != before
    page.mouse.up()
    expect(page.locator(".ground")).to_contain_text("As moved")
    page.wait_for_timeout(400)
    assert page.locator('[data-swap="figure-second"] svg').inner_html() != old


def test_without_script_the_form_and_the_links_do_the_same(page_for, cast):
    page = opened(page_for, cast, java_script_enabled=False)
    assert not page.locator(".grab").first.is_visible()
    page.get_by_role("link", name="Lockout").click()
    assert "Sumo at lockout" in page.content()
    page.locator("#type summary").click()
    page.locator("#id_stance").fill("55")
    page.get_by_role("button", name="Show").click()
    assert "Sumo at 55" in page.locator("h1").inner_text().replace("\u00a0", " ")


def test_a_number_that_cannot_be_is_answered_and_kept(page_for, cast):
    page = opened(page_for, cast)
    page.locator("#type summary").click()
    page.locator("#id_stance").fill("five")
    expect(page.locator("[data-swap=refusal] [role=alert]")).to_contain_text("not a number")
    assert page.locator("#id_stance").input_value() == "five"
    page.locator("#id_stance").fill("58")
    expect(page.locator("h1")).to_contain_text("at 58")
    expect(page.locator("[data-swap=refusal] [role=alert]")).to_have_count(0)


def test_the_chart_library_stays_away_until_the_curves_are_explored(page_for, cast):
    page = opened(page_for, cast)
    assert page.locator('script[src*="plotly.min"]').count() == 0
    page.goto(address(cast, "leverages/curves/"))
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
    figure.get_by_text("Numbers; CSV; Picture").click()
    with page.expect_download() as saved:
        figure.get_by_role("button", name="CSV:").click()
    text = saved.value.path().read_text(encoding="utf-8-sig")
    assert text.splitlines()[0] == '"Stance, cm","Length of the pull, cm",low,high'
    assert len(text.splitlines()) == 26
    with page.expect_download() as saved:
        figure.get_by_role("button", name="Picture:").click()
    assert saved.value.path().read_bytes().startswith(b"\x89PNG")
