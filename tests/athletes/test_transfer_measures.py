"""Body measures in files: which columns they are, what is taken, guessed or asked about, and how they go in and out.

Row forms 25 (a body mass with swapped digits) and 37 (heights and arms in many shapes) and their kinds.
"""

import pytest
from django.urls import reverse

from athletes.models import (
    Athlete,
    AuditEntry,
    HeldMass,
    LiftSet,
    Measurement,
    MeasuringVisit,
    StagedMeasure,
    TrainingDay,
)
from athletes.transfer.move import take_in, undo
from athletes.transfer.outcome import sums
from athletes.transfer.questions import answer
from athletes.transfer.staging.steps import advance
from tests.athletes.importing import outcome, read_in

DAY = "2026-03-04"
LOG = "date,lifter,lift,weight,unit,reps,bw\n"


@pytest.fixture
def club(cast):
    Athlete.objects.create(club=cast.quarry, name="Lee Pound", sex="m", weight_unit="kg", standing="trained")
    return cast


def taken(batch):
    take_in(batch)
    return advance(batch.pk, 30)


def measured() -> list[tuple]:
    rows = Measurement.objects.order_by("visit__day", "visit_id", "key", "repeat")
    return [
        (m.visit.athlete.name, m.visit.day.isoformat(), m.key, round(m.value, 1), m.typed, m.unit)
        for m in rows.select_related("visit__athlete")
    ]


def weighed() -> list[tuple]:
    rows = TrainingDay.objects.filter(mass_kg__isnull=False).order_by("day", "athlete")
    return [(d.athlete.name, d.day.isoformat(), round(d.mass_kg, 1), d.mass_typed, d.mass_unit) for d in rows]


HEIGHTS = [
    # typed, heading, cm, standing
    ("5'11", "height", 180.3, "ok"), ("5'11\"", "Height", 180.3, "ok"), ("180", "Größe", 180.0, "ok"),
    ("1.80", "taille", 180.0, "guess"), ("1,80", "altura", 180.0, "guess"), ("71in", "height", 180.3, "ok"),
    ("71", "Height (in)", 180.3, "ok"), ("71", "height", 180.3, "guess"), ("5 ft 11", "stature", 180.3, "ok"),
    ("5-11", "height", 180.3, "guess"), ("1m80", "taille", 180.0, "ok"), ("1800 mm", "wzrost", 180.0, "ok"),
    ("5’11½”", "height", 181.6, "ok"), ("180 cm", "рост", 180.0, "ok"), ("１８０", "身長", 180.0, "ok"),
    ("178,5", "lengte", 178.5, "ok"), ("6'", "height", 182.9, "ok"), ("180.34", "längd", 180.3, "ok"),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "heading", "cm", "standing"), HEIGHTS)
def test_37_a_height_in_any_shape_is_one_length(club, typed, heading, cm, standing):
    cell = '"' + typed.replace('"', '""') + '"'
    batch = read_in(club, f"date,name,{heading}\n{DAY},Lee Pound,{cell}\n")
    assert [s for _, s, _ in outcome(batch)] == [standing], outcome(batch)
    taken(batch)
    [(_, day, key, value, kept, _)] = measured()
    assert (day, key, value, kept) == (DAY, "stature", cm, typed)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("5.11", "feet and inches, or feet?"), ("l80", "letter among its digits"), ("8", "too small"),
        ("tall", "not one number"), ("0", "is 0"), ("-180", "negative"), ("82 kg", "is a weight"),
        ("122", "Is it right as typed?"), ("180/181", "not one number"), ("999", "too large"),
    ],
)  # fmt: skip
def test_37_a_height_that_cannot_be_known_is_asked_about(club, typed, says):
    batch = read_in(club, f'date,name,height\n{DAY},Lee Pound,"{typed}"\n')
    [(_, status, reason)] = outcome(batch)
    assert status == "ask" and says in reason


def test_37_feet_with_a_point_are_asked_once_for_the_file(club):
    text = f"date,name,height\n{DAY},Lee Pound,5.11\n{DAY},Ada Fell,5.5\n"
    for answered, values in (("feet-inches", [165.1, 180.3]), ("feet", [155.8, 167.6])):
        batch = read_in(club, text, answers={"feet|file": answered})
        assert [s for _, s, _ in outcome(batch)] == ["ok", "ok"] or answered == "feet"
        assert sorted(round(m["value"], 1) for r in batch.rows.all() for m in r.parsed["measures"]) == values


