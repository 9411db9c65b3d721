"""How a lifter stands, from the entry to the pages that draw and compare: drawn as taped, and said how it is known."""

from datetime import date

import pytest
from django.core.management import call_command

from analysis.leverages.page import page_for
from analysis.store.bridge import lifter_record
from athletes.models import Athlete, Posture
from tests.analysis.measured import measure

DAY = date(2026, 3, 4)


@pytest.fixture
def ada(cast):
    measure(cast.athletes["ada"])
    return cast.athletes["ada"]


def taped(athlete, style="sumo", heels=60.0, toes=40.0, **more):
    return Posture.objects.create(athlete=athlete, style=style, day=DAY, source="tape", heels_cm=heels,
                                  turnout_deg=toes, **more)  # fmt: skip


def text_of(answer):
    return answer.content.decode().replace("\u00a0", " ").replace("&nbsp;", " ")


def lines(cast, athlete):
    page = page_for(athlete, cast.cato)
    styles = [s for s in page.report().styles if s.joints]
    return [one.replace("\u00a0", " ") for one in page.knowing(*styles[:2])]


def test_a_taped_stance_is_drawn_and_the_limits_do_not_pull_it_in(cast, ada):
    usual = page_for(ada, cast.cato)
    taped(ada)
    page = page_for(ada, cast.cato)
    by_style = {setup.preset: setup for setup in page.setups}
    assert page.stance_of(by_style["sumo"]) == pytest.approx(0.665, abs=0.01)
    assert page.stance_of(by_style["conventional"]) == usual.stances["conventional"]
    assert page.usual("sumo").own is page.own["sumo"] and page.usual("rounded").own is None


def test_a_rounded_pull_stands_as_the_conventional_one(cast, ada):
    taped(ada, "conventional", 24.0, 15.0)
    page = page_for(ada, cast.cato)
    assert page.usual("rounded").own is page.own["conventional"]
    assert {setup.preset: setup.own is not None for setup in page.setups}["rounded"]


def test_an_entry_counts_from_its_day_on(ada):
    taped(ada)
    assert lifter_record(ada, date(2026, 3, 3)).posture_notes == ()
    (note,) = lifter_record(ada, DAY).posture_notes
    assert (note.heels_m, note.turnout_deg, note.style) == (0.60, 40.0, "sumo")


def test_the_page_says_what_is_known_and_asks_for_one_thing(cast, ada):
    known, ask = lines(cast, ada)
    assert "from people’s habits" in known and "stance by tape" in ask and "in sumo" in ask
    taped(ada)
    taped(ada, "conventional", 24.0, 15.0)
    known, ask = lines(cast, ada)
    assert "from tape and eye" in known and "stance by tape" not in ask


def test_what_is_known_is_written_in_the_readers_unit(cast, ada):
    cast.cato.length_unit = "in"
    assert " in, from people’s habits" in lines(cast, ada)[0]


def test_the_page_shows_it_with_the_way_to_the_entry(signed_in, ada):
    taped(ada, "wide-sumo", 139.0, 50.0)
    text = text_of(signed_in("cato").get(f"/athletes/{ada.pk}/leverages/"))
    assert "known to ±" in text and f"/athletes/{ada.pk}/posture/" in text
    assert "Wide sumo is not drawn as entered" in text


@pytest.mark.parametrize("tail", ["leverages/", "leverages/stances/", "styles/", "weak-link/", "decision/", "report/"])
def test_pages_that_draw_or_judge_work_with_entries_of_every_kind(signed_in, ada, tail):
    taped(ada, knees="early", back="rounded", arms="ahead", bar_over="toe-side")
    taped(ada, "conventional", 24.0, 15.0, back="rounded", bar_over="heel-side", knees="late")
    taped(ada, "wide-sumo", None, 80.0)
    assert signed_in("cato").get(f"/athletes/{ada.pk}/{tail}").status_code == 200


def test_the_command_of_repeats_says_what_is_not_yet_measured(cast, ada, capsys):
    taped(ada, author=cast.cato)
    taped(ada, heels=62.0, author=cast.stan)
    call_command("posture_repeats")
    assert "Not yet measured: 1 of 10 lifters" in capsys.readouterr().out
    for number in range(9):
        one = Athlete.objects.create(club=cast.quarry, name=f"Lifter {number}", sex="m")
        taped(one, author=cast.cato)
        taped(one, heels=90.0, author=cast.stan)
        taped(one, heels=10.0)
    call_command("posture_repeats")
    assert "10 lifters, 20 differences: 0.55 within 1.3 stated SD" in capsys.readouterr().out
