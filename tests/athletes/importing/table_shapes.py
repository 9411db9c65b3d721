"""What was read of a table, for the tests of its shapes."""

from athletes.models import Athlete
from tests.athletes.importing.import_steps import outcome, sets_in

HEAD = "date,lifter,lift,weight,unit,reps\n"


ROW = "2026-03-04,Ada Fell,sumo,180,kg,3\n"


LONG = "date;lifter;lift;load (kg);sets;reps;rpe;result\n"


def ada(club) -> Athlete:
    return club.athletes["ada"]


def read(batch) -> list[tuple]:
    names = dict(Athlete.objects.values_list("pk", "name"))
    return [(names[s["athlete"]], s["day"], s["load_kg"], s["reps_made"]) for s in sets_in(batch)]


def standings(batch) -> list[str]:
    return [s for _, s, _ in outcome(batch)]
