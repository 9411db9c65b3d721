"""The log: works, ownership, write right, wrong verb; comparable kinds only, days, misses, meets and trials marked."""

import csv
import io
import json
import re
from datetime import timedelta
from pathlib import Path

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from athletes.models import HealthNote, LiftSet, Meet, MeetEntry, Trial
from tests.dashboard_logs import TODAY, full_log, row

KEYS = ("progress", "effort", "misses", "volume", "pull-time", "start-heights")


@pytest.fixture
def ada(cast):
    return cast.athletes["ada"]


def url(athlete, tail=""):
    return f"/athletes/{athlete.pk}/log/{tail}"


def text(response):
    return response.content.decode()


def heading(page):
    return re.search(r'<h1 class="answer">([^<]*)</h1>', page).group(1)


def plot(page, key="progress"):
    return json.loads(
        re.search(rf'<script id="plot-{key}" type="application/json">(.*?)</script>', page, re.S).group(1)
    )


def test_the_page_answers_with_one_button_every_figure_its_numbers_and_its_rows(signed_in, ada):
    full_log(ada)
    page = text(signed_in("cato").get(url(ada)))
    assert "since" in heading(page) and "?" not in heading(page)
    assert page.count('class="button do"') == 1 and ">Log a set<" in page
    for key in KEYS:
        assert f'id="figure-{key}"' in page and f'data-table="{key}"' in page
    assert page.count("/rows/?key=") >= 5 and "result=missed" in page


def test_best_and_back_work_stand_on_one_time_axis_in_one_figure(signed_in, ada):
    full_log(ada)
    given = plot(text(signed_in("cato").get(url(ada))))
    upper, lower = given["layout"]["xaxis"], given["layout"]["xaxis2"]
    assert upper["matches"] == "x2" and upper["range"] == lower["range"] and lower["type"] == "date"
    bars = next(t for t in given["data"] if t["type"] == "bar")
    assert bars["xaxis"] == "x2" and sum(y > 0 for y in bars["y"]) == 26
    assert (
        given["layout"]["height"] == 460
        and given["layout"]["yaxis"]["domain"][0] > given["layout"]["yaxis2"]["domain"][1]
    )


def test_misses_are_open_rings_in_ink_with_where_the_bar_stopped(signed_in, ada):
    full_log(ada)
    given = plot(text(signed_in("cato").get(url(ada))))
    (ring,) = [t for t in given["data"] if t.get("name") == "conventional, missed"]
    assert len(ring["x"]) == 6 and set(ring["y"]) == {175.0} and set(ring["text"]) == {"at the knee"}
    assert ring["marker"]["line"]["color"] == "var(--ink)" and ring["marker"]["color"] == "var(--sheet)"
    assert not re.search(r"\bred\b|#f00|rgb\(255", json.dumps(given))


def test_a_trial_and_a_meet_are_marked_on_their_days(signed_in, cast, ada):
    full_log(ada)
    Trial.objects.create(
        athlete=ada, new_style="sumo", old_style="conventional", started_on=TODAY - timedelta(days=40),
        decide_on=TODAY + timedelta(days=40), no_baseline_reason="first lifts",
    )  # fmt: skip
    meet = Meet.objects.create(club=ada.club, name="Autumn single", day=TODAY - timedelta(days=12))
    MeetEntry.objects.create(meet=meet, athlete=ada)
    layout = plot(text(signed_in("cato").get(url(ada))))["layout"]
    days = {(TODAY - timedelta(days=ago)).isoformat() for ago in (40, 12)}
    assert {line["x0"] for line in layout["shapes"]} == days
    named = {a.get("hovertext"): a["text"] for a in layout["annotations"] if "hovertext" in a}
    assert named == {"trial of sumo begins": "trial begins", "Autumn single": "meet"}


def test_a_back_that_cannot_be_worked_out_leaves_the_best_alone(signed_in, ada):
    for week in range(10):
        row(ada, 7 * week, 100, lift="squat", style="", depth_verified=True).save()
    LiftSet.objects.filter(athlete=ada).update(day=TODAY - timedelta(days=500))
    page = text(signed_in("cato").get(url(ada), {"span": "all"}))
    assert heading(page).startswith("No pull for 71 weeks")
    assert plot(page)["layout"]["height"] == 340 and "xaxis2" not in plot(page)["layout"]


