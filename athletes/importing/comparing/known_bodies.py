"""What is known of the bodies in a club before a file is read, to hold its lengths against."""

from datetime import date

from django.utils.crypto import salted_hmac

from athletes.measuring.stale import is_minor
from athletes.models import Athlete, Club, Measurement
from athletes.reader.plan import Body
from athletes.schema.measurements import MeasureKey as Key


def bodies_of(club: Club, today: date) -> dict[int, Body]:
    """Every athlete's body as it was last measured; no body mass is among it."""
    lengths: dict[int, dict[str, float]] = {}
    rows = Measurement.objects.filter(visit__athlete__club=club, repeat=1).exclude(key=Key.MASS)
    for athlete, key, value in rows.order_by("visit__day", "visit_id").values_list("visit__athlete", "key", "value"):
        lengths.setdefault(athlete, {})[key] = value
    athletes = Athlete.objects.filter(club=club)
    return {a.pk: Body(a.sex, is_minor(a, today), lengths.get(a.pk, {})) for a in athletes}


def token(*parts: object) -> str:
    """A name for a reading that does not tell it: the same reading has the same name, nobody can read it back."""
    return salted_hmac("athletes.transfer.measures", "|".join(map(str, parts))).hexdigest()[:12]
