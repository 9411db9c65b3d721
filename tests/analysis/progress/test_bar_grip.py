"""The bar and grip page: works, ownership, write right, wrong verb; light loads gain about nothing."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.dashboard_logs import full_log, row


@pytest.fixture
def ada(cast):
    return cast.athletes["ada"]


def url(athlete, tail=""):
    return f"/athletes/{athlete.pk}/bar-and-grip/{tail}"


def text(response):
    return response.content.decode()


def test_the_page_sets_statics_the_trade_and_the_log_side_by_side(signed_in, ada):
    full_log(ada)
    page = text(signed_in("cato").get(url(ada)))
    for key in ("bar-gain", "hands-conventional", "hands-sumo", "rises", "bars", "straps", "style-times"):
        assert f'id="figure-{key}"' in page and f"{key}.csv" in page
    assert "common practice, no source" in page and "on the flexible bar" in page and "26 sets against" in page
    assert "straps add" in page and "/rows/?key=" in page


def test_a_light_lifters_gain_is_said_to_be_about_nothing(signed_in, ada):
    for ago in range(0, 60, 5):
        row(ada, ago, 70).save()
    assert "A deadlift bar would add less than 1 kg" in text(signed_in("ada").get(url(ada)))


def test_an_empty_log_says_what_to_log(signed_in, ada):
    page = text(signed_in("ada").get(url(ada)))
    assert "No pull logged" in page and "Log a set" in page and "data-plot" not in page


def test_without_straps_or_a_second_bar_the_parts_say_what_to_log(signed_in, ada):
    for ago in range(0, 60, 5):
        row(ada, ago, 140).save()
    page = text(signed_in("ada").get(url(ada)))
    assert "with straps and without" in page and "on a stiff and on a flexible bar" in page


def test_grip_is_called_limiting_over_the_setting(signed_in, ada):
    for ago in range(0, 90, 5):
        row(ada, ago, 140, 1, rir_low=0, rir_high=0).save()
        row(ada, ago, 160, 1, rir_low=0, rir_high=0, straps=True).save()
    page = text(signed_in("cato").get(url(ada)))
    assert "Grip limits: straps add" in page
    assert 'data-code="grip-limits" class="weighs"' in page and "Grip probably limits here (over 5" in page
    numbers = text(signed_in("cato").get(url(ada, "straps.csv")))
    assert "conventional, stiff bar, mixed" in numbers


def test_strangers_find_nothing_and_nobody_writes_here(signed_in, ada):
    full_log(ada)
    for tail in ("", "straps.csv"):
        assert signed_in("stan").get(url(ada, tail)).status_code == 200
        assert signed_in("olga").get(url(ada, tail)).status_code == 404
        assert signed_in("cato").post(url(ada, tail)).status_code == 405


def test_the_stored_page_needs_few_queries(signed_in, ada):
    full_log(ada)
    coach = signed_in("cato")
    coach.get(url(ada))
    with CaptureQueriesContext(connection) as seen:
        page = coach.get(url(ada))
    assert len(seen) <= 15 and len(page.content) < 150_000
