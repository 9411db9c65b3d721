"""The back-load page: works, ownership, write right, wrong verb; health and newton metres only where allowed."""

import re
from datetime import timedelta
from types import SimpleNamespace

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from analysis.progress.back_load import heading
from analysis.text.say import Reader, say
from athletes.models import Measurement, MeasuringVisit, SettingOverride, TrainingDay
from tests.dashboard_logs import TODAY, full_log, row


@pytest.fixture
def ada(cast):
    return cast.athletes["ada"]


def url(athlete, tail=""):
    return f"/athletes/{athlete.pk}/back-load/{tail}"


def text(response):
    return response.content.decode()


def rising_log(ada):
    """Four quiet weeks, then four with twice the work, RPE up at the same load."""
    for week in range(8):
        late = week >= 4
        for k in range(4 if late else 2):
            row(ada, 7 * (7 - week) + k, 120, 5, rir_low=1 if late else 3, rir_high=1 if late else 3).save()


def test_the_page_adds_up_sums_spacing_windows_and_marks(signed_in, ada):
    full_log(ada)
    page = text(signed_in("cato").get(url(ada)))
    for words in (
        "Back work is steady",
        "hard reps in four weeks",
        "Usual days",
        "7 to 14",
        "5 to 7",
        "common practice, no source",
    ):
        assert words in page
    assert "Belcher et al. 2019" in page and "nobody can read an injury from them" in page and "no source" in page
    assert "romanian: bar hanging" in page and "parallel squats" in page
    for key in ("back-weeks", "heavy-spacing"):
        assert f'id="figure-{key}"' in page and f"{key}.csv" in page
    assert "/settings/" in page and not re.search(r"\bratio\b", page, re.I)


def test_an_empty_log_says_what_to_log(signed_in, ada):
    page = text(signed_in("ada").get(url(ada)))
    assert "No back work in four weeks" in page and page.count('class="sheet empty"') == 2


def test_a_rise_is_flagged_together_with_its_signs_and_opens_to_its_rows(signed_in, ada):
    rising_log(ada)
    page = text(signed_in("cato").get(url(ada)))
    assert "Back work is rising" in page
    assert 'data-code="load-up-with-signs" class="weighs"' in page and "went from RPE 7 to 9" in page
    assert "/rows/?key=" in page.split("load-up-with-signs")[1].split("</li>")[0]


def test_newton_metres_are_for_those_who_may_see_mass(signed_in, cast, ada):
    rising_log(ada)
    for name, sees in (("cato", True), ("ona", True), ("ada", True), ("stan", False), ("bea", False)):
        page = text(signed_in(name).get(url(ada)))
        assert ("N m" in page or "kN m" in page) is sees, name
        assert "hard reps" in page
        file = text(signed_in(name).get(url(ada, "back-weeks.csv")))
        assert ("N m" in file) is sees, name
    ada.hide_mass_from_athlete = True
    ada.save()
    assert "N m" not in text(signed_in("ada").get(url(ada)))


def test_soreness_stays_between_coach_and_athlete(signed_in, ada):
    rising_log(ada)
    for ago in (1, 3):
        TrainingDay.objects.create(athlete=ada, day=TODAY - timedelta(days=ago), soreness=8)
    for name, told in (("cato", True), ("ada", True), ("stan", False), ("bea", False)):
        page = text(signed_in(name).get(url(ada))).lower()
        assert ("sore (" in page) is told, name


def test_the_windows_are_settings_of_club_and_athlete(signed_in, ada):
    full_log(ada)
    SettingOverride.objects.create(club=ada.club, key="load.window_sumo_high", value=9)
    SettingOverride.objects.create(club=ada.club, athlete=ada, key="load.window_conventional_low", value=10)
    page = text(signed_in("cato").get(url(ada)))
    assert "10 to 14" in page and "5 to 9" in page
    assert "Change them" in page and "Change them" not in text(signed_in("stan").get(url(ada)))


def test_a_body_that_cannot_be_is_said_not_raised(signed_in, ada):
    full_log(ada)
    visit = MeasuringVisit.objects.create(athlete=ada, day=TODAY)
    for key, value in (("stature", 170.0), ("trochanterion_height", 40.0)):
        Measurement.objects.create(visit=visit, key=key, repeat=1, typed=str(value), unit="cm", value=value)
    answer = signed_in("cato").get(url(ada))
    assert answer.status_code == 200 and "Back work not worked out" in text(answer)
    assert signed_in("cato").get(url(ada, "back-weeks.csv")).status_code == 404


def test_strangers_find_nothing_and_nobody_writes_here(signed_in, ada):
    assert signed_in("olga").get(url(ada)).status_code == 404
    assert signed_in("cato").post(url(ada)).status_code == 405
    assert signed_in("cato").post(url(ada, "back-weeks.csv")).status_code == 405


def test_the_stored_page_needs_few_queries(signed_in, ada):
    full_log(ada)
    coach = signed_in("cato")
    coach.get(url(ada))
    with CaptureQueriesContext(connection) as seen:
        page = coach.get(url(ada))
    assert len(seen) <= 15 and len(page.content) < 150_000


def review(now, before, sets=3):
    load = SimpleNamespace(last_28_nm=now * 200.0, before_28_nm=before * 200.0, sets_counted=sets)
    return SimpleNamespace(load=load, capacity_nm=200.0)


@pytest.mark.parametrize(
    "now,before,words",
    [
        (114.9, 100, "Back work is steady"),
        (115.1, 100, "Back work is rising"),
        (85.1, 100, "Back work is steady"),
        (84.9, 100, "Back work is falling"),
        (10, 0, "Back work is rising"),
    ],
)
def test_the_heading_says_rising_or_falling_from_15_in_100(now, before, words):
    said, ground = heading(review(now, before))
    assert say(said, Reader()) == words
    assert say(ground, Reader()) == f"{round(now)} hard reps in four weeks, {before} in the four before."


def test_the_heading_without_a_counted_set_says_that():
    assert say(heading(review(0, 40, sets=0))[0], Reader()) == "No back work in four weeks"
