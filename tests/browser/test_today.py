"""Today in a real browser: taps counted, the first screen, halves on hold, and axe in both themes."""

from datetime import timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import Page, expect

from athletes.models import LiftSet, PlanItem
from tests.browser.conftest import no_sideways_scroll
from tests.browser.test_account_and_privacy import axe_hits

PHONE, DESK = (390, 844), (1280, 800)


@pytest.fixture
def ada(live_cast):
    """Half a year of singles and a day's plan: a heavy triple, two lighter ones, a squat."""
    ada, today = live_cast.athletes["ada"], timezone.localdate()
    for week in range(20, 0, -1):
        LiftSet.objects.create(
            athlete=ada, day=today - timedelta(weeks=week), style="sumo", load_typed="120", load_unit="kg",
            load_kg=120.0 + 0.5 * (20 - week), rir_low=1, rir_high=1, bar_kind="stiff", grip="hook",
        )  # fmt: skip
    lines = (("deadlift", "sumo", 110.0, 1), ("deadlift", "sumo", 100.0, 2), ("squat", "", 95.0, 1))
    for order, (lift, style, load, sets) in enumerate(lines, start=1):
        PlanItem.objects.create(
            athlete=ada, day=today, order=order, lift=lift, style=style, sets=sets, reps=3, load_kg=load,
            load_typed=f"{load:g}", load_unit="kg", cue="Knees out, hips in, chest up" if order == 1 else "",
            rpe_cap=8 if order == 1 else None,
        )  # fmt: skip
    return ada


def open_today(page_for, cast, size, **extra) -> Page:
    page = page_for(cast.ada, width=size[0], **extra)
    page.set_viewport_size({"width": size[0], "height": size[1]})
    page.goto(f"/athletes/{cast.athletes['ada'].pk}/")
    return page


def bottom(page: Page, selector: str) -> float:
    box = page.locator(selector).locator("visible=true").first.bounding_box()
    return box["y"] + box["height"]


@pytest.mark.parametrize("size", [PHONE, DESK])
def test_answer_button_and_picture_stand_on_the_first_screen(page_for, live_cast, ada, size):
    page = open_today(page_for, live_cast, size)
    expect(page.locator("h1")).to_have_count(1)
    for selector in (".load", ".cue", ".effort", ".tap"):
        assert bottom(page, selector) <= size[1]
    picture = page.locator(".plate svg").locator("visible=true").bounding_box()
    assert picture["y"] <= 370
    assert picture["y"] + 0.6 * picture["height"] <= size[1] - (136 if size == PHONE else 0)
    assert no_sideways_scroll(page)


def test_on_a_phone_the_keys_are_large_and_at_the_thumb(page_for, live_cast, ada):
    page = open_today(page_for, live_cast, PHONE)
    made, missed = (page.get_by_role("button", name=name, exact=True).bounding_box() for name in ("Made", "Missed"))
    assert made["height"] >= 60 and made["y"] > 700
    assert 0.55 <= made["width"] / (made["width"] + missed["width"]) <= 0.65
    for key in page.locator(".effort label").all():
        assert key.bounding_box()["height"] >= 54


def test_a_made_set_is_one_tap_and_two_with_reps_left(page_for, live_cast, ada):
    page = open_today(page_for, live_cast, PHONE)
    page.get_by_role("button", name="Made", exact=True).click()
    expect(page.locator(".load")).to_contain_text("100")
    today = ada.sets.filter(day=timezone.localdate()).order_by("order")
    assert [(s.load_kg, s.reps_made, s.rir_low) for s in today] == [(110.0, 3, None)]
    page.locator(".effort label").nth(2).click()
    page.get_by_role("button", name="Made", exact=True).click()
    expect(page.locator(".kick")).to_contain_text("set 2 of 2")
    assert [(s.load_kg, s.rir_low) for s in today.all()] == [(110.0, None), (100.0, 2.0)]


def test_a_miss_with_place_and_cause_is_three_taps(page_for, live_cast, ada):
    page = open_today(page_for, live_cast, PHONE)
    page.get_by_role("button", name="Missed").click()
    expect(page.locator("h1")).to_have_text("Miss saved. Where did the bar stop?")
    page.get_by_role("button", name="Below the knee").click()
    expect(page.get_by_role("button", name="Below the knee")).to_have_attribute("aria-pressed", "true")
    page.get_by_role("button", name="Back rounded").click()
    expect(page.get_by_role("button", name="Back rounded")).to_have_attribute("aria-pressed", "true")
    row = ada.sets.get(day=timezone.localdate())
    assert (row.result, row.miss_position, row.gave_way) == ("missed", "below-knee", "back-rounded")
    assert bottom(page, ".and-then") <= 844 - 52
    page.get_by_role("link", name="Next set 97.5 kg").click()
    expect(page.locator(".load")).to_contain_text("97.5")


def test_a_key_held_takes_the_half_and_a_step_changes_the_load(page_for, live_cast, ada):
    page = open_today(page_for, live_cast, PHONE)
    key = page.locator(".effort label").nth(2)
    box = key.bounding_box()
    page.mouse.move(box["x"] + 10, box["y"] + 10)
    page.mouse.down()
    expect(key).to_contain_text("2½")
    page.mouse.up()
    page.locator(".change summary").click()
    page.get_by_role("button", name="More load").click()
    expect(page.locator("[data-load]")).to_have_text("112.5")
    page.get_by_role("button", name="Made", exact=True).click()
    expect(page.locator(".load")).to_contain_text("100")
    row = ada.sets.get(day=timezone.localdate())
    assert (row.load_kg, row.rir_low) == (112.5, 2.5)


def test_without_script_the_same_taps_log_the_same_sets(page_for, live_cast, ada):
    page = open_today(page_for, live_cast, PHONE, java_script_enabled=False)
    page.locator(".effort input").nth(3).check(force=True)
    page.get_by_role("button", name="Made", exact=True).click()
    page.get_by_role("button", name="Missed").click()
    page.get_by_role("button", name="Lockout").click()
    rows = ada.sets.filter(day=timezone.localdate()).order_by("order")
    assert [(s.result, s.rir_low, s.miss_position) for s in rows] == [("made", 1.0, ""), ("missed", None, "lockout")]


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("width", [320, 390, 1280])
def test_axe_finds_nothing(page_for, live_cast, ada, width, dark):
    page = open_today(page_for, live_cast, (width, 844), dark=dark)
    assert no_sideways_scroll(page)
    assert axe_hits(page) == []
    page.get_by_role("button", name="Missed").click()
    expect(page.locator("h1")).to_contain_text("Miss saved")
    assert no_sideways_scroll(page)
    assert axe_hits(page) == []
