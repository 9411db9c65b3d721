"""The frame of every page in a real browser: the place one is at is in view, and nothing typed is lost on the way."""

import pytest
from playwright.sync_api import Page, expect

from athletes.models import LiftSet
from tests.browser.conftest import no_sideways_scroll
from tests.browser.test_account_and_privacy import axe_hits
from tests.cast import PASSWORD

LOG = ("lifts/", "progress/", "back-load/", "bar-and-grip/", "bests/")
SIX = ["Today", "Decision", "Leverages", "Weak link", "Log", "Meet"]
IN_VIEW = """(list) => {
  const [outer, inner] = [list, list.querySelector('[aria-current]')].map((one) => one.getBoundingClientRect());
  return inner.left >= outer.left - 1 && inner.right <= outer.right + 1;
}"""


def open_page(page_for, live_cast, tail: str, width: int, height: int = 844) -> Page:
    page = page_for(live_cast.cato, width=width)
    page.set_viewport_size({"width": width, "height": height})
    page.goto(f"/athletes/{live_cast.athletes['ada'].pk}/{tail}")
    return page


def test_on_a_phone_six_places_stand_at_the_bottom_and_the_current_page_is_in_view(page_for, live_cast):
    for tail in LOG:
        page = open_page(page_for, live_cast, tail, 390)
        box = page.locator(".places").bounding_box()
        assert box["y"] + box["height"] == pytest.approx(844, abs=1)
        assert 50 <= box["height"] <= 56
        assert page.locator(".places a").all_inner_texts() == SIX
        expect(page.locator(".places [aria-current]")).to_have_text("Log")
        assert page.locator(".place-pages .nav").evaluate(IN_VIEW), tail
        assert no_sideways_scroll(page)


@pytest.mark.parametrize("width", [320, 390])
def test_every_place_is_on_the_screen_of_a_phone_and_large_enough_to_touch(page_for, live_cast, width):
    page = open_page(page_for, live_cast, "decision/", width)
    for link in page.locator(".places a").all():
        box = link.bounding_box()
        assert box["x"] >= 0 and box["x"] + box["width"] <= width
        assert box["height"] >= 44 and box["width"] >= 40


def test_enlarged_text_lets_the_places_stand_in_the_page(page_for, live_cast):
    page = open_page(page_for, live_cast, "decision/", 195, 422)  # a phone of 390 x 844 at 200 %
    assert page.locator(".places").evaluate("(nav) => getComputedStyle(nav).position") == "static"
    assert no_sideways_scroll(page)


def test_on_a_desk_one_bar_of_44_px_holds_names_places_print_and_profile(page_for, live_cast):
    page = open_page(page_for, live_cast, "weak-link/", 1280, 800)
    bar = page.locator(".lifter-bar").bounding_box()
    assert bar["height"] <= 46
    assert page.locator(".lifter-bar .places a").all_inner_texts() == SIX
    expect(page.locator(".lifter-bar").get_by_role("link", name="Print")).to_be_visible()
    expect(page.locator(".lifter-bar").get_by_role("link", name="Profile")).to_be_visible()


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("path", ["/none-such/", "/account/second-step/begin/", "/new-address/none-such/"])
def test_pages_about_errors_fit_and_axe_finds_nothing(page_for, live_cast, path, dark):
    page = page_for(live_cast.cato, width=390, dark=dark)
    page.goto(path)
    complaints_of_the_server(page)
    assert no_sideways_scroll(page)
    assert axe_hits(page) == []


# --- nothing typed is lost ----------------------------------------------------------------------------------------


def fill_a_set(page: Page, athlete: int) -> None:
    page.goto(f"/athletes/{athlete}/lifts/new/")
    page.get_by_label("Load on the bar").fill("182.5")
    page.locator("[name=note]").fill("third single")


def complaints_of_the_server(page: Page) -> None:
    """The browser itself writes refused answers into the console; those were brought about on purpose."""
    page.complaints[:] = [text for text in page.complaints if "Failed to load resource" not in text]


def test_after_a_session_that_ended_the_set_is_read_over_and_sent(page_for, live_cast):
    page = page_for(live_cast.cato, width=390)
    ada = live_cast.athletes["ada"].pk
    fill_a_set(page, ada)
    page.context.clear_cookies(name="sessionid")
    page.get_by_role("button", name="Log it", exact=True).click()
    expect(page.get_by_text("it was not kept on the server")).to_be_visible()
    page.get_by_text("What you typed").click()
    expect(page.get_by_text("third single")).to_be_visible()
    assert no_sideways_scroll(page)
    assert axe_hits(page) == []
    page.get_by_label("E-mail").fill(live_cast.cato.email)
    page.get_by_label("Password", exact=True).fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", name="Send it now?")).to_be_visible()
    assert axe_hits(page) == []
    page.get_by_role("button", name="Send it").click()
    expect(page.get_by_text("Logged for Ada Fell")).to_be_visible()
    assert LiftSet.objects.get().note == "third single"
    page.goto(f"/athletes/{ada}/lifts/new/")
    assert page.locator("[name=note]").input_value() == "", "what has arrived is not offered again"
    complaints_of_the_server(page)


