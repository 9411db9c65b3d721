"""People list, new athlete, changed athlete."""

from datetime import date

import pytest
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from athletes.models import Athlete, AuditEntry
from athletes.models.choices import Standing
from athletes.people.services import save_athlete, standing_on

NEW = {
    "name": "Nora  Quill",
    "born": "1994-05-06",
    "sex": "f",
    "standing": "trained",
    "weight_unit": "kg",
    "active": "on",
}


def changed(athlete: Athlete, **fields: str) -> dict[str, str]:
    kept = {"name": athlete.name, "born": str(athlete.born), "sex": athlete.sex, "standing": athlete.standing}
    return kept | {"weight_unit": "kg", "active": "on"} | fields


def test_a_worker_sees_the_people_of_their_clubs_only(signed_in):
    page = signed_in("stan").get(reverse("people")).content.decode()
    assert "Ada Fell" in page and "Ivo Reed" in page
    assert "Hugo Vale" not in page


def test_an_athlete_has_no_people_list_and_a_stranger_is_asked_to_sign_in(signed_in):
    assert signed_in("ada").get(reverse("people")).status_code == 404
    assert signed_in(None).get(reverse("people")).url.startswith(reverse("sign-in"))


def test_the_list_is_never_written_to(signed_in):
    assert signed_in("cato").post(reverse("people")).status_code == 405


@pytest.mark.parametrize(
    "query,found",
    [
        ("q=ADA", {"Ada Fell"}),
        ("standing=under-18", {"Ivo Reed"}),
        ("standing=trained", {"Ada Fell", "Petra Moss"}),
        ("active=no", set()),
        ("standing=nonsense&coach=999&page=77", {"Ada Fell", "Ivo Reed", "Petra Moss"}),
    ],
)
def test_filters(query, found, signed_in):
    page = signed_in("ona").get(f"{reverse('people')}?{query}").content.decode()
    assert {n for n in ("Ada Fell", "Ivo Reed", "Petra Moss") if n in page} == found


def test_the_list_by_coach(cast, signed_in):
    page = signed_in("ona").get(f"{reverse('people')}?coach={cast.bea.pk}").content.decode()
    assert "Petra Moss" in page and "Ada Fell" not in page


def test_body_mass_is_nowhere_on_the_list(cast, signed_in):
    cast.athletes["ada"].days.create(day=date(2026, 1, 5), mass_typed="63.7", mass_unit="kg", mass_kg=63.7)
    page = signed_in("cato").get(reverse("people")).content.decode()
    assert "63.7" not in page and "mass" not in page.lower()


def test_many_people_come_in_pages(cast, signed_in):
    Athlete.objects.bulk_create(
        Athlete(club=cast.quarry, name=f"Lifter {n:03}", name_key=f"lifter {n:03}", sex="f") for n in range(70)
    )
    page = signed_in("cato").get(f"{reverse('people')}?q=lifter&page=2").content.decode()
    assert "page 2 of 2" in page and "Lifter 069" in page and "Lifter 000" not in page


def test_a_coach_adds_an_athlete_and_goes_on_to_the_first_meeting(cast, signed_in):
    answer = signed_in("cato").post(reverse("athlete-new"), NEW)
    athlete = Athlete.objects.get(name="Nora Quill")
    assert answer.url == reverse("first-meeting", args=[athlete.pk])
    assert (athlete.club, athlete.standing) == (cast.quarry, Standing.TRAINED)
    assert AuditEntry.objects.filter(athlete=athlete, action="added", actor=cast.cato).exists()


def test_staff_may_add_but_not_set_standing_or_coach(cast, signed_in):
    signed_in("stan").post(reverse("athlete-new"), NEW | {"coach": str(cast.cato.pk)})
    athlete = Athlete.objects.get(name="Nora Quill")
    assert (athlete.standing, athlete.coach) == (Standing.BEGINNER, None)


def test_nobody_adds_to_a_club_they_do_not_work_in(cast, signed_in):
    signed_in("cato").post(reverse("athlete-new"), NEW | {"club": str(cast.harbour.pk)})
    assert Athlete.objects.get(name="Nora Quill").club == cast.quarry
    assert signed_in("ada").post(reverse("athlete-new"), NEW).status_code == 404


