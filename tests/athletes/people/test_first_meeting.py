"""First meeting: what was said and tried, who sets the standing, and the bounds of every stance."""

from datetime import date, timedelta
from math import radians

import pytest
from django.urls import reverse
from django.utils import timezone
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from athletes.models import AuditEntry, Bar, FirstMeeting, HealthNote, StyleRecord
from athletes.people.services import stance_bounds

SAID = {
    "standing": "returning",
    "years_training": "4,5",
    "squat_typed": "120",
    "squat_unit": "kg",
    "squat_depth_seen": "on",
    "bar_allowed": "stiff",
    "grip": "hook",
    "next_meet_on": "2027-03-06",
    "next_meet_name": "Spring meet",
    "rules": "local",
    "stance_typed": "28",
    "stance_unit": "in",
    "turnout_deg": "35",
    "shoe_width_cm": "11",
    "hip_pinch": "on",
    "hip_pinch_note": "left, beyond 30 in",
    "conventional-years": "3",
    "conventional-best_typed": "335",
    "conventional-best_unit": "lb",
    "conventional-best_on": "2025-11-01",
    "conventional-last_on": "2026-01-01",
}


def page_of(signed_in, who: str, athlete) -> str:
    return signed_in(who).get(reverse("first-meeting", args=[athlete.pk])).content.decode()


def test_the_coach_writes_it_all_down_as_typed(cast, signed_in):
    ada = cast.athletes["ada"]
    assert signed_in("cato").post(reverse("first-meeting", args=[ada.pk]), SAID).status_code == 302
    meeting = FirstMeeting.objects.get(athlete=ada)
    assert (meeting.stance_typed, meeting.stance_unit) == ("28", "in")
    assert meeting.stance_cm == pytest.approx(71.12)
    assert (meeting.years_training, meeting.squat_kg, meeting.updated_by) == (4.5, 120.0, cast.cato)
    best = StyleRecord.objects.get(athlete=ada)
    assert (best.style, best.best_typed, best.best_unit) == ("conventional", "335", "lb")
    assert best.best_kg == pytest.approx(151.953, abs=0.001)
    ada.refresh_from_db()
    assert ada.standing == "returning"
    assert 'value="28"' in page_of(signed_in, "cato", ada)


def test_staff_write_but_never_the_standing(cast, signed_in):
    ada = cast.athletes["ada"]
    assert "Standing: trained" in page_of(signed_in, "stan", ada)
    assert signed_in("stan").post(reverse("first-meeting", args=[ada.pk]), SAID).status_code == 302
    ada.refresh_from_db()
    assert ada.standing == "trained"
    assert ada.first_meeting.stance_cm == pytest.approx(71.12)


def test_strangers_see_nothing_and_the_athlete_reads(cast, signed_in):
    ada = cast.athletes["ada"]
    url = reverse("first-meeting", args=[ada.pk])
    assert signed_in("hugo").get(url).status_code == 404
    assert signed_in("olga").post(url, SAID).status_code == 404
    assert signed_in("ada").get(url).status_code == 200
    assert signed_in("ada").post(url, SAID).status_code == 403
    assert signed_in(None).get(url).status_code == 302
    assert not FirstMeeting.objects.exists()


def test_wrong_verb(cast, signed_in):
    assert signed_in("cato").delete(reverse("first-meeting", args=[cast.athletes["ada"].pk])).status_code == 405


def test_injuries_are_for_coach_and_athlete_and_never_for_staff(cast, signed_in):
    ada = cast.athletes["ada"]
    note = {"injury-kind": "injury", "injury-site": "hip", "injury-text": "old labrum tear", "injury-severity": "3"}
    signed_in("cato").post(reverse("first-meeting", args=[ada.pk]), SAID | note)
    assert HealthNote.objects.get(athlete=ada).author == cast.cato
    seen = {who: "old labrum tear" in page_of(signed_in, who, ada) for who in ("cato", "ona", "ada", "stan", "bea")}
    assert seen == {"cato": True, "ona": True, "ada": True, "stan": False, "bea": False}
    assert "labrum" not in str(list(AuditEntry.objects.values_list("before", "after")))


def test_staff_cannot_add_an_injury(cast, signed_in):
    ada = cast.athletes["ada"]
    note = {"injury-kind": "injury", "injury-site": "hip", "injury-text": "heard in the hall"}
    signed_in("stan").post(reverse("first-meeting", args=[ada.pk]), SAID | note)
    assert not HealthNote.objects.exists()


def test_a_minor_stays_under_18(cast, signed_in):
    ivo = cast.athletes["ivo"]
    page = signed_in("cato").post(reverse("first-meeting", args=[ivo.pk]), SAID).content.decode()
    assert "under 18 by birth date" in page
    assert (
        signed_in("cato").post(reverse("first-meeting", args=[ivo.pk]), SAID | {"standing": "under-18"}).status_code
        == 302
    )


