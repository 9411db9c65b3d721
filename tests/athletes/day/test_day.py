"""The day of a lifter: which set is next, what misses and pain take away, and sets written once from a tap."""

from datetime import timedelta
from uuid import uuid4

import pytest
from django.utils import timezone

from athletes.day.services import lighter_load, next_planned, today_of
from athletes.models import AuditEntry, LiftSet, PlanItem, Trial

TODAY = timezone.localdate()


@pytest.fixture
def ada(cast):
    return cast.athletes["ada"]


def plan(athlete, load=110.0, sets=1, reps=3, order=1, **more):
    base = {"lift": "deadlift", "style": "sumo", "load_typed": f"{load:g}", "load_unit": "kg"}
    return PlanItem.objects.create(
        athlete=athlete, day=more.pop("day", TODAY), order=order, sets=sets, reps=reps, load_kg=load, **base | more
    )


def tap(client, athlete, result="made", **more):
    item = more.pop("item", None)
    sent = {"uid": str(uuid4()), "result": result, "load": "110", "unit": "kg", "reps": "3"}
    sent |= {"item": str(item.pk) if item else ""} | more
    return client.post(f"/athletes/{athlete.pk}/today/", sent)


def test_the_next_set_is_the_first_line_with_sets_left(signed_in, ada):
    top, back = plan(ada, 110), plan(ada, 100, sets=2, order=2)
    found = today_of(ada, "kg").next
    assert (found.item, found.number, found.of, found.then) == (top, 1, 1, (back, 2))
    tap(signed_in("ada"), ada, item=top)
    found = today_of(ada, "kg").next
    assert (found.item, found.number, found.of, found.then) == (back, 1, 2, (back, 1))


def test_a_tap_writes_the_set_of_the_plan(signed_in, ada):
    item = plan(ada, 110, belt=True, grip="hook")
    Trial.objects.create(
        athlete=ada, new_style="sumo", old_style="conventional", started_on=TODAY, decide_on=TODAY,
        no_baseline_reason="x",
    )  # fmt: skip
    assert tap(signed_in("ada"), ada, item=item, left="2").status_code == 302
    row = LiftSet.objects.get()
    assert (row.load_kg, row.reps_made, row.style, row.belt, row.grip) == (110.0, 3, "sumo", True, "hook")
    assert (row.effort_typed, row.rir_low, row.in_new_style) == ("RIR 2", 2.0, "yes")
    assert row.trial is not None


@pytest.mark.parametrize(("left", "low"), [("", None), ("2.5", 2.5), ("0", 0.0)])
def test_reps_left_may_be_halves_or_left_out(signed_in, ada, left, low):
    tap(signed_in("ada"), ada, item=plan(ada), left=left)
    assert LiftSet.objects.get().rir_low == low


def test_the_same_page_sent_twice_writes_once_and_never_after_it_was_taken_back(signed_in, ada):
    client, item, uid = signed_in("ada"), plan(ada), str(uuid4())
    for _ in range(2):
        tap(client, ada, item=item, uid=uid)
    row = LiftSet.objects.get()
    client.post(f"/athletes/{ada.pk}/today/{row.pk}/undo/")
    tap(client, ada, item=item, uid=uid)
    assert not LiftSet.objects.exists()
    assert AuditEntry.objects.filter(action="taken back").count() == 1


def test_a_uid_of_somebody_else_shows_and_changes_nothing(signed_in, cast, ada):
    other = LiftSet.objects.create(athlete=cast.athletes["hugo"], day=TODAY, load_typed="200", load_kg=200.0)
    page = signed_in("ada").post(
        f"/athletes/{ada.pk}/today/", {"uid": str(other.uid), "result": "made", "load": "9", "reps": "1"}, follow=True
    )
    assert "Not saved" in page.content.decode() and "200" not in page.content.decode().split("<main")[1]
    assert LiftSet.objects.count() == 1


@pytest.mark.parametrize("wrong", [{"reps": "0"}, {"reps": "x"}, {"reps": "101"}, {"load": "abc"}, {"uid": "1"}])
def test_what_cannot_be_read_is_said_and_given_back(signed_in, ada, wrong):
    item = plan(ada)
    page = signed_in("ada").post(
        f"/athletes/{ada.pk}/today/",
        {"uid": str(uuid4()), "item": item.pk, "result": "made", "load": "112", "unit": "kg", "reps": "4"} | wrong,
        follow=True,
    ).content.decode()  # fmt: skip
    assert "Not saved" in page and not LiftSet.objects.exists()
    assert f'value="{wrong.get("load", "112")}"' in page


