"""Guardian's consent and pictures: cleaned, marked, shown only through the check, gone when asked."""

from datetime import date, timedelta
from io import BytesIO
from pathlib import Path

import pytest
from django.core.exceptions import ValidationError
from django.core.files.storage import FileSystemStorage, default_storage
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.utils import timezone
from PIL import Image

from athletes.access.visibility import consent_for, is_minor, may_share, pictures_allowed, suppress_small_groups
from athletes.models import GuardianConsent, Picture
from athletes.pictures import services as keep

TODAY = date(2026, 11, 20)


def photo(kind="JPEG", size=(640, 480), exif=None) -> bytes:
    out = BytesIO()
    Image.new("RGB", size, (120, 90, 60)).save(out, kind, **({"exif": exif} if exif else {}))
    return out.getvalue()


def upload(client, athlete, data: bytes, name="lift.jpg"):
    body = {"file": SimpleUploadedFile(name, data), "taken_on": "2026-11-20", "style": "sumo", "note": "top single"}
    return client.post(f"/athletes/{athlete.pk}/pictures/", body)


@pytest.fixture
def consented(cast):
    return GuardianConsent.objects.create(
        athlete=cast.athletes["ivo"], guardian="R. Reed", given_on=TODAY - timedelta(days=60), covers_pictures=True
    )


def test_a_picture_is_written_anew_without_place_camera_or_time(cast, signed_in):
    exif = Image.Exif()
    exif[0x010F] = "CAMERA-MAKER-MARK"
    exif.get_ifd(0x8825)[2] = (59.0, 54.0, 30.0)
    exif[0x0112] = 6  # lying on its side
    data = photo(exif=exif)
    assert b"CAMERA-MAKER-MARK" in data
    upload(signed_in("ada"), cast.athletes["ada"], data)
    row = Picture.objects.get()
    kept = Path(row.file.path).read_bytes()
    assert b"CAMERA-MAKER-MARK" not in kept
    with Image.open(BytesIO(kept)) as image:
        assert not image.getexif()
        assert image.size == (480, 640)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_the_usual_kinds_are_taken(cast, signed_in, kind):
    assert upload(signed_in("ada"), cast.athletes["ada"], photo(kind)).status_code == 302
    assert Picture.objects.get().file.name.endswith(".jpg")


BAD = {
    "a script with a picture's name": b"<script>alert(1)</script>",
    "an svg": b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
    "half a picture": photo()[:400],
    "another kind of picture": photo("GIF"),
    "nothing but the first bytes": b"\xff\xd8\xff\xe0",
}


@pytest.mark.parametrize("what", sorted(BAD))
def test_anything_else_is_refused_in_words(cast, signed_in, what):
    page = upload(signed_in("ada"), cast.athletes["ada"], BAD[what])
    assert page.status_code == 200
    assert "not a whole JPEG, PNG or WebP" in page.content.decode()
    assert 'value="top single"' in page.content.decode()
    assert not Picture.objects.exists()


def test_too_many_pixels_are_refused_before_they_are_unpacked(cast, signed_in):
    out = BytesIO()
    Image.new("1", (8000, 6000)).save(out, "PNG")
    assert len(out.getvalue()) < 100_000
    assert "at most 40 million" in upload(signed_in("ada"), cast.athletes["ada"], out.getvalue()).content.decode()


def test_a_file_too_large_is_refused(cast, signed_in, monkeypatch):
    monkeypatch.setattr(keep, "MAX_BYTES", 1000)
    assert "at most" in upload(signed_in("ada"), cast.athletes["ada"], photo()).content.decode()


def test_a_picture_is_served_only_through_the_check(cast, signed_in):
    upload(signed_in("ada"), cast.athletes["ada"], photo())
    row = Picture.objects.get()
    path = f"/athletes/{cast.athletes['ada'].pk}/pictures/{row.uid}/file/"
    answer = signed_in("cato").get(path)
    assert answer["Content-Type"] == "image/jpeg"
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert "no-store" in answer["Cache-Control"]
    assert b"".join(answer.streaming_content)[:2] == b"\xff\xd8"
    assert signed_in("olga").get(path).status_code == 404
    assert Client().get(path).status_code == 302
    assert Client().get(f"/media/{row.file.name}").status_code == 404
    wrong_athlete = path.replace(f"/{cast.athletes['ada'].pk}/", f"/{cast.athletes['petra'].pk}/", 1)
    assert signed_in("cato").get(wrong_athlete).status_code == 404


def test_marks_are_kept_as_shares_with_the_size(cast, signed_in):
    upload(signed_in("ada"), cast.athletes["ada"], photo())
    row = Picture.objects.get()
    path = f"/athletes/{cast.athletes['ada'].pk}/pictures/{row.uid}/"
    signed_in("ada").post(path, {"hip_x": "33.3", "hip_y": "50", "bar_x": "60", "bar_y": "80"})
    row.refresh_from_db()
    assert row.marks == {"hip": [0.333, 0.5], "bar": [0.6, 0.8], "size": [640, 480]}
    assert 'value="33.3"' in signed_in("ada").get(path).content.decode()


@pytest.mark.parametrize("typed", [{"hip_x": "33"}, {"hip_x": "133", "hip_y": "5"}, {"hip_x": "left", "hip_y": "5"}])
def test_half_or_impossible_marks_are_asked_about(cast, signed_in, typed):
    upload(signed_in("ada"), cast.athletes["ada"], photo())
    row = Picture.objects.get()
    page = signed_in("ada").post(f"/athletes/{cast.athletes['ada'].pk}/pictures/{row.uid}/", typed)
    assert page.status_code == 200
    assert 'class="asks"' in page.content.decode()
    assert f'value="{typed["hip_x"]}"' in page.content.decode()
    row.refresh_from_db()
    assert row.marks == {}


