"""The reading plan of an import, from what was found out, changed and answered."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

from django.utils import timezone

from athletes.importing.comparing.known_bodies import bodies_of, token
from athletes.models import Athlete, Bar, ImportBatch
from athletes.reader.headings import measures_in
from athletes.reader.names import People, Person
from athletes.reader.plan import Answers, ReadingPlan, date_ways


def answers_for(batch: ImportBatch) -> Answers:
    """Answers by question and subject; those about files with these headings count for this file."""
    columns = batch.options.get("signature", "")
    given = {}
    for key, value in dict(batch.options.get("answers", {})).items():
        question, _, subject = key.partition("|")
        given[f"{question}|file" if subject == columns else key] = value
    return given


def people_of(batch: ImportBatch) -> People:
    """The athletes whose sets may come in through this import."""
    rows = Athlete.objects.filter(club=batch.club).values_list("pk", "name", "weight_unit")
    return People.of(Person(*row) for row in rows)


def local_today(batch: ImportBatch) -> date:
    """Today where the club is."""
    now: datetime = timezone.now()
    return now.astimezone(ZoneInfo(batch.club.timezone)).date()


def plan_of(batch: ImportBatch) -> ReadingPlan:
    """How every line of this import is read."""
    options, answers = batch.options, answers_for(batch)
    bars = {name.casefold(): pk for pk, name in Bar.objects.filter(club=batch.club).values_list("pk", "name")}
    return ReadingPlan(
        headings=tuple(options["headings"]),
        mapping=tuple(options["mapping"]),
        units=tuple(options["units"]),
        people=people_of(batch),
        dates=date_ways(str(options.get("date_order", "")), answers, local_today(batch)),
        decimal=str(options.get("decimal", "")),
        unit_in_doubt=bool(options.get("unit_in_doubt")),
        athlete=batch.athlete_id,
        answers=answers,
        bars=bars,
        bodies=bodies_of(batch.club, local_today(batch)) if measures_in(options["mapping"]) else {},
        mass_in_doubt=bool(options.get("mass_in_doubt")),
        token=token,
    )
