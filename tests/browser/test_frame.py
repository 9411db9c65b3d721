"""The frame of every page in a real browser: the place one is at is in view, and nothing typed is lost on the way."""

import re

import pytest
from playwright.sync_api import Page, expect

from athletes.models import LiftSet
from tests.browser.conftest import no_sideways_scroll
from tests.browser.test_account_and_privacy import axe_hits
from tests.cast import PASSWORD

IN_VIEW = """(list) => {
  const [outer, inner] = [list, list.querySelector('[aria-current]')].map((one) => one.getBoundingClientRect());
  return inner.left >= outer.left - 1 && inner.right <= outer.right + 1;
}"""
TABS = ("", "build/", "leverages/", "lifts/", "weak-link/", "styles/", "meets/", "pictures/", "report/")


def signs(page: Page) -> tuple[bool, bool]:
    """Whether the athlete's list of places says that there is more before, and after."""
    classes = (page.locator(".athlete-nav").get_attribute("class") or "").split()
    return "more-before" in classes, "more-after" in classes


def test_on_a_phone_the_current_place_is_in_view_and_the_ends_say_where_more_is(page_for, live_cast):
    page = page_for(live_cast.cato, width=390)
    shown = {}
    for tab in TABS:
        page.goto(f"/athletes/{live_cast.athletes['ada'].pk}/{tab}")
        expect(page.locator(".athlete-nav")).to_have_class(re.compile("more-"))
        shown[tab] = page.locator(".athlete-nav .nav").evaluate(IN_VIEW)
        assert no_sideways_scroll(page)
    assert [tab for tab, seen in shown.items() if not seen] == []


def test_at_either_end_only_the_other_side_says_more(page_for, live_cast):
    page = page_for(live_cast.cato, width=390)
    page.goto(f"/athletes/{live_cast.athletes['ada'].pk}/")
    expect(page.locator(".athlete-nav.more-after")).to_be_visible()
    assert signs(page) == (False, True)
    page.locator(".athlete-nav .nav").evaluate("(list) => { list.scrollLeft = 9999; }")
    expect(page.locator(".athlete-nav.more-before")).to_be_visible()
    assert signs(page) == (True, False)


def test_on_a_wide_window_nothing_is_hidden_and_nothing_says_more(page_for, live_cast):
    page = page_for(live_cast.cato, width=1280)
    page.goto(f"/athletes/{live_cast.athletes['ada'].pk}/weak-link/")
    page.wait_for_load_state("networkidle")
    assert signs(page) == (False, False)


def test_with_the_keyboard_every_place_comes_into_view(page_for, live_cast):
    page = page_for(live_cast.cato, width=390)
    page.goto(f"/athletes/{live_cast.athletes['ada'].pk}/")
    last = page.locator(".athlete-nav a").last
    last.focus()
    box = last.bounding_box()
    assert box["x"] >= 0
    assert box["x"] + box["width"] <= 391


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
