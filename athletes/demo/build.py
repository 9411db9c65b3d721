"""Puts the two invented clubs into the database, in one transaction and in bulk."""

import uuid
from datetime import date, timedelta
from random import Random

from django.contrib.auth.hashers import make_password
from django.db import transaction

from athletes.demo.bodies import readings_of, visits_of
from athletes.demo.decisions import add_meets, decision_of, trial_of
from athletes.demo.lifters import PEOPLE, Lifter
from athletes.demo.meetings import consent_of, first_meeting_of, health_notes_of, postures_of, style_records_of
from athletes.demo.tonight import plan_tonight
from athletes.demo.training import Log, write_log
from athletes.models import (
    Athlete,
    Bar,
    Club,
    FirstMeeting,
    GuardianConsent,
    HealthNote,
    LiftSet,
    Measurement,
    MeasuringVisit,
    Membership,
    Posture,
    StyleRecord,
    TrainingDay,
    Trial,
    User,
)
from athletes.models.choices import Role

DEMO_PASSWORD = "chalk-on-both-hands"  # noqa: S105 - printed on purpose; refused outside debug on localhost
SEED = 2026_11_25
BARS = {
    "stiff": ("Rack 1 stiff bar", "stiff", 29.0, 1.31, "sharp"),
    "training": ("Training bar", "training", 28.0, 1.31, "medium"),
    "deadlift": ("Long deadlift bar", "flexible", 27.0, 1.42, "sharp"),
    "squat": ("Squat bar", "squat-bar", 32.0, 1.35, "medium"),
}


def demo_clubs() -> list[Club]:
    """The clubs of the demo: those of its names that a demo log-in owns, so that no other club is taken for one."""
    owned = Club.objects.filter(memberships__user__is_demo=True, memberships__role=Role.OWNER)
    return list(owned.filter(name__in=PEOPLE).distinct().order_by("pk"))


def demo_log_ins() -> list[tuple[str, str, str]]:
    """Club, role and e-mail of every demo log-in."""
    rows = Membership.objects.filter(user__is_demo=True).select_related("user", "club").order_by("club_id", "pk")
    return [(m.club.name, m.get_role_display(), m.user.email) for m in rows]


def remove_demo() -> None:
    for club in demo_clubs():
        Trial.objects.filter(athlete__club=club).delete()
        club.delete()
    User.objects.filter(is_demo=True).delete()


@transaction.atomic
def build_demo(today: date) -> None:
    """Both clubs with people, bodies, logs, trials and meets; the same rows for the same day."""
    hashed = make_password(DEMO_PASSWORD)
    for number, (name, (lifters, staff, short)) in enumerate(PEOPLE.items()):
        rng = Random(SEED + number)  # noqa: S311 - invented data, nothing secret
        build_club(name, lifters, staff, short, hashed, today, rng)


def build_club(
    name: str, lifters: tuple[Lifter, ...], staff: dict[str, str], short: str, hashed: str, today: date, rng: Random
) -> None:
    club = Club.objects.create(name=name, timezone="UTC")
    users = {role: demo_user(club, role, full, short, hashed) for role, full in staff.items()}
    bars = {
        key: Bar(club=club, name=n, kind=k, diameter_mm=d, span_m=s, knurl=f) for key, (n, k, d, s, f) in BARS.items()
    }
    Bar.objects.bulk_create(bars.values())
    athletes = [athlete_of(lifter, club, users, staff["athlete"], today, rng) for lifter in lifters]
    Athlete.objects.bulk_create(athletes)
    pairs = list(zip(lifters, athletes, strict=True))
    add_meetings(pairs, users["coach"], today)
    add_bodies(pairs, users["coach"], today, rng)
    add_training(pairs, users, bars, today, rng)
    add_meets(club, [p for p in pairs if p[0].story in {"back", "steady", "hips", "meet-near"}], today)
    plan_tonight(pairs, bars["stiff"], users["coach"], today)


