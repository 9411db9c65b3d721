"""Meets, entries and plans: works, ownership, write right, wrong verb; body mass stays private."""

from datetime import timedelta

import pytest

from analysis.meets.rules import rules_of
from athletes.models import Attempt, AuditEntry, HealthNote, LiftSet, Meet, MeetEntry
from tests.analysis.meets.meet_forms import entry_url, page_of, told
from tests.analysis.meets.meeting import FULL, TODAY, a_meet, attempt, enter, log_pulls, plan_for


def test_the_list_has_the_next_meet_first_and_only_the_clubs_own(signed_in, cast):
    later, soon = a_meet(cast.quarry, 60, name="Later"), a_meet(cast.quarry, 5, name="Soon")
    a_meet(cast.quarry, -30, name="Gone"), a_meet(cast.harbour, 5, name="Foreign")
    page = page_of(signed_in("stan"), "/meets/")
    assert page.index(soon.name) < page.index(later.name) < page.index("Gone") and "Foreign" not in page
    assert "in 5 days" in page


def test_without_a_meet_the_list_says_what_one_is_for(signed_in, cast):
    assert "plans every lifter&#x27;s attempts" in page_of(signed_in("cato"), "/meets/")


def test_a_meet_is_kept_with_its_rule_set_and_changed_with_a_trail(signed_in, cast):
    coach = signed_in("cato")
    coach.post("/meets/new/", told(changes_deadlift="0, 1, 3", step_kg="1"))
    meet = Meet.objects.get()
    rules = rules_of(meet).rules
    assert (rules.step_kg, rules.changes["deadlift"], meet.lifts) == (1.0, (0, 1, 3), FULL)
    coach.post(f"/meets/{meet.pk}/edit/", told(name="Moved", order="deadlift"))
    meet.refresh_from_db()
    assert meet.name == "Moved" and meet.lifts == ["deadlift"]
    assert AuditEntry.objects.filter(club=cast.quarry, action="corrected").exists()


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"name": ""}, "required"),
        ({"day": "sometime"}, "valid date"),
        ({"changes_deadlift": "1, 2"}, "three whole numbers"),
        ({"changes_squat": "1, x, ²"}, "three whole numbers"),
        ({"step_kg": "20"}, "0.5 to 5 kg"),
        ({"attempts": "9"}, "less than or equal to 4"),
        ({"order": "snatch"}, "valid choice"),
        ({"seconds_to_declare": "soon"}, "whole number"),
    ],
)
def test_a_wrong_meet_gets_a_message_and_loses_nothing(signed_in, cast, wrong, said):
    page = signed_in("cato").post("/meets/new/", told(**{"note": "keep me", **wrong})).content.decode()
    assert said in page and "keep me" in page and not Meet.objects.exists()


def test_an_athlete_or_a_rival_is_entered_once(signed_in, meet, ada):
    coach, url = signed_in("cato"), f"/meets/{meet.pk}/enter/"
    coach.post(url, {"athlete": ada.pk, "style": "sumo", "goal_typed": "330 lb"})
    coach.post(url, {"rival_name": "Quill Harden", "subtotal_typed": "262,5"})
    mine, rival = MeetEntry.objects.order_by("pk")
    assert mine.goal_typed == "330 lb" and round(mine.goal_kg, 2) == 149.69
    assert rival.subtotal_kg == 262.5 and rival.athlete is None
    assert "is entered already" in coach.post(url, {"athlete": ada.pk}).content.decode()
    assert "one of the two" in coach.post(url, {"rival_name": ""}).content.decode()
    both = coach.post(url, {"athlete": ada.pk, "rival_name": "Quill", "note": "keep me"}).content.decode()
    assert "one of the two" in both and "keep me" in both


def test_nobody_of_another_club_can_be_entered(signed_in, cast, meet):
    page = signed_in("cato").post(f"/meets/{meet.pk}/enter/", {"athlete": cast.athletes["hugo"].pk}).content.decode()
    assert "Select a valid choice" in page and not MeetEntry.objects.exists()


def test_the_plan_has_three_attempts_two_alternatives_and_a_safe_opener(signed_in, entry):
    plan = plan_for(entry)
    assert [p.name for p in plan.plans] == ["main", "safer", "bolder"]
    for one in plan.plans:
        loads = one.loads_if_made
        assert len(loads) == 3 and list(loads) == sorted(set(loads)) and all(load % 2.5 == 0 for load in loads)
        assert one.chances_if_made[0] >= 0.95
    page = page_of(signed_in("cato"), entry_url(entry))
    assert "Highest expected best" in page and "Safer" in page and "Bolder" in page and "in 10" in page
    assert "Warm-ups to an opener" in page


def test_the_deadlift_is_lowered_for_squat_and_bench_and_the_page_says_so(signed_in, cast, ada):
    log_pulls(ada)
    alone, full = enter(a_meet(cast.quarry), ada), enter(a_meet(cast.quarry, lifts=FULL, name="Full"), ada)
    ratio = plan_for(full).day.median_kg / plan_for(alone).day.median_kg
    assert ratio == pytest.approx(0.985)
    assert "squat and bench of the day" in page_of(signed_in("cato"), entry_url(full))
    assert "squat and bench of the day" not in page_of(signed_in("cato"), entry_url(alone))


def test_thin_data_gives_common_ratios_and_says_so(signed_in, meet, ada):
    log_pulls(ada, weeks=2)
    entry = enter(meet, ada)
    plan = plan_for(entry)
    assert [p.name for p in plan.plans] == ["common ratios"]
    assert "Few data: common ratios" in page_of(signed_in("cato"), entry_url(entry))


