"""The meet pages in a real browser: the board re-plans and keeps what is said without network, and every page fits."""

import random
import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from analysis.core.meets import Result, chance_of, plan_attempts
from analysis.core.meets.day import Attempt as CoreAttempt
from analysis.core.meets.day import Entrant, order_of_lifting
from analysis.core.records.estimates import DayBest
from analysis.core.settings import DEFAULTS
from analysis.meets.board import PLAN_LIMITS, branch_state
from analysis.meets.words import chance_words
from athletes.models import Attempt, MeetEntry
from tests.analysis.meets.meeting import FULL, a_meet, attempt, enter, log_pulls
from tests.browser.conftest import no_sideways_scroll

REPLAN, RULES = "/static/meets/replan.js", "/static/meets/rules.js"


@pytest.fixture
def meet(live_cast):
    found = a_meet(live_cast.quarry, days=0, lifts=FULL)
    ada, petra = live_cast.athletes["ada"], live_cast.athletes["petra"]
    for athlete, best in ((ada, 150), (petra, 120)):
        log_pulls(athlete, best=best)
        one = enter(found, athlete, mass_typed="71.42 kg", mass_kg=71.42)
        for lift, kg in (("squat", 100), ("bench", 60)):
            for number in (1, 2, 3):
                attempt(one, number, kg + 2.5 * number, "made", lift)
        attempt(one, 1, best * 0.85)
    rival = MeetEntry.objects.create(meet=found, rival_name="Quill Harden", subtotal_kg=170.0)
    attempt(rival, 1, 137.5, "made")
    return found


def board(page, meet):
    page.goto(f"/meets/{meet.pk}/board/")
    page.wait_for_selector("html[data-meet-ready]")


def card(page, name):
    entry = MeetEntry.objects.get(athlete__name=name)
    return page.locator(f"#entry-{entry.pk}")


def forget_lost_network(page):
    """Chromium reports every request that was lost on purpose; anything else still fails the test."""
    page.complaints[:] = [text for text in page.complaints if "ERR_INTERNET_DISCONNECTED" not in text]


def flat(branch):
    """A decision tree as a list of (load, chance)."""
    return (
        [] if branch is None else [(branch["load"], branch["chance"]), *flat(branch["made"]), *flat(branch["missed"])]
    )


def random_days(count=25):
    rng = random.Random(3)
    for _ in range(count):
        median, sd = rng.uniform(60, 320), rng.uniform(0.025, 0.09)
        opener = round(median * rng.uniform(0.8, 1.0) / 2.5) * 2.5
        taken = [(opener, rng.random() < 0.7)]
        if rng.random() < 0.5:
            taken.append((opener + 2.5 * rng.randint(1, 4), rng.random() < 0.6))
        yield median, sd, taken


def belief(median, sd):
    return {
        "median": median, "sd": sd, "slip": DEFAULTS["meet.slip"], "cost": DEFAULTS["meet.attempt_cost"],
        "step": DEFAULTS["meet.step"], "lean": DEFAULTS["meet.alternative_risk"], "careful": False, "plans": [],
        "limits": PLAN_LIMITS,
    }  # fmt: skip


def test_the_phone_plans_exactly_as_the_server(page_for, live_cast, meet):
    page = page_for(live_cast.cato)
    board(page, meet)
    for median, sd, taken in random_days():
        day = DayBest(median, sd, median * 0.9, median * 1.1, False, ())
        wanted = plan_attempts(day, None, [Result(kg, made) for kg, made in taken])
        told = page.evaluate(
            f"async ([belief, taken]) => (await import('{REPLAN}')).plansAfter(belief, taken)",
            [belief(median, sd), [{"load": kg, "made": made} for kg, made in taken]],
        )
        assert [one["name"] for one in told] == [one.name for one in wanted]
        for mine, theirs in zip(told, wanted, strict=True):
            expected = flat(branch_state(theirs.root))
            assert [load for load, _ in flat(mine["root"])] == [load for load, _ in expected]
            assert [c for _, c in flat(mine["root"])] == pytest.approx([c for _, c in expected], abs=1e-9)


