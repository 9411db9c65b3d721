"""The progress page: works, ownership, write right, wrong verb; comparable kinds only, switchable, rows, CSV, speed."""

import csv
import io
import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from athletes.models import HealthNote, LiftSet
from tests.dashboard_logs import TODAY, full_log, row


@pytest.fixture
def ada(cast):
    return cast.athletes["ada"]


def url(athlete, tail=""):
    return f"/athletes/{athlete.pk}/progress/{tail}"


def text(response):
    return response.content.decode()


def test_the_page_answers_with_every_figure_its_numbers_and_its_rows(signed_in, ada):
    full_log(ada)
    page = text(signed_in("cato").get(url(ada)))
    assert "Conventional: " in page and "Sumo: " in page and "(8 in 10) now" in page
    for key in ("progress", "misses", "volume", "pull-time", "start-heights"):
        assert f'id="figure-{key}"' in page and f'data-table="{key}"' in page and f"{key}.csv" in page
    assert page.count("/rows/?key=") >= 5 and "result=missed" in page


def test_an_empty_log_says_what_to_log_in_every_part(signed_in, ada):
    page = text(signed_in("ada").get(url(ada)))
    assert "Nothing to compare yet" in page and "Log a set" in page
    assert page.count('class="sheet empty"') == 5 and "data-plot" not in page


def test_only_comparable_sets_stand_in_one_line_and_another_footing_can_be_chosen(signed_in, ada):
    full_log(ada)
    coach = signed_in("cato")
    page = text(coach.get(url(ada)))
    usual = re.search(r"Comparable sets only: ([^.]*)\.", page).group(1)
    assert "stiff bar" in usual and "no straps" in usual and "floor" in usual
    choices = dict(re.findall(r'<option value="([0-9a-f]{10})"[^>]*>([^<]*)', page))
    assert len(choices) == 5
    for words in ("flexible bar", "block +18 cm", ", straps", "squat"):
        key = next(k for k, label in choices.items() if words in label)
        chosen = text(coach.get(url(ada), {"footing": key, "span": "all"}))
        assert words in re.search(r"Comparable sets only: ([^.]*)\.", chosen).group(1)
        assert f'value="{key}" selected' in chosen and 'value="all" selected' in chosen


def test_an_unknown_choice_is_said_and_the_usual_one_shown(signed_in, ada):
    full_log(ada)
    answer = signed_in("cato").get(url(ada), {"footing": "x' OR 1", "span": "for ever"})
    page = text(answer)
    assert answer.status_code == 200 and "not in this log" in page and "no such span" in page
    assert "Comparable sets only: deadlift, floor, stiff bar" in page


def test_a_new_set_moves_the_page_at_once(signed_in, ada):
    full_log(ada)
    coach = signed_in("cato")
    assert "6 missed pulls in this span" in text(coach.get(url(ada)))
    row(ada, 0, 180, 1, reps_made=0, result="missed", miss_position="floor").save()
    assert "7 missed pulls in this span: 1 floor, 6 at the knee" in text(coach.get(url(ada)))


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
    assert "Running best, lb" in page and " lb (8 in 10) now" in page


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
        assert len(seen) <= 15 and len(page.content) < 150_000
    assert "some days left out" in text(page)
