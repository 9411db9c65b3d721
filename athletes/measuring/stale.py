"""When a measurement no longer describes the body: bones of grown people keep, young people grow."""

from datetime import date, timedelta

from django.db.models import Q

from athletes.models import Athlete, SettingOverride
from athletes.models.choices import Standing
from athletes.schema.measurements import YOUNG_KEEP_MONTHS, YOUNG_KEEP_SETTING
from athletes.schema.vocabulary import ADULT_AGE
from athletes.units.typed_lengths import IN_CM, cleaned, read_typed

YOUNG_KEEP = timedelta(days=30.4375 * YOUNG_KEEP_MONTHS)  # where no club or athlete has a number of their own


def is_minor(athlete: Athlete, day: date) -> bool:
    """Under 18 by birth date; by the coach's standing when the birth date is not known."""
    age = athlete.age_on(day)
    return athlete.standing == Standing.UNDER_18 if age is None else age < ADULT_AGE


def is_stale(athlete: Athlete, measured: date, day: date) -> bool:
    """Whether a length measured then is too old to stand for the athlete now: only ever so for minors."""
    return is_minor(athlete, day) and day - measured > timedelta(days=30.4375 * young_months(athlete))


def young_months(athlete: Athlete) -> float:
    """Months for which a minor's measurements hold: the athlete's own number, else the club's, else the usual one."""
    kept = vars(athlete)  # read once for each row of the athlete, not once a measurement
    if "_young_months" not in kept:
        rows = SettingOverride.objects.filter(club=athlete.club_id, key=YOUNG_KEEP_SETTING)
        rows = rows.filter(Q(athlete=None) | Q(athlete=athlete))
        own: dict[int | None, float] = {pk: float(value) for pk, value in rows.values_list("athlete_id", "value")}
        kept["_young_months"] = own.get(athlete.pk, own.get(None, float(YOUNG_KEEP_MONTHS)))
    months: float = kept["_young_months"]
    return months


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