def test_who_counts_as_a_minor(cast):
    ivo = cast.athletes["ivo"]
    assert is_minor(ivo, TODAY)
    ivo.standing = "trained"
    assert is_minor(ivo, TODAY)
    assert not is_minor(ivo, date(2029, 6, 1))
    ivo.born = None
    assert not is_minor(ivo, TODAY)
    assert not may_share(cast.athletes["ivo"].__class__(standing="under-18"))


def test_no_picture_of_a_minor_without_consent(cast, signed_in):
    page = upload(signed_in("cato"), cast.athletes["ivo"], photo())
    assert page.status_code == 403
    shown = signed_in("cato").get(f"/athletes/{cast.athletes['ivo'].pk}/pictures/").content.decode()
    assert "while no guardian" in shown
    assert 'type="file"' not in shown


def test_a_consent_that_leaves_pictures_out_allows_none(cast, consented):
    consented.covers_pictures = False
    consented.save()
    assert consent_for(cast.athletes["ivo"]) == consented
    assert not pictures_allowed(cast.athletes["ivo"])


def test_the_coach_notes_a_consent_and_then_pictures_are_allowed(cast, signed_in):
    ivo = cast.athletes["ivo"]
    body = {"guardian": "R. Reed", "given_on": "2026-10-01", "covers_pictures": "on"}
    signed_in("cato").post(f"/athletes/{ivo.pk}/consent/", body)
    assert pictures_allowed(ivo)
    tomorrow = (timezone.localdate() + timedelta(days=1)).isoformat()
    page = signed_in("cato").post(f"/athletes/{ivo.pk}/consent/", body | {"given_on": tomorrow}).content.decode()
    assert "not come yet" in page
    assert 'value="R. Reed"' in page


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("choice", ["hide", "delete"])
def test_on_withdrawal_pictures_are_hidden_or_deleted_as_chosen(cast, signed_in, consented, choice):
    ivo = cast.athletes["ivo"]
    client = signed_in("cato")
    upload(client, ivo, photo())
    row = Picture.objects.get()
    file = Path(row.file.path)
    withdraw = f"/athletes/{ivo.pk}/consent/{consented.pk}/withdraw/"
    assert "Say what becomes of the pictures" in client.post(withdraw).content.decode()
    client.post(withdraw, {"pictures": choice})
    consented.refresh_from_db()
    assert consented.withdrawn_on is not None
    assert client.get(f"/athletes/{ivo.pk}/pictures/{row.uid}/file/").status_code == 404
    assert file.exists() == Picture.objects.exists() == (choice == "hide")


@pytest.mark.django_db(transaction=True)
def test_deleting_a_picture_deletes_its_file_even_while_hidden(cast, signed_in, consented):
    ivo = cast.athletes["ivo"]
    upload(signed_in("cato"), ivo, photo())
    row = Picture.objects.get()
    file = Path(row.file.path)
    consented.withdrawn_on = timezone.localdate()
    consented.save()
    signed_in("cato").post(f"/athletes/{ivo.pk}/pictures/{row.uid}/remove/")
    assert not file.exists()
    assert not Picture.objects.exists()


def files_of_pictures() -> list[str]:
    return default_storage.listdir("pictures")[1] if default_storage.exists("pictures") else []


def test_a_full_disk_leaves_no_half_file_and_says_so(cast, signed_in, monkeypatch):
    before = files_of_pictures()

    def half(self, name, content):
        Path(self.path(name)).parent.mkdir(parents=True, exist_ok=True)
        Path(self.path(name)).write_bytes(b"half")
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(FileSystemStorage, "_save", half)
    answer = upload(signed_in("ada"), cast.athletes["ada"], photo())
    assert answer.status_code == 200 and "could not write the picture" in answer.content.decode()
    assert files_of_pictures() == before and not Picture.objects.exists()


def test_a_row_that_cannot_be_written_leaves_no_file(cast, monkeypatch):
    before = files_of_pictures()

    def refuse(*args, **more):
        raise RuntimeError("no trail")

    monkeypatch.setattr(keep, "record", refuse)
    with pytest.raises(RuntimeError):
        keep.add_picture(cast.athletes["ada"], photo(), cast.ada, taken_on=TODAY)
    assert files_of_pictures() == before and not Picture.objects.exists()


def test_groups_under_five_are_left_out():
    assert suppress_small_groups({"57 kg juniors": 1, "83 kg": 5}) == {"83 kg": 5}
    assert suppress_small_groups({"a": ["x"] * 4, "b": ["x"] * 5}) == {"b": ["x"] * 5}
    assert suppress_small_groups({"a": 3}, least=3) == {"a": 3}


@pytest.mark.parametrize(("bytes_left", "pixels_left", "taken"), [(0, 0, True), (-1, 0, False), (0, -1, False)])
def test_a_picture_of_just_so_many_bytes_and_pixels_is_taken(monkeypatch, bytes_left, pixels_left, taken):
    sent = photo()
    width, height = Image.open(BytesIO(sent)).size
    monkeypatch.setattr(keep, "MAX_BYTES", len(sent) + bytes_left)
    monkeypatch.setattr(keep, "MAX_PIXELS", width * height + pixels_left)
    file = SimpleUploadedFile("p.jpg", sent)
    if taken:
        assert keep.clean_picture(file)[:2] == b"\xff\xd8"
    else:
        with pytest.raises(ValidationError, match="at most"):
            keep.clean_picture(file)
