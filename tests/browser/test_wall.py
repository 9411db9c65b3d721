"""The squad wall in a real browser: 30 lifters on one screen, undo, hidden names, axe in both themes."""

from math import sin

import pytest
from playwright.sync_api import Page, expect

from analysis.store.profiles import Sources, today_in
from athletes.models import Athlete
from tests.browser.conftest import no_sideways_scroll
from tests.browser.test_account_and_privacy import axe_hits

FIRST = ("Ned", "Rafe", "Milo", "Pia", "Juno", "Bea", "Otis", "Nell", "Cato", "Edda")
LAST = ("Undersee", "Brandreth", "Osgood")
DUE = (
    ("due-level", "today", "Trial ends today, styles level", "Decide"),
    ("attempts", "today", "Meet in 9 days, no attempts yet", "Set attempts"),
    ("private", "today", "Only you see this", "Talk to Ned"),
    ("round-lockouts", "today", "3 lockout misses, back still round", "Film a triple"),
    ("hips", "today", "Sumo start: hips look far back", "Film two more"),
    ("offered", "today", "Leans sumo, 6 in 10 (4–8)", "Plan trial"),
    ("link", "week", "Back likely, 4 misses", "Plan 8 weeks"),
    ("days-short", "week", "3 of 8 sumo days", "Ask why"),
    ("slips", "week", "All 6 misses: the bar slipped", "Test straps"),
    ("harder", "week", "1 RPE harder in 8 weeks", "Look"),
    ("no-heavy", "week", "15 days without a heavy pull", "Ask why"),
    ("measure", "week", "Four lengths first", "Measure"),
    ("views", "week", "Coaches lean sumo, log is level", "Plan test"),
)


def payload(number: int) -> dict:
    """A stored row: half a year of its own, and the reason of its number if it has one."""
    base = 90.0 + 4.0 * number
    reasons = []
    if number < len(DUE):
        code, due, text, button = DUE[number]
        reason = {"code": code, "due": due, "text": text, "button": button, "leads": "decision", "evidence": "e"}
        reasons = [reason | {"private": code == "private"}]
    lines = {"conventional": [base + 3.0 * sin(number + i) + i for i in range(13)]}
    if number % 4 == 0:
        lines["sumo"] = [None] * 8 + [base - 12.0 + 3.0 * i for i in range(5)]
    misses = [[0.4 + 0.1 * k, base + 8.0] for k in range(number % 5)]
    row = {"main": "conventional", "range": [base, base + 14.0], "lines": lines, "misses": misses}
    return row | {"reasons": reasons}


@pytest.fixture
def thirty(live_cast):
    """A club of exactly 30 lifters whose rows are stored."""
    club = live_cast.quarry
    Athlete.objects.filter(club=club).update(active=False)
    for number in range(30):
        name = f"{FIRST[number % 10]} {LAST[number // 10]}"
        athlete = Athlete.objects.create(club=club, coach=live_cast.cato, name=name, sex="f", standing="trained")
        Sources(athlete, today_in(club), sees_health=True).keep("wall", payload(number))
    return live_cast


def height(page: Page) -> int:
    return page.evaluate("document.documentElement.scrollHeight")


def open_wall(page_for, cast, width: int, tall: int, query: str = "", dark: bool = False) -> Page:
    page = page_for(cast.cato, width=width, dark=dark)
    page.set_viewport_size({"width": width, "height": tall})
    page.goto(f"/squad/{query}")
    return page


def test_thirty_lifters_stand_on_one_screen_of_a_desk(page_for, thirty):
    page = open_wall(page_for, thirty, 1280, 800)
    expect(page.locator("h1")).to_have_text("6 lifters need you today, 7 this week")
    assert page.locator(".due").count() == 13 and page.locator("li.quiet").count() == 17
    bottoms = page.locator(".rows li").evaluate_all("(rows) => rows.map((row) => row.getBoundingClientRect().bottom)")
    assert max(bottoms) <= 800
    assert page.locator(".due").first.bounding_box()["height"] <= 44
    assert no_sideways_scroll(page)


def test_on_a_phone_thirty_lifters_take_at_most_2050_px_and_each_button_can_be_touched(page_for, thirty):
    page = open_wall(page_for, thirty, 390, 844)
    assert height(page) <= 2050
    assert no_sideways_scroll(page)
    for button in page.locator(".do").all():
        assert button.bounding_box()["height"] >= 48
    assert page.locator(".do").first.bounding_box()["y"] <= 330


def test_of_each_row_at_most_eight_words(page_for, thirty):
    page = open_wall(page_for, thirty, 1280, 800)
    for row in page.locator(".due .w").all_inner_texts():
        assert len(row.split()) <= 8


def test_a_reason_set_aside_moves_at_once_and_undo_brings_it_back(page_for, thirty):
    page = open_wall(page_for, thirty, 1280, 800)
    page.locator(".due").filter(has_text="Film two more").get_by_role("button").click()
    expect(page.locator("h1")).to_have_text("5 lifters need you today, 7 this week")
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("h1")).to_have_text("6 lifters need you today, 7 this week")


def test_undo_leaves_after_ten_seconds(page_for, thirty):
    page = page_for(thirty.cato, width=1280)
    page.clock.install()
    page.goto("/squad/")
    page.locator(".due").filter(has_text="Film two more").get_by_role("button").click()
    expect(page.get_by_role("button", name="Undo")).to_be_visible()
    page.mouse.move(0, 0)
    page.clock.run_for(9_000)
    expect(page.get_by_role("button", name="Undo")).to_be_visible()
    page.clock.run_for(3_000)
    expect(page.get_by_role("button", name="Undo")).to_have_count(0)


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("width", [320, 390, 1280])
def test_axe_finds_nothing(page_for, thirty, width, dark):
    page = open_wall(page_for, thirty, width, 800, dark=dark)
    assert no_sideways_scroll(page)
    assert axe_hits(page) == []
