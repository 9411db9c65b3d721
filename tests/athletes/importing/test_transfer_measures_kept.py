"""Body measures of a file: taken once, undone exactly, seen by who may, gone with who is erased."""

import pytest
from django.urls import reverse

from athletes.importing.questions import answer
from athletes.models import (
    Athlete,
    AuditEntry,
    HeldMass,
    LiftSet,
    Measurement,
    MeasuringVisit,
    TrainingDay,
)
from tests.athletes.importing.body_measures import DAY, LOG, measured, taken, undone, weighed
from tests.athletes.importing.import_steps import outcome, read_in


@pytest.fixture
def club(cast):
    Athlete.objects.create(club=cast.quarry, name="Lee Pound", sex="m", weight_unit="kg", standing="trained")
    return cast


def test_the_same_file_again_brings_nothing_and_undo_takes_back_exactly_what_came(club):
    ada = club.athletes["ada"]
    noted = TrainingDay.objects.create(athlete=ada, day=DAY, soreness=3, soreness_site="lower-back")
    text = LOG.replace("bw", "bw,height") + f"{DAY},Ada Fell,DL,140,kg,3,66 kg,\n2026-03-05,Ada Fell,,,,,66.2 kg,170\n"
    batch = taken(read_in(club, text))
    assert [w[1:3] for w in weighed()] == [(DAY, 66.0)] and len(measured()) == 2
    again = read_in(club, text)
    assert [s for _, s, _ in outcome(again)] == ["duplicate", "skip"], outcome(again)
    assert not taken(again).visits.exists() and len(measured()) == 2 and LiftSet.objects.count() == 1
    assert undone(batch, club.stan) == (1, 3)
    noted.refresh_from_db()
    assert (noted.soreness, noted.mass_kg, noted.mass_typed) == (3, None, "")
    assert TrainingDay.objects.count() == 1 and MeasuringVisit.objects.count() == 0
    assert [s for _, s, _ in outcome(read_in(club, text))] == ["ok", "ok"]


def test_a_new_note_that_only_held_the_mass_goes_with_it(club):
    batch = taken(read_in(club, LOG + f"{DAY},Ada Fell,,,,,66 kg\n"))
    undone(batch, club.stan)
    assert not MeasuringVisit.objects.exists()
    assert TrainingDay.objects.count() == 0


def test_another_mass_on_the_day_stays_and_that_is_said(club):
    ada = club.athletes["ada"]
    TrainingDay.objects.create(athlete=ada, day=DAY, mass_typed="65", mass_unit="kg", mass_kg=65)
    batch = read_in(club, LOG + f"{DAY},Ada Fell,DL,140,kg,3,66 kg\n")
    assert outcome(batch)[0][1:] == ("guess", "another body mass is noted on that day, which stays")
    taken(batch)
    assert [w[2] for w in weighed()] == [65.0] and LiftSet.objects.count() == 1


def test_a_mass_that_is_noted_while_the_file_waits_leads_back_to_the_preview(club):
    batch = read_in(club, LOG + f"{DAY},Ada Fell,DL,140,kg,3,66 kg\n")
    ada = club.athletes["ada"]
    TrainingDay.objects.create(athlete=ada, day=DAY, mass_typed="65", mass_unit="kg", mass_kg=65)
    batch = taken(batch)
    assert batch.status == "ready" and LiftSet.objects.count() == 0
    assert [w[2] for w in weighed()] == [65.0]


def test_a_measure_that_stands_in_every_line_is_kept_once(club):
    rows = "".join(f"2026-03-{2 + i:02},Ada Fell,DL,140,kg,3,66 kg,170\n" for i in range(3))
    batch = read_in(club, LOG.replace("bw", "bw,height") + rows + "2026-03-04,Ada Fell,DL,150,kg,1,66 kg,170\n")
    assert [s for _, s, _ in outcome(batch)] == ["ok"] * 4
    assert "stature unchanged since line 2: kept once" in outcome(batch)[2][2]
    taken(batch)
    assert [m[1:4] for m in measured()] == [
        ("2026-03-02", "mass", 66.0), ("2026-03-02", "stature", 170.0),
    ]  # fmt: skip
    assert [w[1:3] for w in weighed()] == [("2026-03-03", 66.0), ("2026-03-04", 66.0)]


def test_three_readings_of_a_day_are_repeats_and_a_fourth_stays_out(club):
    rows = "".join(f"{DAY},Lee Pound,{h}\n" for h in (180, 180.5, 181, 181.5))
    batch = read_in(club, "date,name,height\n" + rows)
    assert [s for _, s, _ in outcome(batch)] == ["ok", "ok", "ok", "skip"]
    taken(batch)
    assert sorted(Measurement.objects.values_list("repeat", "value")) == [(1, 180.0), (2, 180.5), (3, 181.0)]
    assert MeasuringVisit.objects.count() == 1