@pytest.mark.parametrize(
    ("missed", "unit", "next_kg"),
    [(150.0, "kg", 135.0), (112.5, "kg", 100.0), (111.0, "kg", 97.5), (315 * 0.45359237, "lb", 280 * 0.45359237)],
)
def test_after_a_miss_ten_per_cent_less_rounded_down_to_plates(missed, unit, next_kg):
    assert lighter_load(missed, unit) == pytest.approx(next_kg)


def test_a_miss_makes_the_next_set_lighter_and_leads_to_where_the_bar_stopped(signed_in, ada):
    item = plan(ada, 150, sets=3)
    answer = tap(signed_in("ada"), ada, "missed", item=item, load="150")
    row = LiftSet.objects.get()
    assert answer.url == f"/athletes/{ada.pk}/today/missed/{row.pk}/"
    assert (row.result, row.reps_made, row.rir_low) == ("missed", 2, None)
    found = today_of(ada, "kg").next
    assert (found.load_typed, found.lighter, found.number) == ("135", True, 2)


def test_after_a_second_miss_the_heavy_sets_are_gone_and_light_ones_stay(signed_in, ada):
    item, light = plan(ada, 150, sets=4), plan(ada, 100, order=2)
    client = signed_in("ada")
    tap(client, ada, "missed", item=item, load="150")
    tap(client, ada, "missed", item=item, load="135")
    day = today_of(ada, "kg")
    assert (day.ended, day.next.item) == ("heavy", light)


def test_pain_ends_the_day_also_after_a_made_set_and_undo_gives_it_back(signed_in, ada):
    item, client = plan(ada, 110, sets=3), signed_in("ada")
    tap(client, ada, item=item)
    tap(client, ada, "pain", item=item)
    day = today_of(ada, "kg")
    assert (day.ended, day.next) == ("pain", None)
    row = day.rows[-1]
    assert (row.result, row.reps_made) == ("stopped-pain", 0)
    client.post(f"/athletes/{ada.pk}/today/{row.pk}/undo/")
    assert today_of(ada, "kg").next is not None


def test_any_set_of_the_day_can_be_undone_but_no_earlier_one(signed_in, ada):
    client, item = signed_in("ada"), plan(ada, sets=3)
    for _ in range(2):
        tap(client, ada, item=item)
    first, old = LiftSet.objects.order_by("order").first(), LiftSet.objects.last()
    assert client.post(f"/athletes/{ada.pk}/today/{first.pk}/undo/").status_code == 302
    LiftSet.objects.filter(pk=old.pk).update(day=TODAY - timedelta(days=1))
    assert client.post(f"/athletes/{ada.pk}/today/{old.pk}/undo/").status_code == 404


@pytest.mark.parametrize(("depth", "seen"), [("yes", True), ("no", False), ("unseen", False), ("", False)])
def test_a_squat_asks_for_depth(signed_in, ada, depth, seen):
    item = plan(ada, 95, lift="squat", style="")
    assert today_of(ada, "kg").next.asks_depth
    tap(signed_in("ada"), ada, item=item, load="95", depth=depth)
    assert LiftSet.objects.get().depth_verified is seen


def test_what_was_seen_is_kept_at_once_and_a_rule_or_pain_is_a_result_of_its_own(signed_in, ada):
    client = signed_in("ada")
    tap(client, ada, "missed", item=plan(ada))
    address = f"/athletes/{ada.pk}/today/missed/{LiftSet.objects.get().pk}/"
    for sent, name, value in (
        ({"place": "below-knee"}, "miss_position", "below-knee"),
        ({"seen": "back-rounded"}, "gave_way", "back-rounded"),
        ({"seen": "rule"}, "result", "no-lift"),
        ({"seen": "grip-opened"}, "result", "missed"),
        ({"place": "moon", "seen": "moon"}, "gave_way", "grip-opened"),
        ({"seen": "pain"}, "result", "stopped-pain"),
    ):
        client.post(address, sent)
        assert getattr(LiftSet.objects.get(), name) == value
    assert LiftSet.objects.get().miss_position == "below-knee"
    assert today_of(ada, "kg").ended == "pain"


def test_the_next_planned_day_is_named(ada):
    for days in (5, 2):
        plan(ada, 90.0 + days, day=TODAY + timedelta(days=days))
    assert [item.load_kg for item in next_planned(ada, TODAY)] == [92.0]
    assert next_planned(ada, TODAY + timedelta(days=9)) == []


def test_ownership_write_right_and_wrong_verb(signed_in, cast, ada):
    item = plan(ada)
    for who, status in ((None, 401), ("olga", 404), ("stan", 302), ("cato", 302)):
        assert tap(signed_in(who), ada, item=item).status_code == status
    assert signed_in("ada").get(f"/athletes/{ada.pk}/today/").status_code == 405
    assert tap(signed_in("ada"), cast.athletes["petra"], item=item).status_code == 404
