"""Measured bodies of the invented lifters: visits with two repeats each, from stature and shares of stature."""

from datetime import date, timedelta
from random import Random

from athletes.demo.lifters import Lifter
from athletes.models import Athlete, Measurement, MeasuringVisit, User
from athletes.schema.measurements import MeasureKey as Key
from athletes.schema.measurements import keys_of_group, measurement

LANDMARKS = (
    Key.ACROMIAL_HEIGHT,
    Key.TROCHANTERION_HEIGHT,
    Key.TIBIALE_HEIGHT,
    Key.LATERAL_MALLEOLUS_HEIGHT,
    Key.BIACROMIAL_BREADTH,
    Key.FOOT_LENGTH,
)


def true_length(lifter: Lifter, key: str, stature: float) -> float:
    """The length in cm that this build has, before any error of measuring."""
    if key == Key.STATURE:
        return stature
    share = measurement(key).shares[lifter.sex]
    spreads = {Key.SITTING_HEIGHT: lifter.sit, Key.ARM_SPAN: lifter.span, Key.STANDING_GRIP_HEIGHT: lifter.grip_z}
    return stature * (share.mean + spreads.get(Key(key), lifter.span * 0.3) * share.sd)


def visit_days(lifter: Lifter, today: date) -> list[date]:
    """Oldest first; one minor was last measured five months ago, which is stale."""
    last = 150 if lifter.name == "Jonas Wickery" else 24
    return [today - timedelta(days=last + 190 * back) for back in reversed(range(lifter.visits))]


def visits_of(lifter: Lifter, athlete: Athlete, by: User, today: date) -> list[MeasuringVisit]:
    minor = lifter.standing == "under-18"
    return [
        MeasuringVisit(
            athlete=athlete,
            day=day,
            measured_by=by,
            landmarks_consent=lifter.landmarks,
            chaperone="a parent was present" if minor else "",
        )
        for day in visit_days(lifter, today)
    ]


def readings_of(lifter: Lifter, visit: MeasuringVisit, today: date, rng: Random) -> list[Measurement]:
    """Two repeats of the lead measures, landmarks for those who wanted them, body mass once."""
    grown = (today - visit.day).days / 365 * 4.0 if lifter.standing == "under-18" else 0.0
    keys = keys_of_group("lead") + (LANDMARKS if lifter.landmarks else ())
    rows = []
    for key in keys:
        length = true_length(lifter, key, lifter.stature - grown)
        for repeat in (1, 2):
            value = round(length * (1 + rng.gauss(0, 0.0025)), 1)
            rows.append(Measurement(visit=visit, key=key, repeat=repeat, typed=str(value), unit="cm", value=value))
    mass = round(lifter.mass * (1 - grown / 60) + rng.gauss(0, 0.6), 1)
    rows.append(Measurement(visit=visit, key=Key.MASS, repeat=1, typed=str(mass), unit="kg", value=mass))
    return rows
