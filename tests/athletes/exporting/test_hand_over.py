"""The hand-over page: works, ownership, write right, wrong verb; pain only for the coach."""

import pytest
from django.urls import reverse

from athletes.models import FirstMeeting, HealthNote, LiftSet, Meet, MeetEntry, Trial


@pytest.fixture
def page_of(cast, signed_in):
    ada = cast.athletes["ada"]
    trial = Trial.objects.create(
        athlete=ada, new_style="sumo", old_style="conventional", started_on="2026-11-11", decide_on="2027-02-03"
    )
    ada.decisions.create(
        trial=trial,
        on="2026-11-11",
        main_style="conventional",
        reasons="Hips are sore after heavy weeks.",
        decided_by=cast.cato,
    )
    HealthNote.objects.create(athlete=ada, kind="pain", site="hip", severity=4, noted_on="2026-11-01", text="left side")
    FirstMeeting.objects.create(athlete=ada, cues="Push the floor away.")
    meet = Meet.objects.create(club=cast.quarry, name="Winter Open", day="2027-03-01")
    MeetEntry.objects.create(meet=meet, athlete=ada)
    LiftSet.objects.create(
        athlete=ada, day="2026-11-20", load_typed="150", load_unit="kg", load_kg=150, result="stopped-pain", reps_made=0
    )
    return lambda who: signed_in(who).get(reverse("hand-over", args=[ada.pk]))


def test_it_says_what_the_next_coach_must_know(page_of):
    text = page_of("cato").content.decode()
    for said in ("Hips are sore", "of 12", "left side", "Push the floor away.", "Winter Open"):
        assert said in text


def test_pain_is_for_the_coach(page_of):
    text = page_of("stan").content.decode()
    assert "left side" not in text
    assert "Pain limits" not in text
    assert "stopped or not tried" in text and "pain" not in text.split("<main")[1].split("</main>")[0]


@pytest.mark.parametrize(
    ("who", "code"),
    [("ona", 200), ("cato", 200), ("bea", 200), ("stan", 200), ("ada", 403), ("olga", 404), ("hugo", 404)],
)
def test_who_may_read_it(page_of, who, code):
    assert page_of(who).status_code == code


def test_wrong_verbs_are_refused(signed_in, cast):
    assert signed_in("cato").post(reverse("hand-over", args=[cast.athletes["ada"].pk])).status_code == 405
