"""The weak-link page in a real browser: the answer, the button and the picture first; words within the budget."""

from datetime import timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import expect

from athletes.models import LiftSet
from tests.analysis.measured import measure
from tests.browser.conftest import no_sideways_scroll
from tests.browser.test_leverages import WORDS, serious

TODAY = timezone.localdate()


@pytest.fixture
def cast(live_cast):
    ada = live_cast.athletes["ada"]
    measure(ada)
    base = {"athlete": ada, "style": "conventional", "load_unit": "kg", "bar_kind": "stiff", "grip": "mixed"}
    for i in range(10):
        LiftSet.objects.create(
            **base, day=TODAY - timedelta(days=7 * i + 3), load_typed="132.5", load_kg=132.5, reps_made=3, reps_tried=3,
            rir_low=2, rir_high=2,
        )  # fmt: skip
    for i in range(4):
        LiftSet.objects.create(
            **base, day=TODAY - timedelta(days=14 * i + 10), load_typed="150", load_kg=150, reps_made=0, reps_tried=1,
            result="missed", miss_position="below-knee", gave_way="just-stopped",
        )  # fmt: skip
    return live_cast


@pytest.mark.parametrize(("width", "height", "top"), [(390, 844, 370), (1280, 800, 260)])
@pytest.mark.parametrize("dark", [False, True])
def test_answer_button_and_picture_stand_on_the_first_screen(page_for, cast, width, height, top, dark):
    page = page_for(cast.cato, width=width, height=height, dark=dark)
    page.goto(f"/athletes/{cast.athletes['ada'].pk}/weak-link/")
    bottom = height - (56 if width < 700 else 0)
    assert page.locator("h1").inner_text().startswith("Stops just below the knee:")
    box = page.locator(".button.do").bounding_box()
    assert box["y"] + box["height"] <= bottom
    plate, picture = page.locator(".ladders").bounding_box(), page.locator(".ladders svg").first.bounding_box()
    assert plate["y"] <= top
    assert picture["y"] + 0.6 * picture["height"] <= bottom
    assert no_sideways_scroll(page)
    assert serious(page) == []


@pytest.mark.parametrize("width", [390, 1280])
def test_closed_it_keeps_its_height_and_to_200_words(page_for, cast, width):
    page = page_for(cast.cato, width=width, height=800)
    page.goto(f"/athletes/{cast.athletes['ada'].pk}/weak-link/")
    before = page.evaluate("document.documentElement.scrollHeight")
    page.mouse.wheel(0, 5000)
    page.wait_for_timeout(300)
    assert page.evaluate("document.documentElement.scrollHeight") == before
    text = page.evaluate(WORDS)
    assert len(text.split()) <= 200, text


def test_floor_and_lockout_run_through_both_pictures(page_for, cast):
    page = page_for(cast.cato, width=1280, height=800)
    page.goto(f"/athletes/{cast.athletes['ada'].pk}/weak-link/")
    for line in (".floor", ".l-conventional"):
        tops = page.locator(f".ladders {line}").evaluate_all("(all) => all.map((f) => f.getBoundingClientRect().top)")
        assert len(tops) == 2 and abs(tops[0] - tops[1]) <= 1.5
    assert page.locator(".ladders .miss").count() == 4
    page.locator("#misses summary").click()
    expect(page.locator("#misses table")).to_be_visible()
