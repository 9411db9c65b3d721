"""The board in a real browser on a phone: few taps, large targets, names for everything, both colour schemes."""

from datetime import timedelta

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.utils import timezone
from playwright.sync_api import Page, expect

from athletes.models import LiftSet, PlanItem, Presence
from tests.browser.conftest import no_sideways_scroll

MOST_TAPS = 6
# without preloading, which would load style sheets a second time and trip over the policy
AXE = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"], "preload": False}


class Thumb:
    """Taps one thing after another and counts."""

    def __init__(self, page: Page) -> None:
        self.page, self.taps = page, 0

    def tap(self, selector: str) -> None:
        self.taps += 1
        self.page.locator(selector).first.tap()


@pytest.fixture
def room(live_cast):
    """Ada is here with a plan and a history; Petra is here; Ivo is not."""
    ada, today = live_cast.athletes["ada"], timezone.localdate()
    for name in ("ada", "petra"):
        Presence.objects.create(athlete=live_cast.athletes[name], day=today)
    LiftSet.objects.create(
        athlete=ada, day=today - timedelta(days=7), load_typed="150", load_unit="kg", load_kg=150.0, style="sumo",
        grip="hook", belt=True, reps_tried=3, reps_made=3,
    )  # fmt: skip
    PlanItem.objects.create(
        athlete=ada, day=today, order=1, sets=2, reps=3, load_typed="140", load_unit="kg", load_kg=140.0, style="sumo",
        cue="Chest up",
    )  # fmt: skip
    PlanItem.objects.create(
        athlete=ada, day=today, order=2, sets=1, reps=5, load_typed="110", load_unit="kg", load_kg=110.0,
        style="conventional", start="deficit", start_typed="5", start_unit="cm", start_cm=5.0,
    )  # fmt: skip
    return live_cast


@pytest.fixture
def phone(page_for):
    def open_board(user, dark: bool = False) -> Page:
        page = page_for(user, width=390, height=844, dark=dark, has_touch=True)
        page.goto("/tonight/")
        page.wait_for_selector("body[data-floor=ready]", state="attached", timeout=15_000)
        return page

    return open_board


def wait_stored(page: Page, count: int) -> None:
    for _ in range(60):
        if LiftSet.objects.count() == count:
            return
        page.wait_for_timeout(100)
    raise AssertionError(f"{LiftSet.objects.count()} sets, wanted {count}")


def test_a_planned_set_is_made_in_two_taps(room, phone):
    page = phone(room.stan)
    thumb, ada = Thumb(page), room.athletes["ada"]
    thumb.tap(f"[data-athlete='{ada.pk}']")
    thumb.tap("[data-save=made]")
    wait_stored(page, 2)
    assert thumb.taps == 2
    row = ada.sets.latest("pk")
    assert (row.load_typed, row.reps_made, row.style, row.grip, row.belt, row.result) == (
        "140",
        3,
        "sumo",
        "hook",
        True,
        "made",
    )
    assert row.author == room.stan
    expect(page.locator(f"[data-athlete='{ada.pk}'] .which")).to_contain_text("set 2 of 2")


def test_a_changed_load_an_effort_and_a_miss_take_at_most_six_taps(room, phone):
    page = phone(room.stan)
    thumb, ada = Thumb(page), room.athletes["ada"]
    thumb.tap(f"[data-athlete='{ada.pk}']")
    thumb.tap("[data-step='+one']")
    thumb.tap("[data-choice=effort_typed] [value='9.5']")
    thumb.tap("[data-go=where]")
    thumb.tap("[data-where='below-knee'] .band")
    thumb.tap("[data-why='hips-shot-up']")
    wait_stored(page, 2)
    assert thumb.taps <= MOST_TAPS
    row = ada.sets.latest("pk")
    assert (row.load_typed, row.load_kg, row.result, row.reps_made, row.reps_tried) == ("142.5", 142.5, "missed", 2, 3)
    assert (row.miss_position, row.gave_way, row.effort_typed, row.rir_low) == (
        "below-knee",
        "hips-shot-up",
        "9.5",
        0.5,
    )


def test_no_lift_stopped_and_not_tried_are_three_taps_or_four(room, phone):
    page = phone(room.cato)
    ada = room.athletes["ada"]
    for last in ("[data-rule='not-erect']", "[data-save='not-tried']", "[data-save='stopped-pain']"):
        thumb = Thumb(page)
        thumb.tap(f"[data-athlete='{ada.pk}']")
        thumb.tap("[data-go=other]")
        thumb.tap(last)
        assert thumb.taps == 3
    wait_stored(page, 4)
    found = list(ada.sets.filter(day=timezone.localdate()).order_by("order").values_list("result", "rule_reason"))
    assert found == [("no-lift", "not-erect"), ("not-tried", ""), ("stopped-pain", "")]


def test_steppers_know_plates_in_both_units_and_a_load_can_be_typed(room, phone):
    page = phone(room.stan)
    page.locator(f"[data-athlete='{room.athletes['ada'].pk}']").tap()
    load, side = page.locator("#panel-load"), page.locator(".side")
    expect(load).to_have_value("140")
    expect(side).to_have_text("each side 25 + 25 + 10")
    load.fill("181,3")
    expect(side).to_have_text("not made by usual plates on a 20 kg bar")
    page.locator("[data-step='+one']").tap()
    expect(load).to_have_value("182.5")
    page.locator("[data-step='-big']").tap()
    expect(load).to_have_value("172.5")
    page.locator(".unit").tap()
    load.fill("405")
    expect(side).to_have_text("each side 45 + 45 + 45 + 45")
    page.locator("[data-step='+one']").tap()
    expect(load).to_have_value("410")
    load.fill("heavy")
    page.locator("[data-save=made]").tap()
    expect(page.locator(".panel-asks")).to_contain_text("Load “heavy” cannot be read")
    expect(load).to_have_value("heavy")
    load.fill("405")
    page.locator("[data-save=made]").tap()
    wait_stored(page, 2)
    row = room.athletes["ada"].sets.latest("pk")
    assert (row.load_typed, row.load_unit, round(row.load_kg, 4)) == ("405", "lb", 183.7049)


