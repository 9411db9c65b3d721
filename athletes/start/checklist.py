"""What a new club has still to do until a squad logs tonight; each step says where it is done."""

from dataclasses import dataclass

from django.db.models import Count, Q
from django.urls import reverse

from athletes.models import Club, LiftSet, PlanItem
from athletes.models.choices import Role
from athletes.schema.measurements import MeasureKey

LENGTHS = 4  # with stature and three more lengths every style is drawn to scale from the lifter's own build


@dataclass(frozen=True, slots=True)
class Step:
    """One step: what it is, how it stands, whether it is done, and the address that does it."""

    name: str
    told: str
    done: bool
    leads_to: str
    button: str


def steps_of(club: Club) -> list[Step]:
    """The steps of a club in the order in which they help; seven queries, whatever the squad."""
    people = club.athletes.filter(active=True)
    count = people.count()
    own = Count("visits__measurements__key", distinct=True, filter=~Q(visits__measurements__key=MeasureKey.MASS))
    measured = people.annotate(own=own).filter(own__gte=LENGTHS).count()
    logged = LiftSet.objects.filter(athlete__club=club).exists()
    planned = PlanItem.objects.filter(athlete__club=club).exists()
    bars = club.bars.count()
    staff = club.memberships.exclude(role__in=(Role.OWNER, Role.ATHLETE)).exists()
    first = people.order_by("name_key").first()
    measure = reverse("measure", args=[first.pk]) if first else reverse("roster")
    plan = reverse("plan", args=[first.pk]) if first else reverse("roster")
    return [
        Step("People", f"{count} here" if count else "Paste names, or add one by one.", count > 0,
             reverse("roster"), "Paste a roster"),
        Step("Four lengths", f"{measured} of {count} measured" if count else "Stature and three more by tape.",
             measured > 0, measure, "Measure"),
        Step("Bars", f"{bars} named" if bars else "A flexible bar is another pull: name the bars once.", bars > 0,
             reverse("club") + "#bars", "Name a bar"),
        Step("Old logs", "Sets are in." if logged else "Bring in a spreadsheet, or begin with tonight.", logged,
             reverse("imports"), "Bring in a log"),
        Step("Tonight's plan", "Somebody has a plan." if planned else "Loads for one lifter make the board ready.",
             planned, plan, "Plan"),
        Step("Who works here", "Somebody else is here." if staff else "Invite coaches and gym staff.", staff,
             reverse("club"), "Invite"),
    ]  # fmt: skip
