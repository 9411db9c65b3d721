"""Measured bodies for the leverage tests."""

from datetime import date

from athletes.models import Athlete, HealthNote, Measurement, MeasuringVisit
from athletes.models.choices import BodySite, HealthKind

FOUR = {"stature": 166.0, "sitting_height": 87.5, "arm_span": 168.0, "standing_grip_height": 72.0}


def measure(
    athlete: Athlete, day: date = date(2026, 3, 2), mass: float | None = 64.0, **values: float
) -> MeasuringVisit:
    """A visit with the four leading measures (or the given ones), each once, and a body mass."""
    visit = MeasuringVisit.objects.create(athlete=athlete, day=day)
    wanted = (values or FOUR) | ({} if mass is None else {"mass": mass})
    for key, value in wanted.items():
        unit = "kg" if key == "mass" else "cm"
        Measurement.objects.create(visit=visit, key=key, typed=f"{value:g}", unit=unit, value=value)
    return visit


def back_pain(athlete: Athlete) -> HealthNote:
    """A pain note at the lower back that has ended."""
    return HealthNote.objects.create(
        athlete=athlete,
        kind=HealthKind.PAIN,
        site=BodySite.LOWER_BACK,
        noted_on=date(2025, 5, 1),
        ended_on=date(2025, 6, 1),
    )
