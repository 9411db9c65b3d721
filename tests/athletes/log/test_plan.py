"""A lifter's plan: written by coach and staff, copied from last time, read by the lifter, printed for the wall."""

from datetime import date

import pytest
from django.urls import reverse

from athletes.log.plan_services import next_item, prefill, sets_left
from athletes.models import LiftSet, PlanItem

DAY, LAST = date(2026, 11, 25), date(2026, 11, 18)


@pytest.fixture
def ada(cast):
    return cast.athletes["ada"]


def where(athlete, name="plan", day=DAY) -> str:
    return f"{reverse(name, args=[athlete.pk])}?day={day}"


def line(athlete, **fields) -> PlanItem:
    given = {"day": LAST, "order": 1, "sets": 3, "reps": 2, "load_typed": "180", "load_unit": "kg", "load_kg": 180.0,
             "style": "sumo", "cue": "Chest up", **fields}  # fmt: skip
    return PlanItem.objects.create(athlete=athlete, **given)


def form(*lines: dict, initial: int = 0) -> dict[str, str]:
    data = {"line-TOTAL_FORMS": str(len(lines)), "line-INITIAL_FORMS": str(initial)}
    for n, fields in enumerate(lines):
        whole = {"lift": "deadlift", "sets": "1", "reps": "1", "load_unit": "kg", "dead_stop": "on", **fields}
        data |= {f"line-{n}-{name}": str(value) for name, value in whole.items()}
    return data


def test_staff_write_a_plan_and_the_lifter_reads_it(signed_in, ada):
    typed = {
        "sets": "3",
        "reps": "2",
        "load_typed": "182,5",
        "style": "sumo",
        "cue": "Push the floor",
        "note": "belt on",
    }
    signed_in("stan").post(
        where(ada),
        form(
            typed, {"rpe_cap": "8", "style": "conventional", "start": "deficit", "start_typed": "2", "start_unit": "in"}
        ),
    )
    first, second = PlanItem.objects.order_by("order")
    assert (first.day, first.load_typed, first.load_kg, first.cue, first.author.username) == (
        DAY,
        "182,5",
        182.5,
        "Push the floor",
        "stan",
    )
    assert (second.rpe_cap, second.load_kg, second.start, second.start_cm) == (8.0, None, "deficit", 5.08)
    page = signed_in("ada").get(where(ada)).content.decode()
    assert "3 × 2 at 182,5 kg" in page and "Cue: Push the floor" in page and "up to RPE 8" in page
    assert "Keep the plan" not in page


def test_it_is_copied_from_last_time_and_changed(signed_in, ada):
    line(ada)
    line(ada, order=2, style="conventional", reps=5, load_typed="140", load_kg=140.0)
    client = signed_in("cato")
    assert b"Copy the plan of 18 November 2026" in client.get(where(ada)).content
    client.post(where(ada), {"what": "copy"})
    first, second = ada.plan_items.filter(day=DAY)
    assert (first.cue, first.load_kg, second.reps) == ("Chest up", 180.0, 5)
    change = {"id": first.pk, "sets": "3", "reps": "2", "load_typed": "185", "style": "sumo", "cue": "Chest up"}
    client.post(where(ada), form(change, {"id": second.pk, "DELETE": "on"}, initial=2))
    kept = ada.plan_items.get(day=DAY)
    assert (kept.pk, kept.load_typed, kept.load_kg) == (first.pk, "185", 185.0)
    assert ada.plan_items.filter(day=LAST).count() == 2


def test_what_cannot_be_is_said_at_its_line_and_nothing_is_lost(signed_in, ada):
    answer = signed_in("stan").post(
        where(ada), form({"load_typed": "heavy", "cue": "Hips low"}, {"sets": "0"}, {"rpe_cap": "12"})
    )
    assert answer.status_code == 422
    page = answer.content.decode()
    assert (
        "unit “heavy”" in page
        and "Hips low" in page
        and "outside 1 to 10" in page
        and "greater than or equal to 1" in page
    )
    assert signed_in("stan").post(where(ada), {"line-TOTAL_FORMS": "x"}).status_code == 422
    assert not PlanItem.objects.exists()