ARMS = [
    # height, column, typed, what it is
    ("5'11", "arm", '72"', "span"), ("180", "arm", "183", "span"), ("180", "arm length", '29"', "one"),
    ("180", "arm", "78 cm", "one"),
    ("180", "arm", "78", "ask"), ("", "arm", '72"', "span"), ("", "arm", '29"', "one"), ("180", "arm", "110", "ask"),
    ("180", "wingspan", "72in", "span"), ("180", "Spannweite", "181", "span"), ("180", "envergure", "1,82", "span"),
    ("180", "arm span", '29"', "ask"), ("180", "reach", "74 cm", "ask"), ("", "arm", "72", "ask"),
    ("180", "arm span", "140", "ask"),
]  # fmt: skip


@pytest.mark.parametrize(("height", "column", "typed", "kind"), ARMS)
def test_37_an_arm_is_told_from_a_span_by_the_height(club, height, column, typed, kind):
    cell = '"' + typed.replace('"', '""') + '"'
    batch = read_in(club, f'date,name,height,{column}\n{DAY},Lee Pound,"{height}",{cell}\n')
    [(_, status, reason)] = outcome(batch)
    keys = [m["key"] for m in ((batch.rows.get().parsed or {}).get("measures", []))]
    if kind == "span":
        assert "arm_span" in keys and status in ("ok", "guess")
    elif kind == "one":
        assert "arm_span" not in keys and "length of one arm" in reason
        assert status == ("guess" if height else "skip")
    else:
        assert status == "ask" and batch.options["questions"]


def test_37_what_an_arm_is_can_be_answered(club):
    text = f"date,name,height,arm\n{DAY},Lee Pound,180,110\n"
    batch = read_in(club, text, answers={"arm|file": "one"})
    assert [s for _, s, _ in outcome(batch)] == ["guess"]
    assert "left out" in outcome(batch)[0][2]
    batch = read_in(club, f"date,name,height,arm\n{DAY},Lee Pound,180,76 cm\n", answers={"arm|file": "span"})
    assert [s for _, s, _ in outcome(batch)] == ["ask"]  # no span is as short as that, whatever was answered


def test_lengths_of_one_body_that_do_not_fit_are_asked_about_and_a_yes_is_remembered(club):
    text = f"date,name,height,span\n{DAY},Lee Pound,180,215\n"
    batch = read_in(club, text)
    [(_, status, reason)] = outcome(batch)
    assert status == "ask" and "of the stature" in reason
    [key] = [k for k in batch.options["questions"] if k.startswith("odd|")]
    assert "215" not in key
    assert [s for _, s, _ in outcome(read_in(club, text, answers={key: "right"}))] == ["ok"]
    assert [s for _, s, _ in outcome(read_in(club, text))] == ["ok"]
    other = read_in(club, text.replace("215", "216"))
    assert [s for _, s, _ in outcome(other)] == ["ask"]
    left = read_in(club, text, answers={key: "leave-out"})
    assert [m["key"] for m in left.rows.get().parsed["measures"]] == ["stature"]


def test_a_length_is_held_against_what_was_measured_before(club):
    visit = MeasuringVisit.objects.create(athlete=Athlete.objects.get(name="Lee Pound"), day="2026-01-01")
    Measurement.objects.create(visit=visit, key="stature", typed="180", unit="cm", value=180)
    batch = read_in(club, f"date,name,span\n{DAY},Lee Pound,140\n")
    assert "of the stature 180 cm" in outcome(batch)[0][2]


MASSES = [
    # heading, typed, unit column, kg, typed as kept, unit, standing
    ("bw", "82.4", "", 82.4, "82.4", "kg", "guess"), ("BW (kg)", "82,4", "", 82.4, "82,4", "kg", "ok"),
    ("bodyweight lb", "181", "", 82.1, "181", "lb", "ok"), ("bw", "181 lb", "", 82.1, "181", "lb", "ok"),
    ("Körpergewicht", "82,4 kg", "", 82.4, "82,4", "kg", "ok"),
    ("poids de corps", "82.4", "kg", 82.4, "82.4", "kg", "guess"),
    ("体重", "82.4kg", "", 82.4, "82.4", "kg", "ok"), ("bwt", "12 st 13", "", 82.1, "181", "lb", "ok"),
]  # fmt: skip