def test_without_a_usable_pull_the_page_says_what_to_log(signed_in, meet, ada):
    entry = enter(meet, ada)
    assert "triple at RPE 8" in page_of(signed_in("cato"), entry_url(entry))
    log_pulls(ada, style="conventional")
    assert "No pull in the entered style (sumo)" in page_of(signed_in("cato"), entry_url(entry))
    LiftSet.objects.all().update(style="sumo", straps=True)
    assert "without straps" in page_of(signed_in("cato"), entry_url(entry))


def test_pulls_with_straps_or_a_suit_or_off_blocks_are_not_a_meet_pull(meet, ada):
    log_pulls(ada, best=150)
    before = plan_for(enter(meet, ada)).day.median_kg
    for more in ({"straps": True}, {"suit": True}, {"start": "block", "start_cm": 10.0}, {"paused": True}):
        log_pulls(ada, best=220, **more)
    assert plan_for(MeetEntry.objects.get()).day.median_kg == pytest.approx(before)


def test_the_meet_itself_never_changes_its_own_plan(cast, ada):
    log_pulls(ada)
    entry = enter(a_meet(cast.quarry, days=-7), ada)
    before = plan_for(entry).day.median_kg
    log_pulls(ada, best=220, weeks=1)  # a week ago: the day of the meet
    assert plan_for(MeetEntry.objects.get()).day.median_kg == before


@pytest.mark.parametrize("standing", ["under-18", "beginner", "returning"])
def test_careful_lifters_get_no_maximal_attempt(signed_in, entry, ada, standing):
    ada.standing = standing
    ada.save()
    plan = plan_for(entry)
    assert plan.careful[0] == standing and [p.name for p in plan.plans] == ["careful"]
    loads = plan.plans[0].loads_if_made
    assert loads[2] <= min(plan.day.low_kg, 0.95 * plan.day.median_kg) and loads[0] <= 0.85 * plan.day.median_kg
    page = page_of(signed_in("cato"), entry_url(entry))
    assert "no maximal attempt" in page and "Bolder" not in page and "Is a number needed?" not in page


def test_a_minor_is_careful_by_birth_date_whatever_the_standing(cast, meet):
    ivo = cast.athletes["ivo"]
    ivo.standing = "trained"
    ivo.save()
    log_pulls(ivo, best=100)
    assert plan_for(enter(meet, ivo)).careful == ("under-18",)


def test_noted_pain_makes_the_plan_careful_and_stays_between_coach_and_lifter(signed_in, entry, ada):
    HealthNote.objects.create(athlete=ada, kind="pain", site="lower-back", noted_on=TODAY - timedelta(days=3))
    assert "Pain is noted" in page_of(signed_in("cato"), entry_url(entry))
    for url in (entry_url(entry), f"/athletes/{ada.pk}/meets/"):
        staff = page_of(signed_in("stan"), url).split("<main")[1].split("<footer")[0]
        assert "pain" not in staff.lower() and "Careful" not in staff and "Ask the coach before" in staff


def test_a_flexible_bar_is_said_to_give_light_loads_about_nothing(signed_in, cast, ada):
    log_pulls(ada, best=140)
    light = enter(a_meet(cast.quarry, bar_kind="flexible"), ada)
    page = page_of(signed_in("cato"), entry_url(light))
    assert "gives about nothing" in page and "sessions on it are wanted" in page
    log_pulls(ada, best=260, style="conventional")
    heavy = enter(a_meet(cast.quarry, bar_kind="flexible", name="Two"), ada, style="conventional")
    assert "gives about nothing" not in page_of(signed_in("cato"), entry_url(heavy))


def test_the_coachs_own_three_are_kept_with_chances_and_an_opener_near_the_goal_is_warned_of(signed_in, entry):
    entry.goal_kg, entry.goal_typed = 150.0, "150 kg"
    entry.save()
    coach = signed_in("cato")
    coach.post(entry_url(entry, "plan/"), {"first": "142,5", "second": "147.5", "third": "152.5", "load_unit": "kg"})
    assert list(entry.attempts.values_list("load_typed", "declared_at")) == [
        ("142,5", None),
        ("147.5", None),
        ("152.5", None),
    ]
    page = page_of(coach, entry_url(entry))
    assert "As planned" in page and "The opener is 95\u00a0% of the goal" in page


def test_a_plan_keeps_what_is_handed_in_or_lifted(signed_in, entry):
    attempt(entry, 1, 130, "made"), attempt(entry, 2, 137.5)
    signed_in("cato").post(
        entry_url(entry, "plan/"), {"first": "100", "second": "110", "third": "150", "load_unit": "kg"}
    )
    assert list(entry.attempts.values_list("load_kg", flat=True)) == [130, 137.5, 150]


@pytest.mark.parametrize(
    ("loads", "said"),
    [
        (("x", "140", "150"), "Load “x”"),
        (("150", "140", "160"), "not more than the attempt before"),
        (("", "140", "150"), "required"),
        (("140", "150", "9000"), "more than 700 kg"),
        (("-140", "150", "160"), "not with a minus"),
    ],
)
def test_wrong_loads_get_a_message_and_lose_nothing(signed_in, entry, loads, said):
    data = dict(zip(("first", "second", "third"), loads, strict=True)) | {"load_unit": "kg"}
    page = signed_in("cato").post(entry_url(entry, "plan/"), data).content.decode()
    assert said in page and 'value="150"' in page and not Attempt.objects.exists()
