"""Making a new athlete of a copy: every value is checked as if it were typed, all of it comes in or nothing."""

import uuid
from io import BytesIO
from typing import Any

from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import InMemoryUploadedFile
from django.db import DataError, IntegrityError, models, transaction

from athletes.access.audit import record
from athletes.access.visibility import pictures_allowed
from athletes.exporting import shape
from athletes.exporting.archive_reader import Copy
from athletes.models import Athlete, Bar, Club, GuardianConsent, Meet, TrainingDay, User
from athletes.models.choices import BarKind, TrialStatus
from athletes.pictures.services import add_picture, clean_picture
from athletes.reader.notes import Refused

WHO = "athlete"


def take_copy(club: Club, actor: User, copy: Copy, agreed_by: str, guardian: str = "") -> tuple[Athlete, list[str]]:
    """A new athlete of the club with everything the copy holds; returns it and what was left out, with reasons.

    Nobody here is merged with: a person of the same name stays another person until somebody says otherwise.
    """
    left_out: list[str] = []
    try:
        with transaction.atomic():
            athlete = _athlete(club, actor, copy)
            if guardian:
                GuardianConsent.objects.create(
                    athlete=athlete, guardian=guardian, given_on=athlete.created.date(), recorded_by=actor
                )
            made = _rows(athlete, actor, copy)
            _meets(athlete, copy)
            left_out += _pictures(athlete, actor, copy, made)
            after = {"agreed by": agreed_by, "from": str(copy.data.get("club", ""))[:80]}
            record(actor, "copy taken in", athlete, after=after, athlete=athlete)
    except (IntegrityError, DataError):
        raise Refused("Two entries of the copy contradict one another, so nothing was taken in.") from None
    return athlete, left_out


def _athlete(club: Club, actor: User, copy: Copy) -> Athlete:
    known = copy.data[WHO]
    fields = [f for f in Athlete._meta.concrete_fields if f.name in shape.ATHLETE]
    athlete = Athlete(club=club, coach=actor, **_values(fields, known, WHO))
    _save(athlete, WHO)
    return athlete


def _values(fields: list[models.Field], given: dict[str, Any], where: str) -> dict[str, Any]:
    found = {}
    for field in fields:
        if field.name in given and field.name != "uid":
            try:
                found[field.name] = field.to_python(given[field.name])
            except (ValidationError, TypeError, ValueError, OverflowError):
                raise Refused(
                    f"{where}: “{field.name}” is {str(given[field.name])[:40]}, which it cannot be."
                ) from None
    return found


def _save(row: models.Model, where: str) -> None:
    try:
        row.full_clean()
    except ValidationError as problem:
        name, said = next(iter(problem.message_dict.items()))
        raise Refused(f"{where}: {name.replace('_', ' ')}: {said[0]}") from None
    row.save()


def _rows(athlete: Athlete, actor: User, copy: Copy) -> dict[str, models.Model]:
    """Every list of the copy; returns the sets by the id they had."""
    if isinstance(copy.data.get("first_meeting"), dict):
        _one(shape.FirstMeeting, copy.data["first_meeting"], "first meeting", athlete=athlete, updated_by=actor)
    for at, given in enumerate(copy.rows("consents"), 1):
        _one(
            GuardianConsent,
            given | {"covers_pictures": False},
            f"consents, entry {at}",
            athlete=athlete,
            recorded_by=actor,
        )
    trials: list[models.Model] = []
    sets: dict[str, models.Model] = {}
    for name, model in shape.LISTS.items():
        for at, given in enumerate(copy.rows(name), 1):
            links = _links(model, given, athlete, actor, trials)
            made = _one(model, given, f"{name}, entry {at}", athlete=athlete, **links)
            if name == "trials":
                trials.append(made)
            if name == "sets":
                sets[str(given.get("uid", ""))] = made
    _visits(athlete, actor, copy)
    return sets