def test_bony_points_ask_how_they_were_found_and_stay_out_for_the_young(club):
    text = f"date,name,height,acromial height\n{DAY},Lee Pound,180,148\n{DAY},Ivo Reed,170,139\n"
    batch = read_in(club, text)
    assert [s for _, s, _ in outcome(batch)] == ["ask", "guess"]
    assert "second adult" in outcome(batch)[1][2]
    batch = taken(read_in(club, text, answers={"landmarks|file": "consent"}))
    assert [m[:3:2] for m in measured()] == [
        ("Ivo Reed", "stature"), ("Lee Pound", "acromial_height"), ("Lee Pound", "stature"),
    ]  # fmt: skip
    assert [v.landmarks_consent for v in MeasuringVisit.objects.order_by("athlete__name")] == [False, True]


def test_a_weight_beside_a_height_is_a_body_mass_and_beside_reps_a_load(club):
    bodies = read_in(club, f"date,name,height,weight\n{DAY},Lee Pound,180,82\n")
    assert bodies.options["mapping"] == ["date", "lifter", "stature", "body_mass"]
    lifts = read_in(club, f"date,name,height,weight,reps\n{DAY},Lee Pound,180,82,5\n")
    assert lifts.options["mapping"][3] == "load"
    blocks = read_in(club, f"date,name,lift,height,weight,reps\n{DAY},Lee Pound,block pull,10 cm,82,5\n")
    assert blocks.options["mapping"][3] == "start_height"


SECRET = LOG + f"{DAY},Ada Fell,DL,140,kg,3,66.7 kg\n2026-03-05,Petra Moss,DL,130,kg,3,71.3 kg\n"


def pages(client, batch) -> str:
    texts = [client.get(reverse("import", args=[batch.pk])).content.decode()]
    numbers = batch.rows.values_list("number", flat=True)
    return "".join(
        [*texts, *(client.get(reverse("import-line", args=[batch.pk, n])).content.decode() for n in numbers)]
    )


def test_a_reader_sees_only_the_masses_they_may_see(signed_in, club):
    batch = read_in(club, SECRET)
    assert "66.7" not in pages(signed_in("stan"), batch) and "71.3" not in pages(signed_in("stan"), batch)
    assert "66.7" in pages(signed_in("cato"), batch) and "71.3" not in pages(signed_in("cato"), batch)
    assert "71.3" in pages(signed_in("bea"), batch) and "66.7" not in pages(signed_in("bea"), batch)
    assert "66.7" in pages(signed_in("ona"), batch) and "71.3" in pages(signed_in("ona"), batch)
    assert "body mass (private)" in pages(signed_in("stan"), batch)


def test_no_kept_line_holds_a_mass_and_what_is_held_apart_goes_when_it_is_in(signed_in, club):
    batch = read_in(club, SECRET)
    kept = str(list(batch.rows.values())) + str(batch.options)
    assert "66.7" not in kept and "71.3" not in kept and HeldMass.objects.count() == 2
    batch = taken(batch)
    assert HeldMass.objects.count() == 0
    page = signed_in("cato").get(reverse("import", args=[batch.pk])).content.decode()
    assert "2 sets and 2 readings of bodies" in page and "66.7" not in page
    assert "66.7" not in str(list(AuditEntry.objects.values("before", "after")))


def test_a_masked_cell_left_alone_in_a_fix_counts_as_in_the_file_and_a_typed_one_is_masked(signed_in, club):
    batch = read_in(club, LOG + f"{DAY},Ada Fell,DL,17O,kg,1,66.7 kg\n")
    staff = signed_in("stan")
    cells = [DAY, "Ada Fell", "DL", "170", "kg", "1", "(body mass, private)"]
    staff.post(reverse("import-line", args=[batch.pk, 2]), {f"cell-{i}": c for i, c in enumerate(cells)})
    assert [s for _, s, _ in outcome(batch)] == ["ok"]
    cells[6] = "67.9 kg"
    staff.post(reverse("import-line", args=[batch.pk, 2]), {f"cell-{i}": c for i, c in enumerate(cells)})
    kept = str(list(batch.rows.values()))
    assert "67.9" not in kept and "66.7" not in kept and "67.9" not in pages(staff, batch)
    batch.refresh_from_db()
    answer(batch, club.stan, {})
    taken(batch)
    assert [w[2] for w in weighed()] == [67.9]