def test_an_untouched_new_line_writes_nothing(signed_in, ada):
    page = signed_in("stan").get(where(ada))
    data = form()
    for n, one in enumerate(page.context["formset"].forms):
        for field in one:
            value = field.value()
            if value not in (None, False, ""):
                data[field.html_name] = "on" if value is True else value
        data["line-TOTAL_FORMS"] = str(n + 1)
    assert signed_in("stan").post(where(ada), data).status_code == 302
    assert not PlanItem.objects.exists()


@pytest.mark.parametrize(("total", "forms"), [(40, 40), (41, 41), (50, 50), (51, 50), (10**6, 50)])
def test_a_number_in_the_page_makes_no_thousands_of_lines(signed_in, ada, total, forms):
    answer = signed_in("stan").post(where(ada), form({}) | {"line-TOTAL_FORMS": str(total)})
    assert len(answer.context["formset"].forms) == forms
    assert ("at most 40" in answer.content.decode()) == (total > 40)
    assert not PlanItem.objects.exists()


def test_the_lifter_may_not_write_it_and_strangers_do_not_find_it(signed_in, ada):
    assert signed_in("ada").post(where(ada), form({})).status_code == 403
    assert signed_in("olga").get(where(ada)).status_code == 404
    assert signed_in("olga").get(where(ada, "plan-print")).status_code == 404
    assert signed_in("stan").delete(where(ada)).status_code == 405


def test_a_line_of_another_lifter_cannot_be_changed_from_here(signed_in, cast, ada):
    theirs = line(cast.athletes["hugo"], day=DAY)
    signed_in("stan").post(where(ada), form({"id": theirs.pk, "cue": "changed"}, initial=1))
    theirs.refresh_from_db()
    assert theirs.cue == "Chest up"


def test_tonights_plans_print_on_one_list(signed_in, cast, ada):
    line(ada, day=DAY)
    line(cast.athletes["hugo"], day=DAY, cue="another club")
    page = signed_in("stan").get(reverse("tonight-print") + f"?day={DAY}").content.decode()
    assert "Ada Fell" in page and "3 × 2 at 180 kg" in page and "another club" not in page
    one = signed_in("ada").get(where(ada, "plan-print")).content.decode()
    assert "3 × 2 at 180 kg" in one


def test_logged_sets_count_for_the_first_line_they_fit(ada):
    top, back = line(ada, sets=1), line(ada, order=2, sets=2, reps=5, load_typed="140", load_kg=140.0)
    free = line(ada, order=3, sets=1, style="conventional", load_typed="", load_kg=None, rpe_cap=8)

    def done(kg, style="sumo"):
        return LiftSet(athlete=ada, load_kg=kg, style=style, lift="deadlift", start="floor")

    items = [top, back, free]
    assert sets_left(items, [done(100)]) == [1, 2, 1]  # a warm-up counts for none
    assert sets_left(items, [done(182.5), done(140)]) == [0, 1, 1]
    assert next_item(items, [done(180), done(140), done(142.5)]) == free
    assert next_item(items, [done(180), done(140), done(142.5), done(150, "conventional")]) is None


def test_the_next_set_takes_what_the_plan_says_and_the_rest_from_last_time(ada):
    last = LiftSet(athlete=ada, lift="deadlift", style="sumo", grip="hook", belt=True, load_typed="170", load_unit="kg",
                   load_kg=170, reps_tried=3)  # fmt: skip
    found = prefill(line(ada), last, "lb")
    assert (found["load_typed"], found["load_unit"], found["reps_tried"]) == ("180", "kg", 2)
    assert (found["grip"], found["belt"], found["style"]) == ("hook", True, "sumo")
    other = prefill(line(ada, style="conventional"), last, "lb")
    assert other["belt"] is False
    assert prefill(None, None, "lb") == {"load_unit": "lb", "reps_tried": 1}
