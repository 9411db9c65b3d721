"""When a measurement no longer describes the body: bones of grown people keep, young people grow."""

from datetime import date, timedelta

from athletes.models import Athlete
from athletes.models.choices import Standing

ADULT_AGE = 18
YOUNG_KEEP = timedelta(days=92)  # three months; common practice, no source


def is_minor(athlete: Athlete, day: date) -> bool:
    """Under 18 by birth date; by the coach's standing when the birth date is not known."""
    age = athlete.age_on(day)
    return athlete.standing == Standing.UNDER_18 if age is None else age < ADULT_AGE


def is_stale(athlete: Athlete, measured: date, day: date) -> bool:
    """Whether a length measured then is too old to stand for the athlete now: only ever so for minors."""
    return is_minor(athlete, day) and day - measured > YOUNG_KEEP
