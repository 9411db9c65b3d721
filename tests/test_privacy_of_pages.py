"""What staff and coaches of other squads read is the same with and without health entries, and tells no body mass."""

import re
from datetime import timedelta
from html import unescape
from io import StringIO

import pytest
from django.core.management import call_command
from django.urls import reverse
from django.utils import timezone

from athletes.models import Bar, Decision, FirstMeeting, HealthNote, LiftSet, PlanItem, Presence, TrainingDay, Trial
from tests.analysis.measured import measure
from tests.analysis.meets.meeting import a_meet, attempt, enter, log_pulls
from tests.snapshots import CHANGING, addresses

TODAY = timezone.localdate()
MASS_KG = 87.37
TAGS = re.compile(r"<svg.*?</svg>|<script.*?</script>|<[^>]*>", re.S)
TELLS_MASS = re.compile(r"\b(?:87\.(?:37|4)|192\.6)\s?(?:kg|lb)|\d\s?N\sm\b|84\+|\d points|\bIPF\b")
IN_A_FIELD = re.compile(r'value="(?:87\.(?:37|4)|192\.6)')
CLUB_PAGES = ("/squad/", "/squad/trials/", "/squad/misses/", "/tonight/", "/tonight/print/", "/floor/state/", "/meets/")


@pytest.fixture
def ada(cast):
    """A lifter with a log of both styles, a trial, a build, a meet ahead, a plan and day notes without health."""
    one, bar = cast.athletes["ada"], Bar.objects.create(club=cast.quarry, name="Long one", kind="stiff")
    log_pulls(one, weeks=14, bar=bar, author=cast.stan)
    log_pulls(one, weeks=9, style="conventional", best=150, bar=bar, author=cast.stan)
    missed = {"result": "missed", "reps_made": 0, "load_typed": "165", "load_unit": "kg", "load_kg": 165.0, "bar": bar}
    for days in (3, 10, 17, 31):
        LiftSet.objects.create(
            athlete=one, day=TODAY - timedelta(days=days), style="sumo", miss_position="at-knee", **missed
        )
    stopped = missed | {"result": "not-tried", "reps_tried": 3}
    LiftSet.objects.create(athlete=one, day=TODAY - timedelta(days=2), style="sumo", **stopped)
    Trial.objects.create(
        athlete=one, new_style="sumo", old_style="conventional", started_on=TODAY - timedelta(weeks=6), weeks=12,
        pulls_a_week=1.5, decide_on=TODAY + timedelta(weeks=6), no_baseline_reason="first lifts",
    )  # fmt: skip
    Decision.objects.create(athlete=one, on=TODAY - timedelta(days=90), verdict="stay", decided_by=cast.cato)
    measure(one, TODAY - timedelta(days=20), mass=MASS_KG)
    FirstMeeting.objects.create(athlete=one)
    PlanItem.objects.create(athlete=one, day=TODAY, order=1, style="sumo", bar=bar, load_kg=100.0)
    Presence.objects.create(athlete=one, day=TODAY, marked_by=cast.stan)
    for days in (1, 3, 8, 15, 22):
        TrainingDay.objects.create(athlete=one, day=TODAY - timedelta(days=days), sleep_hours=7.5)
    attempt(enter(a_meet(cast.quarry, days=-40), one), 1, 130, "made")
    enter(a_meet(cast.quarry, days=3), one, mass_kg=MASS_KG, mass_typed="87.37")
    return one


def add_health(one):
    """Pain, soreness, an old injury of the back, a pinching hip and a set that pain stopped."""
    HealthNote.objects.create(athlete=one, kind="pain", site="hip", severity=6, noted_on=TODAY - timedelta(days=4))
    HealthNote.objects.create(
        athlete=one, kind="injury", site="lower-back", noted_on=TODAY - timedelta(days=400),
        ended_on=TODAY - timedelta(days=300),
    )  # fmt: skip
    for number, note in enumerate(one.days.order_by("day")):
        one.days.filter(pk=note.pk).update(soreness=5 + number, soreness_site="lower-back")
    FirstMeeting.objects.filter(athlete=one).update(hip_pinch=True)
    assert one.sets.filter(result="not-tried").update(result="stopped-pain") == 1


def shown_to(client, one):
    """Address -> status and text of every page of the athlete and of the club's pages that name them."""
    call_command("refresh_profiles", stdout=StringIO())  # what the queue does; without it the first visit differs
    names = sorted({name for name, of_athlete in addresses() if of_athlete})
    meets = [reverse("meet-entry", args=[e.meet_id, e.pk]) for e in one.meet_entries.all()]
    meets += [f"/meets/{e.meet_id}/{tail}" for e in one.meet_entries.all() for tail in ("", "board/", "state/")]
    rows = "&".join(f"key={uid}" for uid in one.sets.values_list("uid", flat=True)[:40])
    found = {}
    for where in (
        *(reverse(name, args=[one.pk]) for name in names),
        *CLUB_PAGES,
        *meets,
        f"/athletes/{one.pk}/rows/?{rows}",
    ):
        for _ in range(8):
            answer = client.get(where)
            body = b"".join(answer.streaming_content) if answer.streaming else answer.content
            if b"<em>updating</em>" not in body:
                break
        text = f"{answer.status_code} " + body.decode(errors="replace")
        for pattern in CHANGING:
            text = pattern.sub("", text)
        found[where] = text
    return found


@pytest.mark.parametrize("who", ["stan", "bea"])
def test_pages_of_who_may_not_see_health_are_the_same_without_it(signed_in, cast, ada, who):
    reader, coach = signed_in(who), signed_in("cato")
    before, of_coach = shown_to(reader, ada), shown_to(coach, ada)
    add_health(ada)
    after = shown_to(reader, ada)
    assert [where for where in before if before[where] != after[where]] == []
    changed = [where for where, text in shown_to(coach, ada).items() if text != of_coach[where]]
    told = ("weak-link", "decision", "trial", "squad", "back-load", "health")
    assert all(any(word in where for where in changed) for word in told), changed


@pytest.mark.parametrize("who", ["stan", "bea"])
def test_no_page_of_who_may_not_see_body_mass_tells_it(signed_in, ada, who):
    told = {
        where: found
        for where, text in shown_to(signed_in(who), ada).items()
        if (found := IN_A_FIELD.findall(text) + TELLS_MASS.findall(unescape(TAGS.sub(" ", text))))
    }
    assert told == {}


def test_the_coach_reads_the_body_mass(signed_in, ada):
    found = shown_to(signed_in("cato"), ada).values()
    assert {one for text in found for one in TELLS_MASS.findall(unescape(TAGS.sub(" ", text)))} > {"84+"}