@pytest.mark.parametrize(("heading", "typed", "unit", "kg", "kept", "kept_unit", "standing"), MASSES)
def test_a_body_mass_goes_to_the_note_of_its_day(club, heading, typed, unit, kg, kept, kept_unit, standing):
    batch = read_in(club, f'date,lifter,lift,weight,unit,reps,{heading}\n{DAY},Lee Pound,,,{unit},,"{typed}"\n')
    assert [s for _, s, _ in outcome(batch)] == [standing], outcome(batch)
    taken(batch)
    assert weighed() == [("Lee Pound", DAY, kg, kept, kept_unit)]
    assert MeasuringVisit.objects.count() == 0


def test_a_body_mass_beside_lengths_goes_to_their_visit(club):
    batch = read_in(club, "Name,Height,Weight,Arm span\nLee Pound,180,82 kg,183\n", answers={"file-date|file": DAY})
    taken(batch)
    assert [m[2:4] for m in measured()] == [("arm_span", 183.0), ("mass", 82.0), ("stature", 180.0)]
    assert weighed() == [] and MeasuringVisit.objects.get().measured_by == club.stan
    assert LiftSet.objects.count() == 0


def test_25_swapped_digits_are_asked_about_and_the_set_waits_with_them(club):
    text = LOG + "2026-03-13,Ada Fell,DL,140,kg,3,82.4 kg\n2026-03-20,Ada Fell,DL,142.5,kg,3,68.4 kg\n"
    batch = read_in(club, text)
    assert [s for _, s, _ in outcome(batch)] == ["ok", "ask"]
    assert "5 % a week" in outcome(batch)[1][2]
    [key] = [k for k in batch.options["questions"] if k.startswith("jump|")]
    counts = sums(batch)
    assert counts["rows"] == counts["taken"] + counts["fixed"] + counts["skipped"] == 2
    left = read_in(club, text, answers={key: "leave-out"})
    assert [s for _, s, _ in outcome(left)] == ["ok", "guess"]
    taken(left)
    assert LiftSet.objects.count() == 2 and [w[2] for w in weighed()] == [82.4]


def test_25_a_yes_takes_both_and_is_remembered_for_this_very_reading(club):
    text = LOG + "2026-03-13,Ada Fell,DL,140,kg,3,82.4 kg\n2026-03-20,Ada Fell,DL,142.5,kg,3,68.4 kg\n"
    [key] = [k for k in read_in(club, text).options["questions"] if k.startswith("jump|")]
    batch = read_in(club, text, answers={key: "right"})
    assert [s for _, s, _ in outcome(batch)] == ["ok", "ok"]
    assert [s for _, s, _ in outcome(read_in(club, text))] == ["ok", "ok"]
    assert [s for _, s, _ in outcome(read_in(club, text.replace("68.4", "67.4")))] == ["ok", "ask"]


@pytest.mark.parametrize(
    ("masses", "asked"),
    [
        ([82.0, 82.4, 28.4, 82.6], [4]),  # asked by itself as well: nobody weighs that
        ([82.0, 82.4, 88.4, 82.6], [4]),
        ([28.9, 82.4, 82.6, 82.5], [2]),
        ([82.0, 86.0, 82.0, 86.0], []),
        ([82.0, 82.1, 92.0, 92.2, 92.1], [4]),  # a new level is asked about once
        ([182.0, 82.4, 82.6, 82.5], [2]),
    ],
)
def test_25_only_the_mass_that_jumps_is_asked_about(club, masses, asked):
    rows = "".join(f"2026-03-{2 + 7 * i:02},Lee Pound,,,kg,,{m}\n" for i, m in enumerate(masses))
    batch = read_in(club, LOG + rows)
    assert [n for n, s, _ in outcome(batch) if s == "ask"] == asked, outcome(batch)


def test_25_a_mass_is_held_against_those_in_the_log(club):
    ada = club.athletes["ada"]
    TrainingDay.objects.create(athlete=ada, day="2026-03-01", mass_typed="66", mass_unit="kg", mass_kg=66)
    batch = read_in(club, LOG + f"{DAY},Ada Fell,,,kg,,96\n")
    assert [s for _, s, _ in outcome(batch)] == ["ask"]


def test_25_after_a_long_time_away_a_change_is_not_asked_about(club):
    batch = read_in(club, LOG + f"2025-03-04,Lee Pound,,,,,82 kg\n{DAY},Lee Pound,,,,,92 kg\n")
    assert [s for _, s, _ in outcome(batch)] == ["ok", "ok"]


