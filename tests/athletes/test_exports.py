"""Logs out: tables that come back unchanged, copies that another club can take in, and who may have them."""

import csv
import io
import json
import zipfile
from datetime import date

import pytest
from django.core.files.base import ContentFile
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from athletes.models import (
    Athlete,
    Bar,
    GuardianConsent,
    HealthNote,
    LiftSet,
    Measurement,
    MeasuringVisit,
    Picture,
    TrainingDay,
    Trial,
)
from athletes.transfer.csv_writer import guarded
from tests.athletes.importing import read_in


def log(athlete, **extra) -> LiftSet:
    values = {
        "day": date(2026, 3, 4),
        "load_typed": "182,5",
        "load_unit": "kg",
        "load_kg": 182.5,
        "reps_made": 3,
        "reps_tried": 3,
        "order": 1,
    }
    return LiftSet.objects.create(athlete=athlete, **values | extra)


@pytest.fixture
def full_log(cast) -> Athlete:
    """Sets that use every column, with text that a spreadsheet would run."""
    ada = cast.athletes["ada"]
    bar = Bar.objects.create(club=cast.quarry, name="=Old bar", kind="stiff")
    log(
        ada,
        style="sumo",
        effort_typed="@8,5",
        rir_low=1.5,
        rir_high=1.5,
        bar=bar,
        bar_kind="stiff",
        grip="hook",
        straps=True,
        belt=True,
        note='=HYPERLINK("x")',
    )
    log(
        ada,
        order=2,
        load_typed="405",
        load_unit="lb",
        load_kg=405 * 0.45359237,
        start="block",
        start_typed="4",
        start_unit="in",
        start_cm=10.16,
        note="-5 kg next time, 'quoted'\nsecond line",
    )
    log(
        ada,
        order=3,
        load_typed="200",
        load_kg=200.0,
        reps_made=0,
        reps_tried=1,
        result="missed",
        miss_position="below-knee",
        second_position="at-knee",
        gave_way="back-rounded",
        shape="rounded-during",
        shape_region="upper",
        disc_diameter_cm=42.5,
        pull_seconds=4.25,
    )
    log(
        ada,
        order=4,
        load_typed="190",
        load_kg=190.0,
        reps_made=0,
        reps_tried=1,
        result="no-lift",
        rule_reason="not-erect",
        suit=True,
        dead_stop=False,
        paused=True,
        is_test=True,
    )
    log(
        ada,
        order=5,
        load_typed="190",
        load_kg=190.0,
        lift="front-squat",
        depth_verified=True,
        slowest_at="mid-thigh",
        what_changed="grip-opened",
        in_new_style="partly",
        note="'=x",
    )
    log(ada, order=6, load_typed="190", load_kg=190.0, lift="other", note="hip thrust", effort_typed="easy")
    log(ada, order=6, load_typed="190", load_kg=190.0, lift="other", note="hip thrust", effort_typed="easy")
    return ada


def export(client, athlete) -> str:
    return b"".join(client.get(reverse("export-athlete", args=[athlete.pk])).streaming_content).decode()


def values(athlete) -> list[tuple]:
    left_out = {"id", "uid", "athlete_id", "author_id", "batch_id", "created", "changed"}
    names = [f.attname for f in LiftSet._meta.concrete_fields if f.attname not in left_out]
    return list(athlete.sets.order_by("day", "order", "pk").values_list(*names))


def test_a_table_comes_back_without_change(signed_in, cast, full_log):
    before, first = values(full_log), export(signed_in("cato"), full_log)
    full_log.sets.all().delete()
    batch = read_in(cast, first)
    assert [r.reason for r in batch.rows.exclude(status="ok")] == []
    signed_in("stan").post(reverse("import-take", args=[batch.pk]))
    assert values(full_log) == before
    assert export(signed_in("cato"), full_log) == first
    assert {s for (s,) in read_in(cast, first).rows.values_list("status")} == {"duplicate"}


def test_formulas_are_guarded_and_negative_numbers_stay_numbers():
    assert [guarded(t) for t in ("=1+1", "+x", "@x", "-x", "\tx", "'=x", "＝x")] == [
        "'=1+1",
        "'+x",
        "'@x",
        "'-x",
        "'\tx",
        "''=x",
        "'＝x",
    ]
    assert [guarded(t) for t in ("-200", "-2.5", "+3", "plain", "'quoted'", "", "'")] == [
        "-200",
        "-2.5",
        "+3",
        "plain",
        "'quoted'",
        "",
        "'",
    ]


def test_no_cell_of_a_table_starts_a_formula(signed_in, full_log):
    rows = list(csv.reader(io.StringIO(export(signed_in("cato"), full_log).lstrip("\ufeff"))))
    starts = {c[0] for row in rows for c in row if c and not c.lstrip("-").replace(".", "").isdigit()}
    assert not starts & set("=+-@\t\r")