def test_the_form_itself_shows_what_was_typed_when_one_opens_it_instead(page_for, live_cast):
    page = page_for(live_cast.cato)
    ada = live_cast.athletes["ada"].pk
    fill_a_set(page, ada)
    page.context.clear_cookies(name="sessionid")
    page.get_by_role("button", name="Log it", exact=True).click()
    page.get_by_label("E-mail").fill(live_cast.cato.email)
    page.get_by_label("Password", exact=True).fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.get_by_role("link", name="open that page without it").click()
    expect(page.get_by_text("What you typed here before is back")).to_be_visible()
    assert page.locator("[name=note]").input_value() == "third single"
    assert axe_hits(page) == []
    page.get_by_role("button", name="Throw it away").click()
    expect(page.get_by_text("What you typed here before")).to_have_count(0)
    assert page.locator("[name=note]").input_value() == ""
    complaints_of_the_server(page)


@pytest.mark.parametrize("how", ["old form", "no network"])
def test_going_back_brings_back_what_was_typed(page_for, live_cast, how):
    page = page_for(live_cast.cato)
    fill_a_set(page, live_cast.athletes["ada"].pk)
    form = page.url
    if how == "old form":
        page.context.clear_cookies(name="csrftoken")
        page.get_by_role("button", name="Log it", exact=True).click()
        # going back while the refused answer still arrives loses the tab's history for a moment
        expect(page.get_by_role("heading", name="This form has grown old")).to_be_visible()
        page.go_back()
    else:
        page.context.set_offline(True)
        page.get_by_role("button", name="Log it", exact=True).click()
        page.wait_for_timeout(300)
        page.context.set_offline(False)
        page.goto(form)
    expect(page.locator("[name=note]")).to_have_value("third single")
    expect(page.get_by_label("Load on the bar")).to_have_value("182.5")
    complaints_of_the_server(page)


def test_what_has_arrived_never_comes_back_though_its_form_opens_again(page_for, live_cast):
    page = page_for(live_cast.cato)
    page.goto("/account/")  # the helper that keeps the board is at work from the second page on
    page.wait_for_load_state("networkidle")
    fill_a_set(page, live_cast.athletes["ada"].pk)
    page.get_by_role("button", name="Log it, then another").click()
    expect(page.get_by_text("Logged for Ada Fell")).to_be_visible()
    assert page.locator("[name=note]").input_value() == ""
    page.reload()
    assert page.locator("[name=note]").input_value() == ""
    page.get_by_label("Load on the bar").fill("heavy")
    page.get_by_role("button", name="Log it", exact=True).click()
    expect(page.get_by_label("Load on the bar")).to_have_value("heavy")
    expect(page.get_by_text("What you typed here before")).to_have_count(0)
    complaints_of_the_server(page)


def test_it_is_for_nobody_else_and_goes_at_sign_out(page_for, live_cast):
    page = page_for(live_cast.cato)
    fill_a_set(page, live_cast.athletes["ada"].pk)
    page.context.clear_cookies(name="csrftoken")
    page.get_by_role("button", name="Log it", exact=True).click()
    expect(page.get_by_role("heading", name="This form has grown old")).to_be_visible()
    assert page.evaluate("sessionStorage.getItem('draft')")
    page.goto("/account/")
    page.get_by_role("button", name="Sign out", exact=True).click()
    page.wait_for_url("**/sign-in/**")
    assert page.evaluate("sessionStorage.getItem('draft')") is None
    complaints_of_the_server(page)


def test_passwords_are_never_kept_in_the_browser(page_for, live_cast):
    page = page_for(live_cast.cato)
    page.goto("/account/email/")
    page.get_by_label("New e-mail").fill("new@example.test")
    page.get_by_label("Your password").fill("not-my-password")
    page.context.clear_cookies(name="csrftoken")
    page.get_by_role("button", name="Send the link").click()
    expect(page.get_by_role("heading", name="This form has grown old")).to_be_visible()
    kept = page.evaluate("sessionStorage.getItem('draft')")
    assert "new@example.test" in kept
    assert "not-my-password" not in kept
    complaints_of_the_server(page)
