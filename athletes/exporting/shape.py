"""Which columns of which tables are in an athlete's copy, under plain names; docs/formats.md describes the same."""

from functools import cache

from django.core.serializers.json import DjangoJSONEncoder
from django.db import models

from athletes.models import (
    Attempt,
    Decision,
    FirstMeeting,
    GuardianConsent,
    HealthNote,
    LiftSet,
    Measurement,
    MeasuringVisit,
    MeetEntry,
    Posture,
    StyleRecord,
    TrainingDay,
    Trial,
)

FORMAT, VERSION = "stancebook athlete", 1
NOT_KEPT = {"id", "created", "changed", "updated"}
ATHLETE = ("name", "pronoun", "sex", "born", "born_year_only", "standing", "weight_unit", "hide_mass_from_athlete")
LISTS: dict[str, type[models.Model]] = {
    "styles": StyleRecord,
    "trials": Trial,
    "sets": LiftSet,
    "days": TrainingDay,
    "health_notes": HealthNote,
    "decisions": Decision,
    "postures": Posture,
}


@cache
def own_fields(model: type[models.Model]) -> list[models.Field]:
    """The columns of a table that hold values of its own, no links to other rows."""
    return [f for f in model._meta.concrete_fields if not f.is_relation and f.name not in NOT_KEPT]


def plain(row: models.Model, fields: list[models.Field] | None = None) -> dict[str, object]:
    """A row's own values as JSON holds them."""
    chosen = fields if fields is not None else own_fields(type(row))
    return {f.name: f.value_from_object(row) for f in chosen}


__all__ = [
    "ATHLETE", "FORMAT", "LISTS", "VERSION", "Attempt", "DjangoJSONEncoder", "FirstMeeting", "GuardianConsent",
    "Measurement", "MeasuringVisit", "MeetEntry", "own_fields", "plain",
]  # fmt: skip