def test_a_table_tells_nobodys_weight(signed_in, cast, full_log):
    TrainingDay.objects.create(athlete=full_log, day="2026-03-04", mass_typed="71,1", mass_unit="kg", mass_kg=71.1)
    text = b"".join(signed_in("cato").get(reverse("export-squad")).streaming_content).decode()
    assert "71" not in text
    assert not {"mass", "class", "points", "moment", "N m"} & set(text.splitlines()[0].split(","))


def test_the_squads_table_holds_the_squad_of_its_coach(signed_in, cast, full_log):
    log(cast.athletes["petra"])
    log(cast.athletes["hugo"])

    def names(who: str) -> set[str]:
        text = b"".join(signed_in(who).get(reverse("export-squad")).streaming_content).decode().lstrip("\ufeff")
        return {row["lifter"] for row in csv.DictReader(io.StringIO(text))}

    assert names("cato") == {"Ada Fell"}
    assert names("bea") == {"Petra Moss"}
    assert names("ona") == {"Ada Fell", "Petra Moss"}


def table_of_access():
    yield from (
        ("exports", False, who, code)
        for who, code in [("ona", 200), ("cato", 200), ("stan", 403), ("ada", 404), ("nils", 404)]
    )
    yield from (
        ("export-squad", False, who, code) for who, code in [("ona", 200), ("cato", 200), ("stan", 403), ("ada", 404)]
    )
    yield from (
        ("archive-import", False, who, code) for who, code in [("ona", 200), ("cato", 200), ("stan", 403), ("ada", 404)]
    )
    for name in ("export-athlete", "archive"):
        yield from (
            (name, True, who, code)
            for who, code in [
                ("ona", 200),
                ("cato", 200),
                ("bea", 403),
                ("stan", 403),
                ("ada", 200),
                ("olga", 404),
                ("hugo", 404),
            ]
        )


@pytest.mark.parametrize(("name", "own", "who", "code"), list(table_of_access()))
def test_who_may_have_what(signed_in, cast, name, own, who, code):
    args = [cast.athletes["ada"].pk] if own else []
    assert signed_in(who).get(reverse(name, args=args)).status_code == code


@pytest.mark.parametrize("name", ["exports", "export-squad", "export-athlete", "archive"])
def test_wrong_verbs_are_refused(signed_in, cast, name):
    args = [] if name in ("exports", "export-squad") else [cast.athletes["ada"].pk]
    assert signed_in("ona").post(reverse(name, args=args)).status_code == 405


@pytest.fixture
def whole_life(cast, full_log) -> Athlete:
    """Something in every part of a copy."""
    trial = Trial.objects.create(
        athlete=full_log, new_style="sumo", old_style="conventional", started_on="2026-01-01", decide_on="2026-04-01"
    )
    full_log.sets.filter(order=1).update(trial=trial)
    full_log.decisions.create(trial=trial, on="2026-03-01", verdict="extend", reasons="Too early to say.")
    TrainingDay.objects.create(
        athlete=full_log, day="2026-03-04", mass_typed="71,1", mass_unit="kg", mass_kg=71.1, soreness=3
    )
    HealthNote.objects.create(
        athlete=full_log, kind="pain", site="hip", severity=4, noted_on="2026-03-01", text="left side"
    )
    visit = MeasuringVisit.objects.create(athlete=full_log, day="2026-01-05")
    Measurement.objects.create(visit=visit, key="stature", typed="5'11", unit="in", value=180.34)
    picture = io.BytesIO()
    Image.new("RGB", (40, 30), "white").save(picture, "JPEG")
    row = Picture(athlete=full_log, taken_on="2026-03-04", lift_set=full_log.sets.first(), marks={"hip": [0.5, 0.5]})
    row.file.save("x.jpg", ContentFile(picture.getvalue()))
    return full_log


def copy_of(client, athlete) -> bytes:
    return b"".join(client.get(reverse("archive", args=[athlete.pk])).streaming_content)


def send(client, content, **extra):
    data = {"file": SimpleUploadedFile("ada.zip", content), "agreed": "on", "agreed_by": "herself, by letter", **extra}
    return client.post(reverse("archive-import"), data)


