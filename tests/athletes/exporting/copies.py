"""Sets to export, copies to download and to send in."""

from datetime import date

from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from athletes.models import LiftSet


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


def taken(client, asked) -> bytes:
    """What a client gets that asked for a file (the answer to the asking is given)."""
    assert asked.status_code == 302, asked.status_code
    page = client.get(asked.url)
    assert page.status_code == 200 and b"is ready" in page.content
    return b"".join(client.get(f"{asked.url}file/").streaming_content)


def copy_of(client, athlete) -> bytes:
    return taken(client, client.post(reverse("export-athlete", args=[athlete.pk]), {"kind": "athlete-copy"}))


def table_of(client, athlete) -> str:
    return taken(client, client.post(reverse("export-athlete", args=[athlete.pk]), {"kind": "athlete-sets"})).decode()


def squad_table(client) -> str:
    return taken(client, client.post(reverse("export-squad"))).decode()


def send(client, content, **extra):
    data = {"file": SimpleUploadedFile("ada.zip", content), "agreed": "on", "agreed_by": "herself, by letter", **extra}
    return client.post(reverse("archive-import"), data)


def values(athlete) -> list[tuple]:
    left_out = {"id", "uid", "athlete_id", "author_id", "batch_id", "created", "changed"}
    names = [f.attname for f in LiftSet._meta.concrete_fields if f.attname not in left_out]
    return list(athlete.sets.order_by("day", "order", "pk").values_list(*names))
