"""The stored profiles of the squad room: the row of the squad page, the own page and the state of a running trial."""

from __future__ import annotations

from django.db.models import Max, Q

from analysis.core.records.plain import to_plain
from analysis.core.squad.review import squad_row
from analysis.core.squad.summary import athlete_summary
from analysis.store.profiles import Payload, Sources
from analysis.trials.reading import picture_distances, running_trial, verdict_of
from athletes.models import MeasuringVisit


def compute_squad(sources: Sources) -> Payload:
    """The squad row of one athlete, from rows."""
    athlete, as_of = sources.athlete, sources.as_of
    trial = running_trial(athlete)
    built = Q(measurements__isnull=False) & ~Q(measurements__key="mass")
    measured = MeasuringVisit.objects.filter(built, athlete=athlete, day__lte=as_of).aggregate(on=Max("day"))["on"]
    row = squad_row(
        sources.lifter,
        as_of,
        sources.numbers,
        decide_on=trial.decide_on if trial else None,
        measured_on=measured,
    )
    return to_plain(row)


def compute_summary(sources: Sources) -> Payload:
    """The own page of one athlete, with the state of a running trial, from rows."""
    payload: Payload = to_plain(athlete_summary(sources.lifter, sources.as_of, sources.numbers))
    trial = running_trial(sources.athlete)
    judged = verdict_of(trial, sources.as_of, lifter=sources.lifter, numbers=sources.numbers) if trial else None
    payload["trial"] = to_plain(judged)
    return payload


def compute_trial(sources: Sources) -> Payload:
    """What the log and the marked pictures say of the running trial; both None where none runs."""
    trial, as_of = running_trial(sources.athlete), sources.as_of
    if trial is None:
        return {"trial": None, "verdict": None}
    hips = picture_distances(trial, as_of)
    verdict = verdict_of(trial, as_of, hips, lifter=sources.lifter, numbers=sources.numbers)
    return {"trial": trial.pk, "verdict": to_plain(verdict)}
