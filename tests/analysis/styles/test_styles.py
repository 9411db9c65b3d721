"""Comparison of styles: works, ownership, write right, wrong verb."""

from datetime import timedelta

import pytest
from django.utils import timezone

from athletes.models import Decision, LiftSet, Measurement, MeasuringVisit, StyleRecord

TODAY = timezone.localdate()


@pytest.fixture
def ada(cast):
    ada = cast.athletes["ada"]
    for style, kg in (("conventional", 140), ("sumo", 148)):
        for i in range(14):
            LiftSet.objects.create(
                athlete=ada, day=TODAY - timedelta(days=5 * i + 1), style=style, load_typed=str(kg), load_unit="kg",
                load_kg=kg, reps_made=3, reps_tried=3, rir_low=2, rir_high=2, bar_kind="stiff", grip="mixed",
            )  # fmt: skip
    visit = MeasuringVisit.objects.create(athlete=ada, day=TODAY)
    for key, value in (("stature", 168), ("sitting_height", 88), ("arm_span", 170), ("mass", 67.4)):
        Measurement.objects.create(visit=visit, key=key, typed=str(value), unit="cm", value=value)
    StyleRecord.objects.create(athlete=ada, style="conventional", years=4)
    return ada


def url(athlete):
    return f"/athletes/{athlete.pk}/styles/"


def test_works_with_odds_reasons_by_kind_and_rows(signed_in, ada):
    page = signed_in("cato").get(url(ada)).content.decode()
    for words in (
        "in 10",
        "Logged bests",
        "Build (says little on its own)",
        "Years in each style",
        "rows/?key=",
        "The coach decides",
    ):
        assert words in page


def test_ownership_and_moments_hidden_where_body_mass_is(signed_in, ada):
    assert signed_in("olga").get(url(ada)).status_code == 404
    assert "67.4" not in signed_in("stan").get(url(ada)).content.decode()


def test_write_right_the_coach_records_the_main_style(signed_in, ada):
    answer = signed_in("cato").post(
        url(ada), {"main_style": "sumo", "reasons": "log and liking", "words_for_athlete": "Sumo."}
    )
    assert answer.status_code == 302
    stored = Decision.objects.get()
    assert (
        stored.main_style == "sumo"
        and stored.snapshot["heading"]["code"].startswith("decision.")
        and stored.snapshot["reasons"]
    )
    assert "Sumo." in signed_in("ada").get(f"/athletes/{ada.pk}/").content.decode()
    for name in ("stan", "bea", "ada"):
        assert signed_in(name).post(url(ada), {"main_style": "sumo", "reasons": "x"}).status_code == 403


def test_a_decision_without_reasons_is_asked_for_and_keeps_what_was_typed(signed_in, ada):
    page = signed_in("cato").post(url(ada), {"main_style": "sumo", "reasons": "", "words_for_athlete": "keep this"})
    assert page.status_code == 200 and "keep this" in page.content.decode() and not Decision.objects.exists()


def test_wrong_verb_and_an_empty_athlete(signed_in, cast, ada):
    assert signed_in("cato").put(url(ada)).status_code == 405
    assert "Four lengths first" in signed_in("cato").get(url(cast.athletes["petra"])).content.decode()
