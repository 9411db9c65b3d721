"""The athlete's own page and report: works, ownership, privacy, wrong verb."""

from datetime import timedelta

import pytest
from django.utils import timezone

from athletes.models import Decision, HealthNote, LiftSet, Measurement, MeasuringVisit, Trial

TODAY = timezone.localdate()


@pytest.fixture
def ada(cast):
    ada = cast.athletes["ada"]
    for i in range(6):
        LiftSet.objects.create(
            athlete=ada, day=TODAY - timedelta(days=7 * i + 1), style="sumo", load_typed="300", load_unit="lb",
            load_kg=136.077711, reps_made=1, reps_tried=1, rir_low=0, rir_high=0, bar_kind="stiff", grip="hook",
        )  # fmt: skip
    visit = MeasuringVisit.objects.create(athlete=ada, day=TODAY)
    for key, value in (("stature", 168), ("mass", 67.4)):
        Measurement.objects.create(visit=visit, key=key, typed=str(value), unit="cm", value=value)
    return ada


@pytest.mark.parametrize(("tail", "shows"), [("", "<svg"), ("log/", "136 kg"), ("report/", "<svg")])
def test_works_for_coach_staff_and_the_athlete(signed_in, ada, tail, shows):
    for name in ("cato", "stan", "ada"):
        page = signed_in(name).get(f"/athletes/{ada.pk}/{tail}").content.decode()
        assert "Ada Fell" in page and shows in page


@pytest.mark.parametrize("tail", ["", "log/", "report/"])
def test_ownership_and_wrong_verb(signed_in, ada, tail):
    assert signed_in("olga").get(f"/athletes/{ada.pk}/{tail}").status_code == 404
    assert signed_in(None).get(f"/athletes/{ada.pk}/{tail}").status_code == 302
    assert signed_in("cato").post(f"/athletes/{ada.pk}/{tail}").status_code == 405


def test_units_are_the_readers_own(signed_in, cast, ada):
    cast.ada.weight_unit = "lb"
    cast.ada.save()
    assert "300 lb" in signed_in("ada").get(f"/athletes/{ada.pk}/log/").content.decode()


def test_trial_progress_is_told_as_weeks_and_pulls(signed_in, ada):
    trial = Trial.objects.create(
        athlete=ada, new_style="sumo", old_style="conventional", started_on=TODAY - timedelta(weeks=8), weeks=12,
        decide_on=TODAY + timedelta(weeks=4), no_baseline_reason="x",
    )  # fmt: skip
    ada.sets.update(in_new_style="yes", trial=trial)
    page = signed_in("ada").get(f"/athletes/{ada.pk}/report/").content.decode()
    assert "Trial week 9 of 12" in page and "log leans to" not in page


def test_the_decision_stands_in_the_coachs_plain_words(signed_in, cast, ada):
    Decision.objects.create(
        athlete=ada,
        on=TODAY,
        main_style="sumo",
        reasons="file note",
        words_for_athlete="You stay wide.",
        decided_by=cast.cato,
    )
    page = signed_in("ada").get(f"/athletes/{ada.pk}/").content.decode()
    assert "You stay wide." in page and "file note" not in page


def test_paper_carries_for_beside_against_two_lines_to_sign_and_no_private_reason(signed_in, cast, ada):
    ada.standing = "trained"
    ada.save()
    HealthNote.objects.create(athlete=ada, kind="pain", site="lower-back", noted_on=TODAY, text="sharp")
    page = signed_in("cato").get(f"/athletes/{ada.pk}/report/").content.decode()
    assert "Talk to Ada" not in page and "sharp" not in page and "No testing for now" not in page
    assert page.index("<h2>For ") < page.index("<h2>Against ") < page.index('class="sign"')
    assert "Coach, date" in page and "Lifter, date" in page
    assert "You stay wide." not in page
    Decision.objects.create(
        athlete=ada, on=TODAY, main_style="sumo", reasons="file note", words_for_athlete="You stay wide.",
        decided_by=cast.cato,
    )  # fmt: skip
    page = signed_in("cato").get(f"/athletes/{ada.pk}/report/").content.decode()
    assert "You stay wide." in page and "file note" not in page


def test_body_mass_and_harsh_words_never_stand_there(signed_in, ada):
    for name, tail in ((name, tail) for name in ("stan", "cato", "ada") for tail in ("", "log/", "profile/")):
        page = signed_in(name).get(f"/athletes/{ada.pk}/{tail}").content.decode().split("<main")[1]
        assert "67.4 kg" not in page and "148.6 lb" not in page and "fail" not in page.lower()


def test_an_athlete_without_anything_gets_a_page_that_says_what_to_log(signed_in, cast):
    page = signed_in("cato").get(f"/athletes/{cast.athletes['petra'].pk}/log/").content.decode()
    assert "Nothing logged" in page


def paper(client, athlete):
    page = client.get(f"/athletes/{athlete.pk}/report/").content.decode()
    return page.split('<article class="paper">')[1].split("</article>")[0]


def test_nothing_private_is_on_paper_whoever_prints(signed_in, ada):
    before = paper(signed_in("cato"), ada)
    HealthNote.objects.create(athlete=ada, kind="pain", site="lower-back", noted_on=TODAY)
    assert paper(signed_in("cato"), ada) == before == paper(signed_in("stan"), ada)