def test_masses_that_may_be_pounds_are_asked_about_for_the_file(club):
    text = LOG + "".join(f"2026-03-{2 + i:02},Lee Pound,DL,140,kg,3,18{i}\n" for i in range(4))
    text = text.replace(",unit,", ",units of load,").replace(",kg,", ",,")
    batch = read_in(club, text)
    assert {s for _, s, _ in outcome(batch)} == {"ask"} and "mass-unit|file" in batch.options["questions"]
    batch = read_in(club, text, answers={"mass-unit|file": "lb", "unit|file": "kg"})
    taken(batch)
    assert weighed()[0][2:] == (81.6, "180", "lb")
    batch = read_in(club, text.replace("2026", "2025"), answers={"mass-unit|file": "leave-out", "unit|file": "kg"})
    taken(batch)
    assert len(weighed()) == 4 and LiftSet.objects.count() == 8


def test_a_line_with_a_set_that_is_none_and_a_mass_gives_the_mass(club):
    batch = read_in(club, LOG + f"{DAY},Ada Fell,DL,e200,kg,1,66 kg\n")
    assert [s for _, s, _ in outcome(batch)] == ["guess"]
    assert "left out: “e200”: an estimate is not a lift" in outcome(batch)[0][2]
    taken(batch)
    assert LiftSet.objects.count() == 0 and [w[2] for w in weighed()] == [66.0]


def test_a_line_that_waits_for_its_set_keeps_its_mass_waiting(club):
    batch = read_in(club, LOG + f"{DAY},Ada Fell,DL,17O,kg,1,66 kg\n")
    assert [s for _, s, _ in outcome(batch)] == ["ask"]
    taken(batch)
    assert weighed() == []


def test_the_same_file_again_brings_nothing_and_undo_takes_back_exactly_what_came(club):
    ada = club.athletes["ada"]
    noted = TrainingDay.objects.create(athlete=ada, day=DAY, soreness=3, soreness_site="lower-back")
    text = LOG.replace("bw", "bw,height") + f"{DAY},Ada Fell,DL,140,kg,3,66 kg,\n2026-03-05,Ada Fell,,,,,66.2 kg,170\n"
    batch = taken(read_in(club, text))
    assert [w[1:3] for w in weighed()] == [(DAY, 66.0)] and len(measured()) == 2
    again = read_in(club, text)
    assert [s for _, s, _ in outcome(again)] == ["duplicate", "skip"], outcome(again)
    assert not taken(again).visits.exists() and len(measured()) == 2 and LiftSet.objects.count() == 1
    assert tuple(undo(batch, club.stan)) == (1, 3)
    noted.refresh_from_db()
    assert (noted.soreness, noted.mass_kg, noted.mass_typed) == (3, None, "")
    assert TrainingDay.objects.count() == 1 and MeasuringVisit.objects.count() == 0
    assert [s for _, s, _ in outcome(read_in(club, text))] == ["ok", "ok"]


def test_a_new_note_that_only_held_the_mass_goes_with_it(club):
    batch = taken(read_in(club, LOG + f"{DAY},Ada Fell,,,,,66 kg\n"))
    undo(batch, club.stan)
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
        ("Lee Pound", "acromial_height"), ("Lee Pound", "stature"), ("Ivo Reed", "stature"),
    ]  # fmt: skip
    assert [v.landmarks_consent for v in MeasuringVisit.objects.order_by("athlete__name")] == [False, True]


def test_a_weight_beside_a_height_is_a_body_mass_and_beside_reps_a_load(club):
    bodies = read_in(club, f"date,name,height,weight\n{DAY},Lee Pound,180,82\n")
    assert bodies.options["mapping"] == ["date", "lifter", "stature", "body_mass"]
    lifts = read_in(club, f"date,name,height,weight,reps\n{DAY},Lee Pound,180,82,5\n")
    assert lifts.options["mapping"][3] == "load"
    blocks = read_in(club, f"date,name,lift,height,weight,reps\n{DAY},Lee Pound,block pull,10 cm,82,5\n")
    assert blocks.options["mapping"][3] == "start_height"


# who may see a body mass


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
    assert HeldMass.objects.count() == StagedMeasure.objects.count() == 0
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
    from athletes.services.erasure import erase_athlete

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