def test_a_fix_goes_back_to_the_masked_words_of_the_file(signed_in, club):
    batch = read_in(club, LOG + f"{DAY},Ada Fell,DL,170,kg,1,66.7 kg\n")
    staff, address = signed_in("stan"), reverse("import-line", args=[batch.pk, 2])
    cells = [DAY, "Ada Fell", "DL", "175", "kg", "1", "67.9 kg"]
    staff.post(address, {f"cell-{i}": c for i, c in enumerate(cells)})
    staff.post(address, {"then": "as-stood"} | {f"cell-{i}": c for i, c in enumerate(cells)})
    batch.refresh_from_db()
    taken(batch)
    assert [w[2] for w in weighed()] == [66.7] and LiftSet.objects.get().load_kg == 170


def test_a_fix_above_does_not_lose_the_masses_of_the_lines_that_fill_down_from_it(signed_in, club):
    batch = read_in(club, LOG + "2026-02-30,Ada Fell,DL,170,kg,1,66.7 kg\n,,,150,kg,5,\n,,,,,,66.8 kg\n")
    cells = ["2026-02-27", "Ada Fell", "DL", "170", "kg", "1", "(body mass, private)"]
    signed_in("stan").post(reverse("import-line", args=[batch.pk, 2]), {f"cell-{i}": c for i, c in enumerate(cells)})
    assert [s for _, s, _ in outcome(batch)] == ["ok", "guess", "skip"]
    assert "a second body mass of that day" in outcome(batch)[2][2]
    batch.refresh_from_db()
    taken(batch)
    assert [w[1:3] for w in weighed()] == [("2026-02-27", 66.7)] and LiftSet.objects.count() == 2


def test_only_who_uploaded_or_an_owner_has_the_masked_column_read_as_something_else(signed_in, club):
    batch = read_in(club, SECRET)
    columns = {f"column-{i}": f for i, f in enumerate(["date", "lifter", "lift", "load", "unit", "reps", "note"])}
    answered = signed_in("bea").post(reverse("import-columns", args=[batch.pk]), columns, follow=True)
    assert "only who uploaded it" in answered.content.decode() and "66.7" not in answered.content.decode()
    make = {"encoding": "utf-8", "separator": "none", "decimal": "", "date_order": ""}
    answered = signed_in("bea").post(reverse("import-make", args=[batch.pk]), make, follow=True)
    assert "only who uploaded it" in answered.content.decode() and "66.7" not in answered.content.decode()
    columns["column-6"] = ""
    answered = signed_in("bea").post(reverse("import-columns", args=[batch.pk]), columns, follow=True)
    assert "66.7" not in answered.content.decode() and "(body mass, private)" in answered.content.decode()
    batch.refresh_from_db()
    taken(batch)
    assert weighed() == [] and LiftSet.objects.count() == 2


def test_an_erased_athlete_takes_what_is_held_of_them_along(club):
    from athletes.privacy.erasure import erase_athlete

    batch = read_in(club, SECRET)
    taken(read_in(club, SECRET.replace("66.7", "66.8")))
    erase_athlete(club.athletes["ada"])
    assert "66.7" not in str(list(HeldMass.objects.values())) and "66.8" not in str(list(TrainingDay.objects.values()))
    assert batch.rows.get(number=2).reason == "erased on request"


def test_a_mass_whose_length_is_left_out_is_held_against_the_notes_of_days(club):
    ada = club.athletes["ada"]
    TrainingDay.objects.create(athlete=ada, day="2026-03-03", mass_typed="65", mass_unit="kg", mass_kg=65)
    rows = "2026-03-02,Ada Fell,DL,140,kg,3,,170\n2026-03-03,Ada Fell,DL,140,kg,3,66 kg,170\n"
    batch = read_in(club, LOG.replace("bw", "bw,height") + rows)
    assert "another body mass is noted" in outcome(batch)[1][2]
    assert taken(batch).status == "done" and [w[2] for w in weighed()] == [65.0]


def test_a_mass_without_a_unit_of_its_own_is_not_read_in_the_unit_of_the_loads_unseen(club):
    batch = read_in(club, LOG + f"{DAY},Ada Fell,DL,405,lb,3,82.4\n")
    assert outcome(batch)[0][1:] == ("ask", "body mass without a unit: kg or lb?")
    batch = read_in(club, LOG + f"{DAY},Ada Fell,DL,405,lb,3,82.4\n", answers={"mass-unit|file": "kg"})
    taken(batch)
    assert [w[2:] for w in weighed()] == [(82.4, "82.4", "kg")] and LiftSet.objects.get().load_unit == "lb"


def test_lengths_take_the_unit_of_their_line(club):
    batch = read_in(club, f"date,name,height,unit\n{DAY},Ada Fell,67,in\n{DAY},Lee Pound,180,cm\n")
    assert [s for _, s, _ in outcome(batch)] == ["ok", "ok"]
    taken(batch)
    assert [(m[0], m[3]) for m in measured()] == [("Ada Fell", 170.2), ("Lee Pound", 180.0)]