def test_under_18_follows_from_the_birth_date_whatever_was_chosen(signed_in):
    today = date.today()
    signed_in("cato").post(reverse("athlete-new"), NEW | {"born": f"{today.year - 15}-01-01", "standing": "trained"})
    assert Athlete.objects.get(name="Nora Quill").standing == Standing.UNDER_18


def test_an_adult_cannot_be_called_under_18(signed_in):
    page = signed_in("cato").post(reverse("athlete-new"), NEW | {"standing": "under-18"}).content.decode()
    assert "contradicts the birth date" in page
    assert 'value="Nora  Quill"' in page or 'value="Nora Quill"' in page
    assert not Athlete.objects.filter(name="Nora Quill").exists()


@pytest.mark.parametrize(
    "field,value,message",
    [
        ("born", "2062-03-04", "04 March 2062 lies ahead; check the year."),
        ("born", "1890-03-04", "check the year."),
        ("born", "2026-02-30", "Enter a valid date."),
        ("name", "...", "“...” has no letter in it; write the athlete&#x27;s name."),
        ("sex", "x", "Select a valid choice."),
    ],
)
def test_wrong_fields_say_what_and_lose_nothing(field, value, message, signed_in):
    page = signed_in("cato").post(reverse("athlete-new"), NEW | {"name": "Nora Quill", field: value}).content.decode()
    assert message in page
    assert f'value="{value}"' in page or field == "sex"
    assert not Athlete.objects.filter(sex="f", name__startswith="Nora").exists()


def test_a_second_person_of_one_name_is_asked_about(signed_in):
    client, again = signed_in("cato"), NEW | {"name": "ADA fell"}
    assert "There is a ADA fell in this club already" in client.post(reverse("athlete-new"), again).content.decode()
    assert client.post(reverse("athlete-new"), again | {"same_name": "on"}).status_code == 302
    assert Athlete.objects.filter(name_key="ada fell").count() == 2


def test_the_coach_changes_an_athlete_and_the_trail_keeps_what_it_was(cast, signed_in):
    ada = cast.athletes["ada"]
    assert (
        signed_in("cato").post(reverse("athlete-edit", args=[ada.pk]), changed(ada, name="Ada Fell-Marsh")).status_code
        == 302
    )
    ada.refresh_from_db()
    assert ada.name == "Ada Fell-Marsh"
    assert AuditEntry.objects.get(athlete=ada, action="corrected").before["name"] == "Ada Fell"


@pytest.mark.parametrize("who,status", [("stan", 403), ("bea", 403), ("ada", 403), ("hugo", 404), ("olga", 404)])
def test_only_the_own_coach_and_the_owner_change_an_athlete(who, status, cast, signed_in):
    ada = cast.athletes["ada"]
    assert signed_in(who).post(reverse("athlete-edit", args=[ada.pk]), changed(ada, name="X Y")).status_code == status
    assert Athlete.objects.get(pk=ada.pk).name == "Ada Fell"


def test_edit_knows_only_get_and_post(cast, signed_in):
    assert signed_in("cato").put(reverse("athlete-edit", args=[cast.athletes["ada"].pk])).status_code == 405
    assert signed_in("cato").delete(reverse("athlete-new")).status_code == 405


def test_standing_never_contradicts_the_birth_date(cast):
    ivo = cast.athletes["ivo"]
    assert standing_on(ivo, date(2026, 1, 1)) == Standing.UNDER_18
    assert standing_on(ivo, date(2029, 5, 31)) == Standing.UNDER_18
    assert standing_on(ivo, date(2029, 6, 1)) == Standing.BEGINNER
    ivo.standing = Standing.TRAINED
    assert save_athlete(cast.cato, ivo).standing == Standing.UNDER_18


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.dictionaries(st.sampled_from([*NEW, "club", "coach", "same_name"]), st.text(max_size=90), max_size=9))
def test_any_text_in_the_form_is_answered(signed_in, typed):
    assert signed_in("cato").post(reverse("athlete-new"), typed).status_code in (200, 302)


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.dictionaries(st.sampled_from(["q", "standing", "coach", "active", "page"]), st.text(max_size=90), max_size=5))
def test_any_text_in_the_filter_is_answered(signed_in, typed):
    assert signed_in("cato").get(reverse("people"), typed).status_code == 200
