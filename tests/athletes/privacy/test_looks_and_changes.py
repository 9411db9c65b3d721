"""Who looked and what changed: kept once a day, shown to coach and athlete, body mass left out for the rest."""

from datetime import date

from django.db import connection
from django.test.utils import CaptureQueriesContext

from athletes.access.audit import fields_of, note_looks, record
from athletes.access.permissions import may_see_mass
from athletes.models import AccessEntry, AuditEntry, LiftSet, TrainingDay


def page_of(cast, name="ada", part="pictures"):
    return f"/athletes/{cast.athletes[name].pk}/{part}/"


def test_a_look_is_kept_once_a_day_and_page(cast, signed_in):
    client = signed_in("stan")
    for _ in range(3):
        client.get(page_of(cast))
    row = AccessEntry.objects.get()
    assert (row.athlete, row.viewer, row.page) == (cast.athletes["ada"], cast.stan, "pictures")


def test_ones_own_pages_and_refused_pages_leave_no_look(cast, signed_in):
    signed_in("ada").get(page_of(cast))
    signed_in("olga").get(page_of(cast))
    signed_in("stan").get(page_of(cast, part="looks"))
    assert not AccessEntry.objects.exists()


def test_a_second_look_writes_nothing(cast, signed_in):
    client = signed_in("stan")
    client.get(page_of(cast))
    with CaptureQueriesContext(
        connection,
    ) as seen:
        client.get(page_of(cast))
    assert not [q for q in seen.captured_queries if q["sql"].startswith(("INSERT", "UPDATE", "SAVEPOINT", "BEGIN"))]


def test_an_export_of_many_notes_each_of_them_once(cast):
    athletes = [cast.athletes[name] for name in ("ada", "petra", "ivo")]
    note_looks(cast.cato, athletes, "export")
    note_looks(cast.cato, athletes, "export")
    assert AccessEntry.objects.count() == 3


def test_the_athlete_sees_who_looked(cast, signed_in):
    signed_in("stan").get(page_of(cast))
    page = signed_in("ada").get(page_of(cast, part="looks")).content.decode()
    assert "Stan" in page
    assert "pictures" in page


def corrected_set(cast) -> None:
    row = LiftSet.objects.create(
        athlete=cast.athletes["ada"], day=date(2026, 11, 20), load_typed="142.5", load_unit="kg", load_kg=142.5
    )
    before = fields_of(row)
    row.load_typed, row.load_kg = "145", 145.0
    row.save()
    record(cast.stan, "corrected", row, before, fields_of(row))


def test_a_change_keeps_only_what_differs(cast):
    corrected_set(cast)
    entry = AuditEntry.objects.get()
    assert entry.athlete == cast.athletes["ada"]
    assert entry.club == cast.quarry
    assert entry.before == {"load_typed": "142.5", "load_kg": 142.5}
    assert entry.after == {"load_typed": "145", "load_kg": 145.0}


def test_coach_and_athlete_read_the_trail(cast, signed_in):
    corrected_set(cast)
    for name in ("ada", "cato", "ona"):
        page = signed_in(name).get(page_of(cast, part="changes")).content.decode()
        assert "142.5" in page
        assert "Stan" in page


def test_a_hidden_body_mass_stays_hidden_in_the_trail(cast, signed_in):
    ada = cast.athletes["ada"]
    row = TrainingDay.objects.create(athlete=ada, day=date(2026, 11, 20), mass_typed="71.25", mass_kg=71.25)
    record(cast.cato, "added", row, after=fields_of(row))
    assert "71.25" in signed_in("ada").get(page_of(cast, part="changes")).content.decode()
    ada.hide_mass_from_athlete = True
    ada.save()
    page = signed_in("ada").get(page_of(cast, part="changes")).content.decode()
    assert "71.25" not in page
    assert "left out for you" in page
    assert "71.25" in signed_in("cato").get(page_of(cast, part="changes")).content.decode()


def test_who_may_see_a_body_mass(cast):
    ada = cast.athletes["ada"]
    seen = {name for name in cast.users if may_see_mass(cast.users[name], ada)}
    assert seen == {"ona", "cato", "ada"}
    ada.hide_mass_from_athlete = True
    assert {name for name in cast.users if may_see_mass(cast.users[name], ada)} == {"ona", "cato"}


def test_the_athlete_may_hide_their_mass_from_themselves(cast, signed_in):
    signed_in("ada").post(f"/athletes/{cast.athletes['ada'].pk}/consent/body-mass/", {"hide_mass_from_athlete": "on"})
    cast.athletes["ada"].refresh_from_db()
    assert cast.athletes["ada"].hide_mass_from_athlete
    assert AuditEntry.objects.get().after == {"hide_mass_from_athlete": True}