@pytest.mark.parametrize(
    "field,typed,message",
    [
        ("stance_typed", "3", "Stance “3” is 7.62 cm, outside 10 to 150 cm"),
        ("stance_typed", "wide", "Stance “wide” is not one length"),
        ("stance_typed", "900", "outside 10 to 150 cm"),
        ("squat_typed", "-120", "a miss is noted as the result, not with a minus"),
        ("squat_typed", "heavy", "“heavy”"),
        ("turnout_deg", "120", "Turnout “120” is outside 0 to 80 degrees."),
        ("years_training", "many", "“many”"),
        ("shoe_width_cm", "44", "Shoe width “44” is outside 6 to 16 cm."),
        ("conventional-best_on", "2062-03-04", "4 March 2062 lies ahead"),
        ("conventional-last_on", "2024-01-01", "The last pull cannot be before the best one."),
        ("conventional-best_typed", "9000", "more than 700 kg"),
        ("injury-text", "sore", "Choose what it is, or clear the note."),
        ("standing", "under-18", "contradicts the birth date"),
    ],
)
def test_wrong_fields_say_what_and_lose_nothing(field, typed, message, cast, signed_in):
    ada = cast.athletes["ada"]
    page = signed_in("cato").post(reverse("first-meeting", args=[ada.pk]), SAID | {field: typed}).content.decode()
    assert message in page
    assert f'value="{typed}"' in page
    assert 'value="left, beyond 30 in"' in page
    assert not FirstMeeting.objects.exists()


def test_emptying_a_style_removes_it(cast, signed_in):
    ada = cast.athletes["ada"]
    url = reverse("first-meeting", args=[ada.pk])
    signed_in("cato").post(url, SAID)
    signed_in("cato").post(url, {k: v for k, v in SAID.items() if not k.startswith("conventional")})
    assert not StyleRecord.objects.filter(athlete=ada).exists()


def test_the_discs_less_the_shoes_and_the_dowel_bound_every_stance(cast, signed_in):
    ada = cast.athletes["ada"]
    bounds = stance_bounds(ada)
    assert (bounds.comfortable_m, bounds.widest_m) == (None, pytest.approx(1.31 - 0.105))
    signed_in("cato").post(reverse("first-meeting", args=[ada.pk]), SAID)
    bounds = stance_bounds(ada, Bar(span_m=1.42))
    assert bounds.disc_gap_less_shoes_m == pytest.approx(1.42 - 0.11)
    assert bounds.widest_m == bounds.comfortable_m == pytest.approx(0.7112)
    assert (bounds.turnout_rad, bounds.hip_pinch) == (radians(35), True)
    assert "71 cm from ankle to ankle" in page_of(signed_in, "cato", ada)


def test_a_health_note_is_added_ended_and_seen_by_two(cast, signed_in):
    ada = cast.athletes["ada"]
    url = reverse("health-notes", args=[ada.pk])
    typed = {"kind": "pain", "site": "lower-back", "severity": "4", "noted_on": "2026-05-01", "text": "after rows"}
    assert signed_in("ada").post(url, typed).status_code == 302
    assert "after rows" in signed_in("cato").get(url).content.decode()
    assert signed_in("stan").get(url).status_code == 403
    assert signed_in("stan").post(url, typed).status_code == 403
    assert signed_in("hugo").get(url).status_code == 404
    note = HealthNote.objects.get()
    assert signed_in("cato").post(url, {"end": str(note.pk)}).status_code == 302
    note.refresh_from_db()
    assert note.ended_on == timezone.localdate()
    assert signed_in("cato").put(url).status_code == 405


def test_a_note_of_somebody_else_cannot_be_ended_here(cast, signed_in):
    theirs = HealthNote.objects.create(
        athlete=cast.athletes["petra"], kind="pain", site="hip", noted_on=date(2026, 1, 1)
    )
    for number in (str(theirs.pk), "²", "x", "9" * 40):
        url = reverse("health-notes", args=[cast.athletes["ada"].pk])
        assert signed_in("cato").post(url, {"end": number}).status_code == 404


def test_wrong_notes_say_what_and_lose_nothing(cast, signed_in):
    ahead = timezone.localdate() + timedelta(days=9)
    typed = {"kind": "pain", "site": "", "severity": "11", "noted_on": ahead.isoformat(), "text": "kept words"}
    page = signed_in("cato").post(reverse("health-notes", args=[cast.athletes["ada"].pk]), typed).content.decode()
    assert "Strength of pain “11” is outside 0 to 10." in page and "lies ahead" in page and "kept words" in page
    assert not HealthNote.objects.exists()


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.dictionaries(
        st.sampled_from([*SAID, "injury-kind", "injury-site", "injury-severity", "injury-text", "injury-noted_on"]),
        st.text(max_size=60),
        max_size=12,
    )
)
def test_any_text_is_answered(signed_in, cast, typed):
    ada = cast.athletes["ada"]
    assert signed_in("cato").post(reverse("first-meeting", args=[ada.pk]), SAID | typed).status_code in (200, 302)
    assert signed_in("ada").post(reverse("health-notes", args=[ada.pk]), typed).status_code in (200, 302)