def test_an_empty_log_says_so_and_offers_to_log_or_to_bring_one_in(signed_in, ada):
    page = text(signed_in("cato").get(url(ada)))
    assert heading(page) == "Nothing logged" and "Log a set" in page and "Bring in a log" in page
    assert "data-plot" not in page


def test_sets_without_effort_say_what_counts_and_every_part_what_to_log(signed_in, ada):
    row(ada, 2, 100, 12, rir_low=None, rir_high=None).save()
    page = text(signed_in("ada").get(url(ada)))
    assert heading(page) == "Pulls logged: 1, none yet heavy enough for a best"
    assert page.count('class="sheet empty"') == 4 and "Conventional 100 × 12" in page


def test_the_latest_days_stand_in_one_line_each_and_open_to_their_sets(signed_in, ada):
    for reps in (3, 3):
        row(ada, 3, 102.5, reps).save()
    row(ada, 3, 115, 1).save()
    row(ada, 3, 132.5, 1, reps_made=0, result="missed", miss_position="below-knee").save()
    row(ada, 1, 60, 5, lift="squat", style="").save()
    page = text(signed_in("stan").get(url(ada)))
    assert 'Conventional 102.5 × 3 twice, 115 × 1 <span class="tag">132.5 missed, just below the knee</span>' in page
    assert page.index("Back squat 60 × 5") < page.index("Conventional 102.5")
    assert f"since={(TODAY - timedelta(days=3)).isoformat()}" in page


def test_a_stop_for_pain_is_a_stop_to_staff(signed_in, ada):
    row(ada, 1, 150, 1, reps_made=0, result="stopped-pain", miss_position="floor").save()
    assert "150 stopped or not tried</span>" in text(signed_in("stan").get(url(ada)))
    assert "pain" in text(signed_in("cato").get(url(ada))).split("150 ")[1][:40]


def test_best_singles_are_one_row_a_style_whatever_belt_and_grip(signed_in, ada):
    for ago, kg, more in (
        (40, 150, {}),
        (20, 160, {"belt": True}),
        (10, 155, {"grip": "hook"}),
        (5, 120, {"style": "sumo"}),
    ):
        row(ada, ago, kg, 1, rir_low=0, rir_high=0, **more).save()
    page = text(signed_in("cato").get(url(ada)))
    table = page.split('id="best-single"')[1].split("</table>")[0]
    assert table.count('<tr><th scope="row"') == 2 and re.findall(r"\d+ kg", table) == ["160 kg", "120 kg"]
    assert table.count(">new<") == 2


@pytest.mark.parametrize("old", ["progress/", "bests/"])
def test_old_addresses_lead_to_the_log_for_good_with_what_was_asked(signed_in, ada, old):
    answer = signed_in("cato").get(f"/athletes/{ada.pk}/{old}", {"span": "all"})
    assert (answer.status_code, answer.url) == (301, url(ada) + "?span=all")
    assert signed_in("olga").get(f"/athletes/{ada.pk}/{old}").status_code == 404


def test_the_old_address_of_numbers_leads_to_the_new_one(signed_in, ada):
    answer = signed_in("cato").get(f"/athletes/{ada.pk}/progress/volume.csv")
    assert (answer.status_code, answer.url) == (301, url(ada, "volume.csv"))


def test_every_height_of_a_figure_is_reserved_in_the_style_sheet(signed_in, ada):
    full_log(ada)
    sheet = Path("analysis/figures/static/plots.css").read_text()
    coach = signed_in("cato")
    for place in ("log/", "back-load/", "bar-and-grip/", "trial/", "leverages/"):
        page = text(coach.get(f"/athletes/{ada.pk}/{place}"))
        for key, high in re.findall(r'class="plot high-(\d+)" data-plot="plot-([a-z-]+)"', page):
            assert f".high-{key} {{ height: {key}px; }}" in sheet, (place, high)