def _links(
    model: type[models.Model], given: dict[str, Any], athlete: Athlete, actor: User, trials: list[models.Model]
) -> dict[str, Any]:
    names = {f.name for f in model._meta.concrete_fields}
    links: dict[str, Any] = {}
    place = given.get("trial")
    if "trial" in names and isinstance(place, int) and 0 <= place < len(trials):
        links["trial"] = trials[place]
    if "bar" in names and isinstance(given.get("bar"), dict):
        links["bar"] = _bar(athlete.club, given["bar"])
    if "author" in names:
        links["author"] = actor
    if "decided_by" in names:
        links["decided_by"] = actor
    if "uid" in names:
        links["uid"] = uuid.uuid4()
    return links


def _bar(club: Club, given: dict[str, Any]) -> Bar | None:
    name, kind = str(given.get("name") or "")[:40].strip(), given.get("kind")
    if not name:
        return None
    return Bar.objects.get_or_create(
        club=club, name=name, defaults={"kind": kind if kind in BarKind.values else BarKind.UNKNOWN}
    )[0]


def _one(model: type[models.Model], given: dict[str, Any], where: str, **links: Any) -> models.Model:
    values = _values(shape.own_fields(model), given, where)
    if model is TrainingDay and not values.get("day"):
        raise Refused(f"{where}: no day.")
    row = model(**values | links)
    if (
        getattr(row, "status", None) == TrialStatus.RUNNING
        and links["athlete"].trials.filter(status=TrialStatus.RUNNING).exists()
    ):
        raise Refused(f"{where}: a second running trial.")
    _save(row, where)
    return row


def _visits(athlete: Athlete, actor: User, copy: Copy) -> None:
    for at, given in enumerate(copy.rows("visits"), 1):
        where = f"visits, entry {at}"
        visit = _one(shape.MeasuringVisit, given, where, athlete=athlete, measured_by=actor)
        for number, reading in enumerate(given.get("measurements") or [], 1):
            if not isinstance(reading, dict):
                raise Refused(f"{where}: reading {number} is no entry.")
            _one(shape.Measurement, reading, f"{where}, reading {number}", visit=visit)


def _meets(athlete: Athlete, copy: Copy) -> None:
    for at, given in enumerate(copy.rows("meets"), 1):
        where = f"meets, entry {at}"
        fields = [f for f in Meet._meta.concrete_fields if f.name in ("name", "day", "bar_kind")]
        values = _values(fields, given, where)
        meet = Meet.objects.filter(club=athlete.club, name=values.get("name", ""), day__in=[values.get("day")]).first()
        if meet is None:
            meet = Meet(club=athlete.club, **values)
            _save(meet, where)
        entry = given.get("entry")
        made = _one(shape.MeetEntry, entry if isinstance(entry, dict) else {}, where, meet=meet, athlete=athlete)
        for number, attempt in enumerate(given.get("attempts") or [], 1):
            if not isinstance(attempt, dict):
                raise Refused(f"{where}: attempt {number} is no entry.")
            _one(shape.Attempt, attempt, f"{where}, attempt {number}", entry=made)


def _pictures(athlete: Athlete, actor: User, copy: Copy, sets: dict[str, models.Model]) -> list[str]:
    listed = copy.rows("pictures")
    if listed and not pictures_allowed(athlete):
        return [f"{len(listed)} pictures stay out: a guardian's consent for pictures has to be given here first."]
    left_out = []
    for at, given in enumerate(listed, 1):
        name = str(given.get("file", ""))
        held = copy.picture(name)
        if held is None:
            left_out.append(f"picture {at} is not in the ZIP file")
            continue
        upload = InMemoryUploadedFile(BytesIO(held), "file", "picture.jpg", "image/jpeg", len(held), None)
        try:
            jpeg = clean_picture(upload)
        except ValidationError as problem:
            left_out.append(f"picture {at}: {problem.messages[0]}")
            continue
        fields = [
            f for f in athlete.pictures.model._meta.concrete_fields if f.name in ("taken_on", "style", "marks", "note")
        ]
        about = _values(fields, given, f"pictures, entry {at}")
        if not about.get("taken_on"):
            raise Refused(f"pictures, entry {at}: no date.")
        add_picture(athlete, jpeg, actor, lift_set=sets.get(str(given.get("set"))), **about)
    return left_out
