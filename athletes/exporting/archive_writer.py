"""Writing an athlete's copy: one JSON file with everything, the sets once more as a table, and the pictures."""

import json
import tempfile
import zipfile
from typing import IO, Any

from django.utils import timezone

from athletes.exporting import shape
from athletes.exporting.csv_writer import table
from athletes.models import Athlete, Picture
from athletes.models.choices import MeasureKey

ABOUT = """This is a copy of everything kept about {name} at {club}, made on {day}.

athlete.json   everything, with plain names; the club's handbook of formats explains each
lifts.csv      the sets once more, as a table for a spreadsheet
pictures/      pictures of lifts, if there are any

It holds private things: body mass, health notes. Pass it on only with the athlete's consent.
"""


def write_copy(athlete: Athlete, with_mass: bool) -> IO[bytes]:
    """The copy as an open temporary file, at its beginning; without body mass for athletes who asked not to see it."""
    file = tempfile.TemporaryFile()  # noqa: SIM115 - handed on open
    pictures = list(athlete.pictures.all())
    data = json.dumps(everything(athlete, with_mass), cls=shape.DjangoJSONEncoder, ensure_ascii=False, indent=1)
    day = timezone.localdate().isoformat()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("about.txt", ABOUT.format(name=athlete.name, club=athlete.club.name, day=day))
        packed.writestr("athlete.json", data)
        rows = athlete.sets.select_related("athlete", "bar").order_by("day", "order", "pk")
        packed.writestr("lifts.csv", "".join(table(rows.iterator(chunk_size=2_000))).encode())
        for picture in pictures:
            if picture.file and picture.file.storage.exists(str(picture.file.name)):
                with picture.file.open("rb") as source:
                    packed.writestr(f"pictures/{picture.uid}.jpg", source.read())
    file.seek(0)
    return file


def everything(athlete: Athlete, with_mass: bool) -> dict[str, Any]:
    """All rows about the athlete as plain values."""
    found: dict[str, Any] = {
        "format": shape.FORMAT,
        "version": shape.VERSION,
        "made_on": timezone.localdate(),
        "club": athlete.club.name,
        "athlete": {name: getattr(athlete, name) for name in shape.ATHLETE},
        "first_meeting": shape.plain(first) if (first := getattr(athlete, "first_meeting", None)) else None,
        "consents": [shape.plain(row) for row in athlete.consents.all()],
    }
    managers: dict[str, Any] = {"styles": athlete.style_records, "health_notes": athlete.health_notes}
    for name in shape.LISTS:
        manager = managers.get(name) or getattr(athlete, name)
        found[name] = [shape.plain(row) for row in manager.order_by("pk")]
    _link(athlete, found)
    found["visits"] = [
        shape.plain(visit) | {"measurements": [shape.plain(m) for m in visit.measurements.all()]}
        for visit in athlete.visits.prefetch_related("measurements").order_by("day", "pk")
    ]
    entries = athlete.meet_entries.select_related("meet").prefetch_related("attempts")
    found["meets"] = [_meet(entry) for entry in entries.order_by("meet__day", "pk")]
    if not with_mass:
        _without_mass(found)
    found["pictures"] = [_picture(p) for p in athlete.pictures.select_related("lift_set").order_by("pk")]
    return found


def _without_mass(found: dict[str, Any]) -> None:
    for day in found["days"]:
        day |= {"mass_typed": "", "mass_unit": "", "mass_kg": None}
    for visit in found["visits"]:
        visit["measurements"] = [m for m in visit["measurements"] if m["key"] != MeasureKey.MASS]
    for meet in found["meets"]:
        meet["entry"] |= {"mass_typed": "", "mass_kg": None, "official_mass_typed": "", "official_mass_kg": None}


def _link(athlete: Athlete, found: dict[str, Any]) -> None:
    """Say which trial a set or decision belongs to by its place in the list, and which bar by its name."""
    place = {pk: i for i, pk in enumerate(athlete.trials.order_by("pk").values_list("pk", flat=True))}
    sets = athlete.sets.order_by("pk").values_list("trial_id", "bar__name", "bar__kind")
    for kept, (trial, bar, kind) in zip(found["sets"], sets, strict=True):
        kept |= {"trial": place.get(trial), "bar": {"name": bar, "kind": kind} if bar else None}
    for kept, trial in zip(
        found["decisions"], athlete.decisions.order_by("pk").values_list("trial_id", flat=True), strict=True
    ):
        kept["trial"] = place.get(trial)


def _meet(entry: shape.MeetEntry) -> dict[str, Any]:
    meet = {"name": entry.meet.name, "day": entry.meet.day, "bar_kind": entry.meet.bar_kind}
    return meet | {"entry": shape.plain(entry), "attempts": [shape.plain(a) for a in entry.attempts.all()]}


def _picture(picture: Picture) -> dict[str, Any]:
    kept = shape.plain(picture)
    kept["file"] = f"pictures/{picture.uid}.jpg"
    return kept | {"set": str(picture.lift_set.uid) if picture.lift_set else None}