def demo_user(club: Club, role: str, full_name: str, short: str, hashed: str) -> User:
    first, last = full_name.split(" ", 1)
    email = f"{role}@{short}.example"
    user = User.objects.create(
        username=email, email=email, first_name=first, last_name=last, password=hashed, is_demo=True
    )
    Membership.objects.create(club=club, user=user, role=role)
    return user


def athlete_of(lifter: Lifter, club: Club, users: dict[str, User], log_in: str, today: date, rng: Random) -> Athlete:
    """An athlete whose birthday lies some months back, so that the age holds for a while."""
    birthday = today - timedelta(days=40 + rng.randrange(250))
    return Athlete(
        uid=uuid.UUID(int=rng.getrandbits(128), version=4),
        club=club,
        user=users["athlete"] if lifter.name == log_in else None,
        coach=users["coach"],
        name=lifter.name,
        sex=lifter.sex,
        pronoun={"f": "she", "m": "he"}[lifter.sex],  # invented people; nobody's is guessed
        born=birthday.replace(year=birthday.year - lifter.age, day=min(birthday.day, 28)),
        standing=lifter.standing,
        weight_unit=lifter.unit,
    )


def add_meetings(pairs: list[tuple[Lifter, Athlete]], coach: User, today: date) -> None:
    FirstMeeting.objects.bulk_create(first_meeting_of(lifter, a, coach, today) for lifter, a in pairs)
    StyleRecord.objects.bulk_create(r for lifter, a in pairs for r in style_records_of(lifter, a, today))
    HealthNote.objects.bulk_create(n for lifter, a in pairs for n in health_notes_of(lifter, a, coach, today))
    Posture.objects.bulk_create(p for lifter, a in pairs for p in postures_of(lifter, a, coach, today))
    GuardianConsent.objects.bulk_create(c for lifter, a in pairs for c in consent_of(lifter, a, coach, today))


def add_bodies(pairs: list[tuple[Lifter, Athlete]], coach: User, today: date, rng: Random) -> None:
    visits = [(lifter, v) for lifter, a in pairs for v in visits_of(lifter, a, coach, today)]
    MeasuringVisit.objects.bulk_create(v for _, v in visits)
    Measurement.objects.bulk_create(m for lifter, v in visits for m in readings_of(lifter, v, today, rng))


def add_training(
    pairs: list[tuple[Lifter, Athlete]], users: dict[str, User], bars: dict[str, Bar], today: date, rng: Random
) -> None:
    sets: list[LiftSet] = []
    days: list[TrainingDay] = []
    for lifter, athlete in pairs:
        trial = trial_of(lifter, athlete, users["coach"], today)
        if trial is not None:
            trial.save()
        written = write_log(Log(lifter, athlete, bars, users["staff"], rng, trial), today)
        sets += written
        days += day_notes(lifter, athlete, sorted({s.day for s in written}), rng)
        decision = decision_of(lifter, trial, users["coach"]) if trial else None
        if decision is not None:
            decision.save()
    LiftSet.objects.bulk_create(sets, batch_size=2000)
    TrainingDay.objects.bulk_create(days, batch_size=2000)


def day_notes(lifter: Lifter, athlete: Athlete, days: list[date], rng: Random) -> list[TrainingDay]:
    """Soreness and sleep on about a third of the days; more soreness where the back is the story."""
    sore_back = lifter.story in {"back", "returning", "sore-back"} or (lifter.story == "adopted" and rng.random() < 0.5)
    notes = []
    for day in days:
        if rng.random() > 0.34:
            continue
        level = 6 if lifter.story == "sore-back" else 4 if sore_back else 2
        soreness = min(max(round(rng.gauss(level, 1.3)), 0), 8)
        notes.append(
            TrainingDay(
                athlete=athlete,
                day=day,
                soreness=soreness,
                soreness_site="lower-back" if sore_back else rng.choice(["glute", "hamstring", "lower-back"]),
                sleep_hours=round(rng.gauss(7.2, 0.8) * 2) / 2,
                energy=min(max(round(rng.gauss(6, 1.5)), 1), 10),
            )
        )
    return notes
