"""People of a roster added at once: each with their body mass and stature as a first visit."""

from datetime import date

from django.db import transaction

from athletes.measuring.services import NewReading, save_visit
from athletes.models import Athlete, Club, MeasuringVisit, User
from athletes.models.choices import Standing
from athletes.people.forms import coaches_of
from athletes.people.services import save_athlete
from athletes.schema.measurements import MeasureKey
from athletes.schema.names import name_key
from athletes.start.roster import Entry, Reader
from athletes.units.lengths import Reading


def reader_for(club: Club, user: User, today: date) -> Reader:
    """A reader that knows the club's coaches, by name and by address, and everybody who is here."""
    coaches: dict[str, User] = {}
    for coach in coaches_of([club.pk]):
        coaches |= {name_key(str(coach)): coach, name_key(coach.email): coach, name_key(coach.first_name): coach}
    here = frozenset(club.athletes.values_list("name_key", flat=True))
    return Reader(
        today, {key: coach for key, coach in coaches.items() if key}, here, user.weight_unit, user.length_unit
    )


@transaction.atomic
def add_people(club: Club, user: User, entries: list[Entry], coach: User | None, day: date) -> list[Athlete]:
    """Add everybody whose line is clear and new, all or nobody; `coach` for lines that name none.

    Nobody's standing is known from a roster: all begin as beginners, or under 18 by their birth date.
    """
    added = []
    for entry in entries:
        if not entry.is_new:
            continue
        athlete = save_athlete(
            user,
            Athlete(
                club=club, name=entry.name, sex=entry.sex, born=entry.born, born_year_only=entry.year_only,
                coach=entry.coach or coach, weight_unit=user.weight_unit, standing=Standing.BEGINNER,
            ),
        )  # fmt: skip
        measured = [(MeasureKey.MASS, entry.mass), (MeasureKey.STATURE, entry.stature)]
        readings = [stored(key, one) for key, one in measured if one is not None]
        if readings:
            save_visit(user, athlete, MeasuringVisit(day=day, note="from the roster"), readings)
        added.append(athlete)
    return added


def stored(key: MeasureKey, reading: Reading) -> NewReading:
    """A reading as the measuring sheet stores it."""
    if reading.value is None:
        raise ValueError("a reading without a value is a question, not a measurement")
    return NewReading(str(key), 1, reading.typed, reading.unit, reading.value)
