"""The note of a day is between the athlete and their coach; the body mass in it is private."""

from datetime import date

import pytest
from django.urls import reverse

from athletes.models import AuditEntry, TrainingDay

DAY = date(2026, 11, 20)


@pytest.fixture
def where(cast):
    return reverse("day-note", args=[cast.athletes["ada"].pk, DAY.isoformat()])


def test_the_athlete_notes_the_day_and_changes_it(signed_in, where):
    client = signed_in("ada")
    client.post(where, {"soreness": "6", "soreness_site": "lower-back", "sleep_hours": "6,5", "energy": "4",
                        "note": "slept badly", "mass_typed": "165,5", "mass_unit": "lb"})  # fmt: skip
    row = TrainingDay.objects.get()
    assert (row.soreness, row.soreness_site, row.sleep_hours, row.energy) == (6, "lower-back", 6.5, 4)
    assert (row.mass_typed, row.mass_unit, round(row.mass_kg, 4)) == ("165,5", "lb", 75.0695)
    client.post(where, {"soreness": "5", "soreness_site": "lower-back", "mass_typed": "165,5", "mass_unit": "lb"})
    changed = TrainingDay.objects.get()
    assert (changed.pk, changed.soreness, changed.mass_kg) == (row.pk, 5, row.mass_kg)
    assert AuditEntry.objects.filter(action="corrected").count() == 1


def test_the_coach_reads_and_writes_it_and_nobody_else_does(signed_in, where):
    assert signed_in("cato").get(where).status_code == 200
    assert signed_in("ona").post(where, {"energy": "7"}).status_code == 302
    for name in ("stan", "bea"):
        assert signed_in(name).get(where).status_code == 403
        assert signed_in(name).post(where, {"energy": "7"}).status_code == 403
    for name in ("olga", "hugo"):
        assert signed_in(name).get(where).status_code == 404


def test_an_athlete_who_asked_not_to_see_their_mass_is_not_shown_the_field(signed_in, cast, where):
    ada = cast.athletes["ada"]
    ada.hide_mass_from_athlete = True
    ada.save()
    TrainingDay.objects.create(athlete=ada, day=DAY, mass_typed="74.35", mass_unit="kg", mass_kg=74.35)
    client = signed_in("ada")
    page = client.get(where).content
    assert b"Body mass" not in page and b"74.35" not in page
    client.post(where, {"energy": "5"})
    row = TrainingDay.objects.get()
    assert (row.energy, row.mass_kg) == (5, 74.35)
    assert b"Body mass" in signed_in("cato").get(where).content


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"mass_typed": "9"}, "outside 20 to 350 kg"),
        ({"mass_typed": "heavy"}, "unit “heavy”"),
        ({"sleep_hours": "25"}, "outside 0 to 24"),
        ({"sleep_hours": "well"}, "Sleep “well”"),
        ({"soreness_site": "hip"}, "no soreness from 1 to 10"),
        ({"note": "y" * 401}, "400"),
    ],
)
def test_what_cannot_be_is_said_and_nothing_is_lost(signed_in, where, typed, says):
    answer = signed_in("ada").post(where, {**typed, "mass_unit": "kg"})
    assert answer.status_code == 422
    page = answer.content.decode()
    assert says in page
    assert all(value in page for value in typed.values())
    assert not TrainingDay.objects.exists()


def test_a_day_that_is_none_or_has_not_come_is_not_found(signed_in, cast):
    client, ada = signed_in("ada"), cast.athletes["ada"]
    for iso in ("2026-02-30", "yesterday", "2099-01-01"):
        assert client.get(reverse("day-note", args=[ada.pk, iso])).status_code == 404
    assert client.put(reverse("day-note", args=[ada.pk, "2026-11-20"])).status_code == 405