def test_only_comparable_sets_stand_in_one_line_and_another_footing_can_be_chosen(signed_in, ada):
    full_log(ada)
    coach = signed_in("cato")
    page = text(coach.get(url(ada)))
    assert "5 kinds; floor, stiff bar shown" in page
    choices = dict(re.findall(r'<option value="([0-9a-f]{10})"[^>]*>([^<]*)', page))
    assert len(choices) == 5
    for words in ("flexible bar", "block +18 cm", ", straps", "squat"):
        key = next(k for k, label in choices.items() if words in label)
        chosen = text(coach.get(url(ada), {"footing": key, "span": "all"}))
        assert f'value="{key}" selected' in chosen and 'value="all" selected' in chosen


def test_an_unknown_choice_is_said_and_the_usual_one_shown(signed_in, ada):
    full_log(ada)
    answer = signed_in("cato").get(url(ada), {"footing": "x' OR 1", "span": "for ever"})
    page = text(answer)
    assert answer.status_code == 200 and "not in this log" in page and "no such span" in page
    assert "floor, stiff bar shown" in page


def test_a_new_set_moves_the_page_at_once(signed_in, ada):
    full_log(ada)
    coach = signed_in("cato")
    assert "6 missed, 6 at the knee" in text(coach.get(url(ada)))
    row(ada, 0, 180, 1, reps_made=0, result="missed", miss_position="floor").save()
    assert "7 missed, 6 at the knee" in text(coach.get(url(ada)))


def test_the_numbers_come_as_a_file_without_script(signed_in, ada):
    full_log(ada)
    answer = signed_in("ada").get(url(ada, "volume.csv"), {"span": "all"})
    assert answer["Content-Type"].startswith("text/csv") and "volume.csv" in answer["Content-Disposition"]
    rows = list(csv.reader(io.StringIO(answer.content.decode("utf-8-sig"))))
    assert rows[0][0] == "Week" and len(rows) == 27
    assert all(sum(map(int, r[1:6])) == 17 for r in rows[1:])  # five triples and two singles made a week
    assert signed_in("ada").get(url(ada, "nothing.csv")).status_code == 404


def test_loads_are_in_the_readers_unit(signed_in, cast, ada):
    full_log(ada)
    cast.users["ada"].weight_unit = "lb"
    cast.users["ada"].save()
    page = text(signed_in("ada").get(url(ada)))
    assert "Best, lb" in page and " lb." in page.split('class="ground">')[1].split("</p>")[0]
    assert plot(page)["layout"]["yaxis"]["title"]["text"] == "lb"


def test_pain_behind_a_fall_is_told_to_coach_and_athlete_only(signed_in, ada):
    for ago in (60, 45, 30):
        row(ada, ago, 160, 1, rir_low=0, rir_high=0).save()
    row(ada, 5, 120, 1, reps_made=0, result="missed").save()
    row(ada, 5, 100, 1).save()
    HealthNote.objects.create(athlete=ada, kind="pain", site="lower-back", noted_on=TODAY)
    told = text(signed_in("cato").get(url(ada)))
    assert "no weak link is read from these days" in told and "pain event" in told
    kept = text(signed_in("stan").get(url(ada)))
    assert "no weak link is read from these days" in kept and "pain event" not in kept


def test_strangers_find_nothing_and_nobody_writes_here(signed_in, ada):
    for tail in ("", "volume.csv"):
        assert signed_in("olga").get(url(ada, tail)).status_code == 404
        assert signed_in(None).get(url(ada, tail)).status_code == 302
        assert signed_in("cato").post(url(ada, tail)).status_code == 405


def test_the_stored_page_needs_few_queries_and_little_weight_however_long_the_log(signed_in, ada):
    LiftSet.objects.bulk_create(row(ada, i // 2, 120 + i % 50, 1 + i % 4) for i in range(3000))
    coach = signed_in("cato")
    coach.get(url(ada))
    for query in ({}, {"span": "all"}):
        with CaptureQueriesContext(connection) as seen:
            page = coach.get(url(ada), query)
        assert len(seen) <= 19 and len(page.content) < 150_000
    assert "Some days are left out" in text(page)
