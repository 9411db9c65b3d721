"""However many lifters and sets there are, a page asks the database the same few times."""

from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from athletes.models import Athlete, Bar, Decision, LiftSet, PlanItem, Presence, TrainingDay, Trial
from tests.analysis.measured import measure
from tests.analysis.meets.meeting import a_meet, attempt, enter, log_pulls

TODAY = timezone.localdate()
MOST = 15
BAR = 1  # of every page about one lifter: who stands before and after in the squad
CLUB = (
    "/squad/", "/squad/table/", "/squad/misses/", "/squad/misses/?share=50", "/squad/trials/", "/tonight/",
    "/tonight/print/", "/floor/state/", "/people/", "/club/", "/club/settings/", "/meets/", "/exports/",
)  # fmt: skip
MEET = ("", "board/", "state/", "enter/")
ATHLETE = (
    "back-load/", "bar-and-grip/", "weak-link/", "trial/", "trial/years/", "lifts/",
    "lifts/?lift=deadlift&result=missed", "lifts/new/", "rows/", "plan/", "plan/print/", "hand-over/", "changes/",
    "looks/", "build/", "health/", "leverages/", "export/",
)  # fmt: skip
# body, first meeting, posture and log are a question each; these pages need them all and something more
# (leverages: which style is pulled most, and which trial runs; the answer and its paper: trials, decisions, meets,
# marked stills and what trials left behind)
BROAD = {
    "": 18, "log/": 20, "decision/": 28, "report/": 30, "styles/": 22, "trial/test-day/": 17, "trial/years/": 16,
    "leverages/": 18,
    "meets/": 16,
}  # fmt: skip


@pytest.fixture
def meet(cast):
    return a_meet(cast.quarry, days=0)


def lifter(cast, meet, bar, number):
    """One more lifter with all that the pages tell of."""
    one = Athlete.objects.create(
        club=cast.quarry, coach=cast.cato, name=f"Lifter {number}", sex="mf"[number % 2], standing="trained"
    )
    more_of(one, meet, bar)
    Trial.objects.create(
        athlete=one, new_style="sumo", old_style="conventional", started_on=TODAY - timedelta(weeks=6), weeks=12,
        pulls_a_week=1.5, decide_on=TODAY + timedelta(weeks=6), no_baseline_reason="first lifts",
    )  # fmt: skip
    measure(one, TODAY - timedelta(days=20))
    attempt(enter(meet, one, lot=number), 1, 130, "made")
    Presence.objects.create(athlete=one, day=TODAY, marked_by=cast.stan)
    return one


def more_of(one, meet, bar):
    """More rows of every kind that grows with time."""
    log_pulls(one, weeks=4, bar=bar, author=meet.club.memberships.first().user)
    missed = {"result": "missed", "reps_made": 0, "load_typed": "150", "load_unit": "kg", "load_kg": 150.0}
    LiftSet.objects.create(athlete=one, day=TODAY, style="sumo", bar=bar, miss_position="at-knee", **missed)
    for order in range(2):
        PlanItem.objects.create(athlete=one, day=TODAY, order=order, style="sumo", bar=bar, load_kg=100.0 + order)


def visited(client, address):
    """Number of queries, and the page."""
    with CaptureQueriesContext(connection) as seen:
        page = client.get(address)
        body = b"".join(page.streaming_content) if page.streaming else page.content
    assert page.status_code == 200 and body, address
    return len(seen), body


def times_asked(client, address):
    """Queries once all that is kept for good is kept, which on a slow machine takes some visits of a second each."""
    for _ in range(20):
        if b"<em>updating</em>" not in visited(client, address)[1]:
            break
    count, body = visited(client, address)
    assert b"<em>updating</em>" not in body, address
    return count


def test_pages_of_a_club_ask_as_often_for_twelve_lifters_as_for_two(signed_in, cast, meet):
    bar, cato = Bar.objects.create(club=cast.quarry, name="Long one", kind="stiff"), signed_in("cato")
    addresses = [*CLUB, *(f"/meets/{meet.pk}/{tail}" for tail in MEET)]
    for number in range(2):
        lifter(cast, meet, bar, number)
    with_two = {address: times_asked(cato, address) for address in addresses}
    for number in range(2, 12):
        lifter(cast, meet, bar, number)
    assert {address: times_asked(cato, address) for address in addresses} == with_two
    assert {address: count for address, count in with_two.items() if count > MOST} == {}


def test_pages_of_an_athlete_ask_as_often_after_years_as_after_weeks(signed_in, cast, meet):
    bar, cato = Bar.objects.create(club=cast.quarry, name="Long one", kind="stiff"), signed_in("cato")
    one = lifter(cast, meet, bar, 1)
    enter(a_meet(cast.quarry, days=9), one)
    most = dict.fromkeys(ATHLETE, MOST) | BROAD
    after_weeks = {tail: times_asked(cato, f"/athletes/{one.pk}/{tail}") for tail in most}
    for days in range(1, 6):
        more_of(one, meet, bar)
        TrainingDay.objects.create(athlete=one, day=TODAY - timedelta(days=days), soreness=2)
        measure(one, TODAY - timedelta(days=20 + days))
        enter(a_meet(cast.quarry, days=days), one)
        attempt(enter(a_meet(cast.quarry, days=-days), one), 1, 130, "made")
        Decision.objects.create(athlete=one, on=TODAY - timedelta(days=days), verdict="stay", decided_by=cast.cato)
    assert {tail: times_asked(cato, f"/athletes/{one.pk}/{tail}") for tail in most} == after_weeks
    assert {tail: count for tail, count in after_weeks.items() if count > most[tail] + BAR} == {}