def test_another_club_takes_a_copy_in_whole(signed_in, cast, whole_life):
    answer = send(signed_in("olga"), copy_of(signed_in("ada"), whole_life))
    taken = Athlete.objects.get(club=cast.harbour, name="Ada Fell")
    assert answer.url == reverse("lifts", args=[taken.pk])
    skip = LiftSet._meta.get_field("trial"), LiftSet._meta.get_field("bar")
    assert len(values(taken)) == len(values(whole_life)) == 7
    assert taken.sets.filter(trial__new_style="sumo").count() == 1
    assert taken.sets.get(order=1).bar.club == cast.harbour
    assert [taken.days.get().mass_kg, taken.health_notes.get().severity, taken.decisions.get().verdict] == [
        71.1,
        4,
        "extend",
    ]
    assert taken.visits.get().measurements.get().typed == "5'11"
    assert taken.pictures.get().lift_set.athlete == taken
    assert skip[0].null
    assert whole_life.sets.count() == 7


def test_without_consent_nothing_comes_in(signed_in, cast, whole_life):
    content = copy_of(signed_in("ada"), whole_life)
    data = {"file": SimpleUploadedFile("ada.zip", content), "agreed_by": "nobody"}
    answer = signed_in("olga").post(reverse("archive-import"), data)
    assert (answer.status_code, "consent" in answer.content.decode()) == (422, True)
    assert not Athlete.objects.filter(club=cast.harbour, name="Ada Fell").exists()


def test_a_minors_copy_needs_a_guardian_and_leaves_pictures_out(signed_in, cast):
    ivo = cast.athletes["ivo"]
    GuardianConsent.objects.create(athlete=ivo, guardian="Jo Reed", given_on="2026-01-01", covers_pictures=True)
    picture = io.BytesIO()
    Image.new("RGB", (40, 30)).save(picture, "JPEG")
    Picture(athlete=ivo, taken_on="2026-03-04").file.save("x.jpg", ContentFile(picture.getvalue()))
    Picture.objects.bulk_create([Picture(athlete=ivo, taken_on="2026-03-04", file="gone.jpg")])
    content = copy_of(signed_in("cato"), ivo)
    assert send(signed_in("olga"), content).status_code == 422
    answer = signed_in("olga").get(send(signed_in("olga"), content, guardian="Jo Reed").url, follow=True)
    taken = Athlete.objects.get(club=cast.harbour, name="Ivo Reed")
    assert answer.status_code == 200
    assert taken.pictures.count() == 0


def test_an_athlete_who_asked_not_to_see_body_mass_does_not_find_it_in_the_copy(signed_in, whole_life):
    Athlete.objects.filter(pk=whole_life.pk).update(hide_mass_from_athlete=True)
    with zipfile.ZipFile(io.BytesIO(copy_of(signed_in("ada"), whole_life))) as packed:
        assert "71.1" not in packed.read("athlete.json").decode()
    with zipfile.ZipFile(io.BytesIO(copy_of(signed_in("cato"), whole_life))) as packed:
        assert "71.1" in packed.read("athlete.json").decode()


def altered(content: bytes, change) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(out, "w") as new:
        for part in old.namelist():
            data = old.read(part)
            if part == "athlete.json":
                known = json.loads(data)
                change(known)
                data = json.dumps(known).encode()
            new.writestr(part, data)
    return out.getvalue()


CHANGES = [
    (lambda d: d["sets"][2].update(load_kg=9000), "sets, entry 3"),
    (lambda d: d["sets"][0].update(day="2026-02-30"), "sets, entry 1"),
    (lambda d: d["sets"][0].update(result="flown"), "sets, entry 1"),
    (lambda d: d.update(sets="many"), "not a list"),
    (lambda d: d["athlete"].update(name=""), "names nobody"),
    (lambda d: d["athlete"].update(sex="x"), "athlete"),
    (lambda d: d.update(version=99), "version 99"),
    (lambda d: d.update(format="other"), "does not say"),
    (lambda d: d["days"].append(d["days"][0]), "days, entry 2"),
    (lambda d: d["trials"].append(d["trials"][0]), "trials, entry 2"),
    (lambda d: d["pictures"][0].update(file="../../etc/passwd"), ""),
    (lambda d: d["sets"][0].update(reps_made="many"), "sets, entry 1"),
]


@pytest.mark.parametrize(("change", "says"), CHANGES)
def test_a_copy_that_was_changed_comes_in_whole_or_not_at_all(signed_in, cast, whole_life, change, says):
    answer = send(signed_in("olga"), altered(copy_of(signed_in("ada"), whole_life), change))
    if says:
        assert (answer.status_code, says in answer.content.decode()) == (422, True)
        assert not Athlete.objects.filter(club=cast.harbour, name="Ada Fell").exists()
    else:
        assert Athlete.objects.get(club=cast.harbour, name="Ada Fell").pictures.count() == 0


@pytest.mark.parametrize("content", [b"no zip", b"PK\x03\x04" + b"\0" * 50])
def test_what_is_no_copy_is_refused(signed_in, content):
    assert send(signed_in("olga"), content).status_code == 422