def test_a_heavy_set_offers_one_tap_about_where_the_bar_was_slowest(room, phone):
    page = phone(room.stan)
    page.locator(f"[data-athlete='{room.athletes['ada'].pk}']").tap()
    expect(page.locator(".heavy")).to_be_visible()  # 140 is 93 % of 150
    page.locator("#panel-load").fill("100")
    expect(page.locator(".heavy")).to_be_hidden()
    page.locator("#panel-load").fill("140")
    page.locator("[data-choice=slowest_at] [value='mid-shin']").tap()
    page.locator("[data-save=made]").tap()
    wait_stored(page, 2)
    assert room.athletes["ada"].sets.latest("pk").slowest_at == "mid-shin"


def test_the_last_entry_is_undone_in_one_tap(room, phone):
    page = phone(room.stan)
    page.locator(f"[data-athlete='{room.athletes['ada'].pk}']").tap()
    page.locator("[data-save=made]").tap()
    wait_stored(page, 2)
    page.locator(".undo").tap()
    wait_stored(page, 1)
    expect(page.locator(f"[data-athlete='{room.athletes['ada'].pk}'] .which")).to_contain_text("set 1 of 2")


def test_what_one_of_the_staff_logs_appears_on_the_others_board(room, phone):
    mine, theirs = phone(room.stan), phone(room.cato)
    mine.locator(f"[data-athlete='{room.athletes['petra'].pk}']").tap()
    mine.locator("#panel-load").fill("97.5")
    mine.locator("[data-save=made]").tap()
    expect(theirs.locator("#board")).to_contain_text("97.5 kg × 1, made (Stan)", timeout=15_000)


def test_who_is_here_is_one_tap(room, phone):
    page = phone(room.stan)
    ivo = room.athletes["ivo"]
    page.locator("#who summary").tap()
    page.locator(f"#who input[value='{ivo.pk}']").tap()
    expect(page.locator(f"[data-athlete='{ivo.pk}']")).to_be_visible()
    for _ in range(50):
        if ivo.presences.exists():
            break
        page.wait_for_timeout(100)
    assert ivo.presences.count() == 1


def test_the_drawing_of_the_pull_works_by_keyboard_too(room, phone):
    page = phone(room.stan)
    page.locator(f"[data-athlete='{room.athletes['ada'].pk}']").tap()
    page.locator("[data-go=where]").first.tap()
    spot = page.locator("g[data-where='at-knee']")
    spot.focus()
    page.keyboard.press("Enter")
    page.locator("[data-why='']").press("Enter")
    wait_stored(page, 2)
    row = room.athletes["ada"].sets.latest("pk")
    assert (row.miss_position, row.gave_way, row.result) == ("at-knee", "", "missed")


TARGETS = (
    "#board button, #panel button, #panel select, #panel input:not([type=checkbox]), #panel .ticks label, "
    "#panel summary, #panel .band, .undo, #who summary, #who label"
)
SMALL = """(targets) => [...document.querySelectorAll(targets)].filter((e) => e.checkVisibility())
  .map((e) => [e.getBoundingClientRect(), e]).filter(([r]) => r.width && (r.width < 47.9 || r.height < 47.9))
  .map(([r, e]) => `${e.outerHTML.slice(0, 80)} ${r.width}x${r.height}`)"""


@pytest.mark.parametrize("dark", [False, True])
def test_every_target_is_large_every_thing_has_a_name_and_nothing_scrolls_sideways(room, phone, dark):
    page = phone(room.stan, dark)
    page.locator("#who summary").tap()
    states = [
        "",
        f"[data-athlete='{room.athletes['ada'].pk}']",
        ".pane-set .pane-body > details:last-of-type > summary",
        "[data-go=where]",
        "g[data-where='lockout'] .band",
    ]
    for tap in states:
        if tap:
            page.locator(tap).first.tap()
        assert page.evaluate(SMALL, TARGETS) == []
        assert no_sideways_scroll(page)
        found = Axe().run(page, options=AXE)
        assert found.response["violations"] == [], found.generate_report()


@pytest.mark.parametrize("address", ["lifts", "lifts/new", "lifts/1", "plan", "plan/print"])
def test_the_log_and_the_plan_read_well_at_both_widths(room, page_for, address):
    ada = room.athletes["ada"]
    for width, dark in ((390, True), (1280, False)):
        page = page_for(room.cato, width=width, dark=dark)
        page.goto(f"/athletes/{ada.pk}/{address.replace('/1', f'/{ada.sets.get().pk}')}/")
        assert no_sideways_scroll(page)
        found = Axe().run(page, options=AXE)
        assert found.response["violations"] == [], found.generate_report()


def test_without_scripts_the_board_is_a_page_of_forms(room, page_for):
    page = page_for(room.stan, width=390, java_script_enabled=False)
    page.goto("/tonight/")
    page.locator("article", has_text="Ada Fell").get_by_text("Log a set").click()
    expect(page.locator("[name=load_typed]")).to_have_value("140")
    page.locator("[name=result]").select_option("missed")
    page.locator("[name=miss_position]").select_option("at-knee")
    page.get_by_role("button", name="Log it", exact=True).click()
    expect(page.locator(".messages")).to_contain_text("Logged for Ada Fell: 140 kg x 2, missed")
    assert page.url.endswith("/tonight/")
