"""One of each thing that an address can name, in each of the two clubs of the cast."""

from datetime import date, timedelta
from uuid import uuid4

from django.core.files.base import ContentFile
from django.db.models import Model
from django.utils import timezone

from athletes import models
from athletes.models.choices import Role
from tests.cast import Cast

DAY = date(2026, 11, 20)


def make_world(cast: Cast) -> dict[str, dict[str, object]]:
    """Samples by club: "own" is Quarry Hall with Ada Fell, "other" is Harbour Rack with Hugo Vale."""
    return {
        "own": things_of(cast.quarry, cast.athletes["ada"], cast.ona, cast.ada),
        "other": things_of(cast.harbour, cast.athletes["hugo"], cast.olga, cast.hugo),
    }


def make(model: str, **values: object) -> Model:
    return getattr(models, model).objects.create(**values)


def prepared(club: models.Club, athlete: models.Athlete, asker: models.User) -> models.PreparedFile:
    row = models.PreparedFile(club=club, athlete=athlete, asked_by=asker, kind="athlete-sets", name="lifts.csv")
    row.state = "ready"
    row.file.save("lifts.csv", ContentFile(b"date,lifter"), save=True)
    return row


def things_of(
    club: models.Club, athlete: models.Athlete, owner: models.User, athlete_user: models.User
) -> dict[str, object]:
    meet = make("Meet", club=club, name="Autumn meet", day=DAY + timedelta(days=60))
    entry = make("MeetEntry", meet=meet, athlete=athlete)
    trial = make(
        "Trial",
        athlete=athlete,
        new_style="sumo",
        old_style="conventional",
        started_on=DAY,
        decide_on=DAY + timedelta(days=84),
    )
    batch = make("ImportBatch", club=club, file_name="old-log.csv", author=owner)
    picture = models.Picture(athlete=athlete, taken_on=DAY)
    picture.file.save("lift.jpg", ContentFile(b"not read here"), save=False)
    picture.save()
    lift = make("LiftSet", athlete=athlete, day=DAY, load_typed="100", load_unit="kg", load_kg=100.0)
    samples = {
        "athlete": athlete,
        "club": club,
        "set": lift,
        "set_uid": lift.uid,
        "taken_back": make(
            "AuditEntry",
            athlete=athlete,
            club=club,
            action="taken back",
            target="lift set 1",
            before={"uid": str(uuid4()), "day": str(DAY), "load_typed": "90", "load_unit": "kg", "load_kg": 90.0},
        ),
        "visit": make("MeasuringVisit", athlete=athlete, day=DAY),
        "posture": make("Posture", athlete=athlete, style="sumo", day=DAY, source="tape", heels_cm=60.0),
        "note": make("HealthNote", athlete=athlete, kind="pain", site="hip", noted_on=DAY),
        "plan": make("PlanItem", athlete=athlete, day=DAY),
        "bar": make("Bar", club=club, name="Old stiff", kind="stiff"),
        "meet": meet,
        "entry": entry,
        "attempt": make("Attempt", entry=entry, number=1, load_typed="100", load_kg=100.0),
        "trial": trial,
        "decision": make("Decision", athlete=athlete, on=DAY, reasons="Because."),
        "batch": batch,
        "import_row": make("ImportRow", batch=batch, number=1, raw=["100 x 5"], status="ok"),
        "picture": picture.uid,
        "consent": make("GuardianConsent", athlete=athlete, guardian="A. Guardian", given_on=DAY, covers_pictures=True),
        "membership": models.Membership.objects.get(club=club, user=athlete_user),
        "invitation": make(
            "Invitation",
            club=club,
            role=Role.STAFF,
            email="new@example.test",
            token_hash=f"{club.pk:064d}",
            expires=timezone.now() + timedelta(days=3),
        ),
        "file": prepared(club, athlete, owner).uid,
        "session": make("SignInSession", user=athlete_user, session_key=f"sample-{club.pk}").uid,
    }
    return {name: getattr(thing, "pk", thing) for name, thing in samples.items()}
