"""A roster is shown before anybody is added; what was not clear stays in the box; steps stay until they are done."""

from datetime import date

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone

from athletes.access.visibility import is_minor
from athletes.models import Athlete, AuditEntry, Bar, LiftSet, Measurement, MeasuringVisit, Membership, PlanItem
from athletes.start.checklist import steps_of
from tests.addresses.world import DAY

LINES = "Rosa Quill, f, 1998, 71.5 kg, 168 cm\nTam Birk, m, 2010\nNo Sex Given\nAda Fell, f"


def added() -> set[str]:
    return set(
        Athlete.objects.filter(name__in=("Rosa Quill", "Tam Birk", "No Sex Given")).values_list("name", flat=True)
    )


def test_a_roster_is_shown_first_and_adds_nobody(signed_in, cast):
    page = signed_in("cato").post(reverse("roster"), {"lines": LINES, "coach": cast.cato.pk})
    text = page.content.decode()
    assert "2 new, 1 to say more clearly" in text and "Add 2 people" in text and "Here already" in text
    assert "No Sex Given" in text and added() == set()


def test_adding_takes_the_clear_lines_once_and_leaves_the_others_in_the_box(signed_in, cast):
    cato = signed_in("cato")
    page = cato.post(reverse("roster"), {"lines": LINES, "coach": cast.cato.pk, "add": "1"})
    assert added() == {"Rosa Quill", "Tam Birk"}
    box = page.context["form"].data["lines"]
    assert box == "No Sex Given" and b"say them more clearly" in page.content
    cato.post(reverse("roster"), {"lines": LINES, "coach": cast.cato.pk, "add": "1"})
    assert Athlete.objects.filter(name="Rosa Quill").count() == 1
    rosa = Athlete.objects.get(name="Rosa Quill")
    assert (rosa.coach, rosa.club, rosa.born, rosa.born_year_only) == (cast.cato, cast.quarry, date(1998, 12, 31), True)
    assert {m.key: m.value for m in Measurement.objects.filter(visit__athlete=rosa)} == {"mass": 71.5, "stature": 168.0}
    assert AuditEntry.objects.filter(athlete=rosa, action="added").count() == 2


def test_a_known_year_counts_as_under_18_until_its_end():
    tam = Athlete(born=date(2008, 12, 31), born_year_only=True, standing="trained")
    assert is_minor(tam, date(2026, 12, 30)) and not is_minor(tam, date(2026, 12, 31))


def test_typing_the_whole_date_later_ends_that_only_the_year_is_known(signed_in, cast):
    signed_in("cato").post(reverse("roster"), {"lines": "Rosa Quill, f, 1998", "coach": cast.cato.pk, "add": "1"})
    rosa = Athlete.objects.get(name="Rosa Quill")
    where = reverse("athlete-edit", args=[rosa.pk])
    page = signed_in("cato").get(where)
    assert b"Only the year 1998 is known" in page.content
    form = {"name": "Rosa Quill", "sex": "f", "standing": "beginner", "weight_unit": "kg", "coach": cast.cato.pk}
    signed_in("cato").post(where, form | {"born": "1998-12-31", "active": "on"})
    rosa.refresh_from_db()
    assert rosa.born_year_only
    signed_in("cato").post(where, form | {"born": "1998-03-14", "active": "on"})
    rosa.refresh_from_db()
    assert not rosa.born_year_only and rosa.born == date(1998, 3, 14)


def test_a_file_is_read_like_pasted_text_and_a_wrong_one_is_told(signed_in, cast):
    cato = signed_in("cato")
    good = SimpleUploadedFile("squad.csv", "\ufeffname;sex\nRosa Quill;f\n".encode())
    assert b"Add 1 person" in cato.post(reverse("roster"), {"file": good}).content
    for content, told in ((b"\xff\xfe\x00", "no text in UTF-8"), (b"a" * 200_001, "at most 200,000")):
        page = cato.post(reverse("roster"), {"file": SimpleUploadedFile("x.csv", content)})
        assert page.status_code == 422 and told in page.content.decode()


@pytest.mark.parametrize(("lines", "told"), [("", "Paste the names"), ("a\n" * 501, "501 lines; at most 500")])
def test_what_cannot_be_read_at_all_is_told_and_kept(signed_in, cast, lines, told):
    page = signed_in("cato").post(reverse("roster"), {"lines": lines})
    assert page.status_code == 422 and told in page.content.decode()
    assert page.context["form"].data["lines"] == lines


def test_another_clubs_coach_cannot_be_named(signed_in, cast):
    page = signed_in("cato").post(reverse("roster"), {"lines": LINES, "coach": cast.olga.pk, "add": "1"})
    assert page.status_code == 422 and added() == set()


@pytest.mark.parametrize(("who", "code"), [("ona", 200), ("cato", 200), ("stan", 403), ("ada", 404)])
@pytest.mark.parametrize("name", ["start", "roster"])
def test_owners_and_coaches_start_a_club(signed_in, cast, who, code, name):
    assert signed_in(who).get(reverse(name)).status_code == code
    if name == "start":
        assert signed_in(who).post(reverse(name)).status_code == 405


def test_each_step_is_done_by_what_it_asks_for(cast):
    club, ada = cast.quarry, cast.athletes["ada"]

    def done() -> list[bool]:
        return [step.done for step in steps_of(club)]

    assert done() == [True, False, False, False, False, True]
    visit = MeasuringVisit.objects.create(athlete=ada, day=DAY)
    for key in ("stature", "arm_span", "sitting_height", "mass"):
        Measurement.objects.create(visit=visit, key=key, repeat=1, typed="1", unit="cm", value=100)
    assert not done()[1]  # body mass is no length
    Measurement.objects.create(visit=visit, key="knee_height", repeat=1, typed="1", unit="cm", value=45)
    assert done()[1]
    Bar.objects.create(club=club, name="Stiff", kind="stiff")
    LiftSet.objects.create(athlete=ada, day=DAY, load_typed="1", load_unit="kg", load_kg=100)
    PlanItem.objects.create(athlete=ada, day=timezone.localdate())
    assert done() == [True] * 6
    Membership.objects.filter(club=club).exclude(role__in=("owner", "athlete")).delete()
    assert done()[-1] is False


def test_the_first_thing_to_do_is_the_heading(signed_in, cast):
    text = signed_in("ona").get(reverse("start")).content.decode()
    assert "<h1>Next: four lengths</h1>" in text and "4 of 6 still to do" in text


def test_the_owner_of_an_empty_club_comes_to_its_first_steps_and_of_a_filled_one_to_the_squad(signed_in, cast):
    assert signed_in("ona").get("/").url == "/squad/"
    Athlete.objects.filter(club=cast.quarry).delete()
    assert signed_in("ona").get("/").url == reverse("start")
    assert signed_in("stan").get("/").url == "/squad/"
