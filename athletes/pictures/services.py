"""Pictures of lifts: read with a well-kept library, written anew without anything the camera added."""

from datetime import date
from io import BytesIO
from uuid import uuid4

from django.core.exceptions import ValidationError
from django.core.files.base import ContentFile
from django.core.files.uploadedfile import UploadedFile
from django.db import transaction
from django.utils import timezone
from PIL import Image, ImageOps

from athletes.access.audit import fields_of, record
from athletes.models import Athlete, GuardianConsent, Picture, User

MAX_BYTES = 12 * 1024 * 1024
MAX_PIXELS = 40_000_000
LONGEST_SIDE = 2000
FORMATS = ("JPEG", "PNG", "WEBP")


def clean_picture(upload: UploadedFile) -> bytes:
    """The picture as a fresh JPEG: turned upright, at most 2000 px, no place, time, camera or thumbnail in it.

    Raises ValidationError with a sentence for the person who chose the file.
    """
    if upload.size is not None and upload.size > MAX_BYTES:
        raise ValidationError(f"The file is {upload.size / 1e6:.0f} MB; at most {MAX_BYTES / 1e6:.0f} MB are taken.")
    try:
        with Image.open(upload, formats=FORMATS) as image:
            width, height = image.size
            if width * height > MAX_PIXELS:
                raise ValidationError(f"The picture has {width} x {height} pixels; at most 40 million are taken.")
            image.verify()
        upload.seek(0)
        with Image.open(upload, formats=FORMATS) as image:
            return _written_anew(image)
    except (OSError, SyntaxError, ValueError, Image.DecompressionBombError) as refused:
        raise ValidationError("This file is not a whole JPEG, PNG or WebP picture.") from refused


def _written_anew(image: Image.Image) -> bytes:
    upright = ImageOps.exif_transpose(image).convert("RGB")
    upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    bare = Image.new("RGB", upright.size)
    bare.paste(upright)
    out = BytesIO()
    bare.save(out, "JPEG", quality=85, optimize=True)
    return out.getvalue()


def add_picture(athlete: Athlete, jpeg: bytes, by: User, **about: object) -> Picture:
    """The stored picture, its file under a random name.

    When the file or its row cannot be written, neither remains and the error goes on to the caller: a full disk leaves
    half a file behind, which no row names and nobody would ever delete.
    """
    row = Picture(athlete=athlete, added_by=by, **about)
    storage, name = row.file.storage, row.file.field.generate_filename(row, f"{uuid4().hex}.jpg")
    try:
        with transaction.atomic():
            row.file = storage.save(name, ContentFile(jpeg))
            row.save()
            record(by, "added", row, athlete=athlete)
    except BaseException:
        storage.delete(name)
        raise
    return row


def delete_picture(row: Picture, by: User | None) -> None:
    with transaction.atomic():
        record(by, "deleted", row, athlete=row.athlete)
        storage, name = row.file.storage, row.file.name
        row.delete()
        if name:
            transaction.on_commit(lambda: storage.delete(name))


def delete_pictures(athlete: Athlete, by: User | None) -> None:
    for row in athlete.pictures.all():
        delete_picture(row, by)


def set_marks(row: Picture, marks: dict[str, list[float]], by: User) -> None:
    """Keep the marks; each is [x, y] as shares of width and height from the upper left corner.

    `size` beside them is [width, height] in pixels, so that shares across and down can be compared.
    """
    with transaction.atomic():
        before = {"marks": row.marks}
        row.marks = marks | {"size": [row.file.width, row.file.height]} if marks else {}
        row.save(update_fields=["marks"])
        record(by, "corrected", row, before, {"marks": row.marks}, athlete=row.athlete)


def give_consent(
    athlete: Athlete, guardian: str, given_on: date, covers_pictures: bool, by: User | None
) -> GuardianConsent:
    with transaction.atomic():
        row = GuardianConsent.objects.create(
            athlete=athlete, guardian=guardian, given_on=given_on, covers_pictures=covers_pictures, recorded_by=by
        )
        record(by, "consent given", row, after=fields_of(row), athlete=athlete)
    return row


def withdraw_consent(row: GuardianConsent, pictures_go: bool, by: User | None) -> None:
    """Withdraw as of today; pictures are hidden by it at once, and deleted when `pictures_go`."""
    with transaction.atomic():
        before = fields_of(row)
        row.withdrawn_on = max(timezone.localdate(), row.given_on)
        row.save(update_fields=["withdrawn_on"])
        record(by, "consent withdrawn", row, before, fields_of(row), athlete=row.athlete)
        if pictures_go:
            delete_pictures(row.athlete, by)