def test_the_phone_says_chances_as_the_server(page_for, live_cast, meet):
    page = page_for(live_cast.cato)
    board(page, meet)
    chances = [i / 200 for i in range(201)]
    words = page.evaluate(
        f"async (c) => {{ const m = await import('{REPLAN}'); return c.map(m.chanceWords); }}", chances
    )
    assert all(mine == chance_words(c) for mine, c in zip(words, chances, strict=True) if (c * 10) % 1 != 0.5)
    day = DayBest(200.0, 0.05, 187, 213, False, ())
    told = page.evaluate(
        f"async (b) => (await import('{REPLAN}')).chanceOf(b, [], 192.5)", belief(day.median_kg, day.sd_log)
    )
    assert told == pytest.approx(float(chance_of(day, 192.5)), abs=1e-9)


def test_the_phone_orders_the_lifters_as_the_server(page_for, live_cast, meet):
    page, rng = page_for(live_cast.cato), random.Random(5)
    board(page, meet)
    for _ in range(30):
        entrants, plain = [], []
        for key in range(1, 8):
            rows = [
                (rng.choice([100.0, 102.5, 105.0]), rng.choice(["made", "missed", "no-lift"]))
                for _ in range(rng.randint(0, 3))
            ]
            rows = rows if len(rows) == 3 or rng.random() < 0.2 else [*rows, (rng.choice([105.0, 107.5]), "")]
            lot = rng.randint(1, 3)
            entrants.append(
                Entrant(f"{key}", lot, 0.0, {"deadlift": tuple(CoreAttempt(kg, r or "due") for kg, r in rows)})
            )
            plain.append({"id": key, "lot": lot, "attempts": [
                {"lift": "deadlift", "number": n, "load_kg": kg, "result": r, "changes": 0, "declared": "x"}
                for n, (kg, r) in enumerate(rows, 1)]})  # fmt: skip
        told = page.evaluate(
            f"async (e) => (await import('{RULES}')).order(e, 'deadlift', {{attempts: 3}}).map((o) => String(o.id))",
            plain,
        )
        assert told == [key for key, _, _ in order_of_lifting(entrants, "deadlift")]


def test_without_network_the_board_replans_opens_again_and_sends_each_word_once(page_for, live_cast, meet):
    page = page_for(live_cast.stan, width=390)
    board(page, meet)
    page.wait_for_function("() => navigator.serviceWorker.controller !== null")
    board(page, meet)  # through the helper now, so that the page is kept
    page.wait_for_function("async () => (await caches.keys()).some((name) => name.startsWith('floor-page-'))")
    ada = card(page, "Ada Fell")
    page.context.set_offline(True)
    ada.locator("[data-result=made]").click()
    expect(ada).to_contain_text("127.5 kg made")
    expect(ada.locator(".next-choice")).to_contain_text("Highest expected, about")
    expect(ada).to_contain_text("to hand in the next attempt")
    best = ada.locator(".next-choice button").first
    second = float(best.get_attribute("data-kg"))
    assert second > 127.5 and re.search(r"then \d", best.inner_text())
    expect(page.locator("#meet-status")).to_contain_text("1 waiting on this phone")
    assert not Attempt.objects.filter(entry__athlete__name="Ada Fell", lift="deadlift", result="made").exists()
    board(page, meet)  # the phone was put away: the page itself opens without network, with what waits
    ada = card(page, "Ada Fell")
    ada.locator(".next-choice button").first.click()
    ada.locator("[data-result=missed]").click()
    ada.locator(".reasons select").select_option("at-knee")
    expect(ada.locator(".next-choice button").first).to_have_attribute("data-kg", re.compile(rf"^{second:g}$"))
    expect(page.locator("#meet-totals")).to_contain_text("Ada Fell: 302.5 kg")
    page.context.set_offline(False)
    expect(page.locator("#meet-status")).to_contain_text("All sent", timeout=15_000)
    rows = Attempt.objects.filter(entry__athlete__name="Ada Fell", lift="deadlift").order_by("number")
    assert [(r.load_kg, r.result, r.reason, r.changes) for r in rows] == [
        (127.5, "made", "", 0),
        (second, "missed", "at-knee", 0),
    ]
    forget_lost_network(page)


