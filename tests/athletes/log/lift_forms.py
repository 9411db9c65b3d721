"""Sets and what a browser sends to the pages of the lift log."""

from datetime import date

from django.urls import reverse

from athletes.log.forms import LiftForm
from athletes.models import LiftSet

DAY = date(2026, 11, 20)


PLAIN = {
    "day": "2026-11-20",
    "lift": "deadlift",
    "load_typed": "180",
    "load_unit": "kg",
    "reps_tried": "3",
    "result": "made",
}


def a_set(athlete, **fields) -> LiftSet:
    load = fields.pop("load", 180.0)
    given = {"day": DAY, "load_typed": f"{load:g}", "load_unit": "kg", "load_kg": load, "style": "sumo", **fields}
    return LiftSet.objects.create(athlete=athlete, **given)


def post(client, athlete, **changes):
    return client.post(reverse("lift-new", args=[athlete.pk]), {**PLAIN, **changes})


def as_posted(row: LiftSet, **changes) -> dict[str, str]:
    """What the browser sends when the correction form is kept as it came."""
    form = LiftForm(athlete=row.athlete, instance=row)
    values = {name: form[name].value() for name in form.fields}
    values = {k: (v.isoformat() if isinstance(v, date) else v) for k, v in values.items() if v not in (None, False, "")}
    return {**{k: "on" if v is True else str(v) for k, v in values.items()}, **changes}
