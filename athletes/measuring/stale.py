"""When a measurement no longer describes the body: bones of grown people keep, young people grow."""

from datetime import date, timedelta

from athletes.models import Athlete
from athletes.models.choices import Standing
from athletes.units.typed_lengths import IN_CM, cleaned, read_typed

ADULT_AGE = 18
YOUNG_KEEP = timedelta(days=92)  # three months; common practice, no source


def is_minor(athlete: Athlete, day: date) -> bool:
    """Under 18 by birth date; by the coach's standing when the birth date is not known."""
    age = athlete.age_on(day)
    return athlete.standing == Standing.UNDER_18 if age is None else age < ADULT_AGE


def is_stale(athlete: Athlete, measured: date, day: date) -> bool:
    """Whether a length measured then is too old to stand for the athlete now: only ever so for minors."""
    return is_minor(athlete, day) and day - measured > YOUNG_KEEP


NARROWEST, WIDEST = 10.0, 150.0  # cm, ankle to ankle; from memory


class UnreadableStance(ValueError):
    """What was typed cannot be read as a stance; the message says what and why."""


def parse_stance(
    text: str, unit: str, between: str = "from ankle to ankle", limits: tuple[float, float] = (NARROWEST, WIDEST)
) -> float:
    """The stance in cm; a unit typed behind the number counts before `unit`."""
    plain = cleaned(text)
    typed = read_typed(plain)
    if typed is None or not typed.sure or (typed.unit and typed.unit not in IN_CM):
        raise UnreadableStance(f"Stance “{plain}” is not one length; type a number such as 72 or 28 in.")
    unit = typed.unit or unit
    value, (narrowest, widest) = typed.number * IN_CM[unit], limits
    if not narrowest <= value <= widest:
        raise UnreadableStance(
            f"Stance “{plain}” is {value:.4g} cm, outside {narrowest:g} to {widest:g} cm {between}; "
            "check the number and unit."
        )
    return value
