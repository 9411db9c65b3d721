"""An athlete's copy: another club takes it in whole or not at all, with consent, and a changed one never."""

import io
import json
import zipfile

import pytest
from django.core.files.base import ContentFile
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from athletes.models import Athlete, GuardianConsent, LiftSet, Picture
from tests.athletes.exporting.copies import copy_of, send, values


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