def test_a_load_against_the_rules_is_asked_about_and_kept_if_meant(page_for, live_cast, meet):
    page = page_for(live_cast.stan, width=390)
    board(page, meet)
    ada = card(page, "Ada Fell")
    ada.locator("summary").click()
    field = ada.locator("input[name=load_typed]")
    field.fill("lots")
    ada.get_by_role("button", name="Hand in").click()
    expect(ada.locator(".asks")).to_contain_text("“lots” is not a load")
    assert field.input_value() == "lots"
    field.fill("128")
    ada.get_by_role("button", name="Hand in").click()
    expect(ada.locator(".asks")).to_contain_text("not a multiple of 2.5 kg")
    ada.get_by_role("button", name="Keep it all the same").click()
    expect(ada.locator(".now")).to_have_text("128 kg")
    expect(ada).to_contain_text("no change left")


def test_another_handlers_word_is_asked_about(page_for, live_cast, meet):
    page = page_for(live_cast.stan, width=390)
    board(page, meet)
    page.context.set_offline(True)
    card(page, "Ada Fell").locator("[data-result=missed]").click()
    Attempt.objects.filter(entry__athlete__name="Ada Fell", lift="deadlift").update(result="made")
    page.context.set_offline(False)
    trouble = page.locator("#meet-trouble")
    expect(trouble).to_contain_text(
        "you said 127.5 kg, missed. Attempt 1 of Ada Fell stands as 127.5 kg, made", timeout=15_000
    )
    trouble.get_by_role("button", name="Mine is right").click()
    expect(trouble).to_be_hidden(timeout=10_000)
    expect(page.locator("#meet-status")).to_contain_text("All sent", timeout=10_000)
    assert Attempt.objects.get(entry__athlete__name="Ada Fell", lift="deadlift").result == "missed"
    forget_lost_network(page)


def test_the_clock_to_begin_is_started_by_hand(page_for, live_cast, meet):
    page = page_for(live_cast.stan, width=390)
    board(page, meet)
    first = card(page, "Petra Moss")  # the lighter bar lifts first
    first.get_by_role("button", name="Bar is ready").click()
    expect(first).to_contain_text(re.compile(r"\d+ s to begin the lift"))
    assert card(page, "Ada Fell").get_by_role("button", name="Bar is ready").count() == 0


def test_another_handlers_word_shows_by_itself(page_for, live_cast, meet):
    page = page_for(live_cast.stan, width=390)
    board(page, meet)
    Attempt.objects.filter(entry__athlete__name="Petra Moss", lift="deadlift").update(result="made")
    expect(card(page, "Petra Moss")).to_contain_text("102 kg made", timeout=15_000)


def test_without_scripts_the_board_takes_a_result(page_for, live_cast, meet):
    page = page_for(live_cast.stan, width=390, java_script_enabled=False)
    page.goto(f"/meets/{meet.pk}/board/")
    ada = card(page, "Ada Fell")
    ada.locator("select[name=result]").select_option("made")
    ada.get_by_role("button", name="Keep").click()
    expect(page.locator("main")).to_contain_text("Ada Fell, attempt 1: kept.")
    assert "main:" in card(page, "Ada Fell").inner_text()


@pytest.mark.parametrize(("width", "dark"), [(390, False), (390, True), (1280, False), (1280, True)])
def test_every_meet_page_fits_and_has_no_serious_finding(page_for, live_cast, meet, width, dark):
    page = page_for(live_cast.cato, width=width, dark=dark)
    entry = MeetEntry.objects.get(athlete__name="Ada Fell")
    base = f"/meets/{meet.pk}/"
    for url in ("/meets/", "/meets/new/", base, f"{base}edit/", f"{base}enter/", f"{base}board/",
                f"{base}entries/{entry.pk}/?needed=150", f"{base}entries/{entry.pk}/edit/",
                f"/athletes/{entry.athlete_id}/meets/"):  # fmt: skip
        page.goto(url)
        page.wait_for_timeout(300)
        assert no_sideways_scroll(page), url
        assert page.complaints == [], url
        found = Axe().run(page, options={"preload": False}).response["violations"]
        page.complaints.clear()  # its own probing styles are refused by our policy
        assert [v["id"] for v in found if v["impact"] in ("serious", "critical")] == [], url
