"""The lift log: listed, added, corrected with its history, taken back and put back."""

from datetime import date, timedelta

import pytest
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from athletes.forms.lifts import LiftForm
from athletes.models import AuditEntry, LiftSet
from athletes.services import lifts as log

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


@pytest.fixture
def ada(cast):
    return cast.athletes["ada"]


def post(client, athlete, **changes):
    return client.post(reverse("lift-new", args=[athlete.pk]), {**PLAIN, **changes})


def as_posted(row: LiftSet, **changes) -> dict[str, str]:
    """What the browser sends when the correction form is kept as it came."""
    form = LiftForm(athlete=row.athlete, instance=row)
    values = {name: form[name].value() for name in form.fields}
    values = {k: (v.isoformat() if isinstance(v, date) else v) for k, v in values.items() if v not in (None, False, "")}
    return {**{k: "on" if v is True else str(v) for k, v in values.items()}, **changes}


def test_the_list_shows_loads_as_typed_with_unit_result_and_tags(signed_in, ada):
    a_set(
        ada,
        load_typed="405",
        load_unit="lb",
        load=183.7,
        belt=True,
        grip="hook",
        reps_made=2,
        reps_tried=3,
        result="missed",
        miss_position="at-knee",
        gave_way="back-rounded",
    )
    LiftSet.objects.update(load_typed="405", load_unit="lb")
    page = signed_in("stan").get(reverse("lifts", args=[ada.pk])).content.decode()
    for words in ("405 lb", "2 of 3", "sumo deadlift", "hook, belt", "missed", "at the knee; back rounded"):
        assert words in page


def test_the_list_is_filtered_and_paged(signed_in, ada):
    LiftSet.objects.bulk_create(
        LiftSet(athlete=ada, day=DAY - timedelta(days=n), load_typed=str(100 + n), load_unit="kg", load_kg=100 + n)
        for n in range(60)
    )
    a_set(ada, load=250.0, lift="squat", style="")
    client, where = signed_in("ada"), reverse("lifts", args=[ada.pk])
    assert b"page 1 of 2" in client.get(where).content
    assert b"159 kg" in client.get(where + "?page=2").content
    squats = client.get(where + "?lift=squat").content
    assert b"250 kg" in squats and b"100 kg" not in squats
    assert b"No set fits" in client.get(where + "?since=2027-01-01").content
    wrong = client.get(where + "?since=2026-02-30&lift=juggling")
    assert wrong.status_code == 200 and b'role="alert"' in wrong.content and b"61 sets" in wrong.content


def test_staff_coach_and_the_athlete_log_a_set(signed_in, ada):
    for name in ("stan", "cato", "bea", "ona", "ada"):
        assert post(signed_in(name), ada).status_code == 302
    assert [row.author.username for row in ada.sets.order_by("order")] == ["stan", "cato", "bea", "ona", "ada"]
    assert list(ada.sets.order_by("order").values_list("order", flat=True)) == [1, 2, 3, 4, 5]
    assert AuditEntry.objects.filter(athlete=ada, action="added").count() == 5


def test_every_field_of_a_set_is_kept(signed_in, cast, ada):
    bar = cast.quarry.bars.create(name="Whip", kind="flexible")
    post(
        signed_in("stan"),
        ada,
        style="sumo",
        bar=bar.pk,
        grip="mixed",
        straps="on",
        belt="on",
        suit="on",
        paused="on",
        start="deficit",
        start_typed="2",
        start_unit="in",
        disc_diameter_cm="42,5",
        effort_typed="8-9",
        reps_tried="3",
        reps_made="2",
        result="missed",
        miss_position="below-knee",
        second_position="at-knee",
        gave_way="hips-shot-up",
        shape="rounded-during",
        shape_region="lower",
        pull_seconds="4,2",
        is_test="on",
        in_new_style="partly",
        note="belt one hole tighter",
    )
    row = ada.sets.get()
    assert (row.bar, row.bar_kind, row.grip, row.style) == (bar, "flexible", "mixed", "sumo")
    assert (row.straps, row.belt, row.suit, row.paused, row.dead_stop, row.is_test) == (
        True,
        True,
        True,
        True,
        False,
        True,
    )
    assert (row.start, row.start_typed, row.start_unit, row.start_cm) == ("deficit", "2", "in", 5.08)
    assert (row.disc_diameter_cm, row.effort_typed, row.rir_low, row.rir_high) == (42.5, "8-9", 1.0, 2.0)
    assert (row.reps_made, row.reps_tried, row.result) == (2, 3, "missed")
    assert (row.miss_position, row.second_position, row.gave_way) == ("below-knee", "at-knee", "hips-shot-up")
    assert (row.shape, row.shape_region, row.pull_seconds, row.in_new_style) == (
        "rounded-during",
        "lower",
        4.2,
        "partly",
    )
    assert row.note == "belt one hole tighter"


def test_reps_made_follow_from_the_result_when_left_empty(signed_in, ada):
    client = signed_in("stan")
    post(client, ada)
    post(client, ada, result="missed")
    post(client, ada, result="not-tried")
    assert list(ada.sets.order_by("order").values_list("reps_made", flat=True)) == [3, 2, 0]


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"load_typed": "heavy"}, "unit “heavy”"),
        ({"load_typed": "-200"}, "not with a minus"),
        ({"load_typed": "1600", "load_unit": "lb"}, "more than 700 kg"),
        ({"day": "2062-03-04"}, "in the future"),
        ({"day": "2026-02-30"}, "valid date"),
        ({"day": "1926-03-04"}, "too long ago"),
        ({"effort_typed": "12"}, "end at 10"),
        ({"reps_made": "4"}, "4 made of 3 tried cannot be"),
        ({"reps_made": "0"}, "no rep was made"),
        ({"reps_made": "3", "result": "missed"}, "all 3 reps are noted as made"),
        ({"result": "no-lift"}, "A no lift needs the rule"),
        ({"rule_reason": "not-erect"}, "belongs to a no lift"),
        ({"miss_position": "lockout"}, "belongs to a missed lift"),
        ({"result": "missed", "slowest_at": "lockout"}, "belongs to a made set"),
        ({"result": "missed", "second_position": "lockout"}, "needs a first one"),
        ({"start": "block"}, "how high the block is"),
        ({"start_typed": "10 cm"}, "the start says floor"),
        ({"start": "block", "start_typed": "tall"}, "unit “tall”"),
        ({"lift": "squat", "style": "sumo"}, "belongs to a deadlift"),
        ({"shape_region": "lower"}, "not noted as rounded"),
        ({"pull_seconds": "quick"}, "Time of the pull “quick”"),
        ({"note": "x" * 401}, "400"),
    ],
)
def test_what_cannot_be_is_said_at_its_field_and_nothing_typed_is_lost(signed_in, ada, changes, says):
    answer = post(signed_in("stan"), ada, **changes)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert says in page and "nothing you typed is lost" in page
    for typed in changes.values():
        assert typed in page
    assert not ada.sets.exists()


def test_a_bar_of_another_club_is_not_among_the_choices(signed_in, cast, ada):
    theirs = cast.harbour.bars.create(name="Not ours", kind="stiff")
    answer = post(signed_in("stan"), ada, bar=theirs.pk)
    assert answer.status_code == 422 and b"valid choice" in answer.content


def test_a_heavy_made_set_is_asked_about_once_in_one_tap(signed_in, ada):
    a_set(ada, load=200.0, day=DAY - timedelta(days=7))
    client = signed_in("stan")
    light = post(client, ada, load_typed="160", style="sumo")
    assert "heavy" not in light.url
    heavy = post(client, ada, load_typed="170", style="sumo")
    row = ada.sets.get(load_kg=170)
    assert heavy.url.endswith(f"?heavy={row.pk}")
    assert b"Where was the bar slowest?" in client.get(heavy.url).content
    client.post(reverse("lift-slowest", args=[ada.pk, row.pk]), {"slowest_at": "mid-shin"})
    row.refresh_from_db()
    assert row.slowest_at == "mid-shin"
    assert b"Where was the bar slowest?" not in client.get(heavy.url).content


def test_an_effort_of_8_5_and_up_counts_as_heavy_too(signed_in, ada):
    a_set(ada, load=300.0, day=DAY - timedelta(days=7))
    assert "heavy" in post(signed_in("stan"), ada, load_typed="100", style="sumo", effort_typed="8.5").url
    assert "heavy" not in post(signed_in("stan"), ada, load_typed="100", style="sumo", effort_typed="8").url


def test_a_correction_keeps_what_it_was_and_can_be_undone(signed_in, ada):
    row = a_set(ada)
    client, where = signed_in("ada"), reverse("lift-correct", args=[ada.pk, row.pk])
    answer = client.post(where, as_posted(row, load_typed="182,5"))
    row.refresh_from_db()
    assert (row.load_typed, row.load_kg) == ("182,5", 182.5)
    entry = AuditEntry.objects.get(action="corrected")
    assert entry.actor.username == "ada"
    assert entry.before == {"load_typed": "180", "load_kg": 180.0}
    assert entry.after == {"load_typed": "182,5", "load_kg": 182.5}
    assert b"what it was is kept" in client.get(answer.url).content
    assert "Load on the bar: 180 → 182,5" in client.get(where).content.decode()
    client.post(reverse("lift-undo", args=[ada.pk, row.pk]), {"what": "correction"})
    row.refresh_from_db()
    assert (row.load_typed, row.load_kg) == ("180", 180.0)
    assert AuditEntry.objects.filter(action="corrected").count() == 2


def test_a_set_is_taken_back_and_put_back_whole(signed_in, ada):
    row = a_set(ada, note="clean", effort_typed="8", rir_low=2, rir_high=2)
    client = signed_in("stan")
    answer = client.post(reverse("lift-undo", args=[ada.pk, row.pk]), {"what": "set"})
    assert not ada.sets.exists()
    entry = AuditEntry.objects.get(action="taken back")
    assert b"Put it back" in client.get(answer.url).content
    for _ in range(2):  # a second tap changes nothing
        client.post(reverse("lift-put-back", args=[ada.pk, entry.pk]))
    back = ada.sets.get()
    assert (back.uid, back.note, back.rir_low, back.day, back.load_kg) == (row.uid, "clean", 2.0, DAY, 180.0)


def test_a_correction_of_what_somebody_else_changed_meanwhile_is_shown_not_written(signed_in, ada):
    row = a_set(ada)
    seen = row.changed.isoformat()
    where = reverse("lift-correct", args=[ada.pk, row.pk])
    signed_in("cato").post(where, as_posted(row, note="by the coach", seen=seen))
    late = signed_in("stan").post(where, as_posted(row, note="by staff", seen=seen))
    assert late.status_code == 422
    assert b"Somebody changed this set" in late.content and b"by staff" in late.content
    row.refresh_from_db()
    assert row.note == "by the coach"


def test_pain_is_told_to_coach_and_athlete_only(signed_in, ada):
    a_set(ada, result="stopped-pain", reps_made=0)
    where = reverse("lifts", args=[ada.pk])
    for name, told in (("cato", True), ("ada", True), ("stan", False), ("bea", False)):
        assert (b"stopped (pain)" in signed_in(name).get(where).content.split(b"<table")[1]) is told


def test_after_a_stop_for_pain_the_page_says_what_to_do(signed_in, ada):
    answer = post(signed_in("stan"), ada, result="stopped-pain")
    assert b"licensed professional" in signed_in("stan").get(answer.url).content


def test_strangers_find_nothing_and_wrong_verbs_are_refused(signed_in, cast, ada):
    row = a_set(ada)
    assert post(signed_in("olga"), ada).status_code == 404
    assert signed_in("olga").post(reverse("lift-correct", args=[ada.pk, row.pk]), as_posted(row)).status_code == 404
    petra = cast.athletes["petra"]
    assert signed_in("stan").get(reverse("lift-correct", args=[petra.pk, row.pk])).status_code == 404
    assert signed_in("ada").get(reverse("lifts", args=[petra.pk])).status_code == 404
    assert signed_in("stan").get(reverse("lift-undo", args=[ada.pk, row.pk])).status_code == 405


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    load=st.decimals("0.5", 700, places=2),
    unit=st.sampled_from(["kg", "lb"]),
    height=st.decimals("0.5", "20", places=2),
    effort=st.sampled_from(["", "8", "8,5", "8-9", "RIR 1-2"]),
    rounds=st.integers(1, 4),
)
def test_saving_unchanged_again_and_again_never_drifts(ada, cast, load, unit, height, effort, rounds):
    typed = {
        **PLAIN,
        "load_typed": str(load).replace(".", ","),
        "load_unit": unit,
        "effort_typed": effort,
        "start": "block",
        "start_typed": str(height),
        "start_unit": "in",
    }
    form = LiftForm(typed, athlete=ada)
    assert form.is_valid(), form.errors
    row, _ = log.log_set(cast.stan, ada, form.save(commit=False))
    first = LiftSet.objects.get(pk=row.pk)
    for _ in range(rounds):
        stored = LiftSet.objects.get(pk=row.pk)
        again = LiftForm(as_posted(stored), athlete=ada, instance=LiftSet.objects.get(pk=row.pk))
        assert again.is_valid(), again.errors
        assert log.correct_set(cast.stan, stored, again.save(commit=False)) is None
    last = LiftSet.objects.get(pk=row.pk)
    kept = ("load_typed", "load_unit", "load_kg", "start_typed", "start_cm", "effort_typed", "rir_low", "rir_high")
    assert [getattr(last, n) for n in kept] == [getattr(first, n) for n in kept]


def test_a_load_text_that_an_import_kept_survives_a_correction_of_another_field(ada, signed_in):
    row = a_set(ada, load_typed="four plates")
    LiftSet.objects.filter(pk=row.pk).update(load_typed="four plates", load_kg=183.7)
    row.refresh_from_db()
    signed_in("stan").post(reverse("lift-correct", args=[ada.pk, row.pk]), as_posted(row, note="seen on film"))
    row.refresh_from_db()
    assert (row.load_typed, row.load_kg, row.note) == ("four plates", 183.7, "seen on film")


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.dictionaries(st.sampled_from(sorted(LiftForm.base_fields)), st.text(max_size=30), max_size=12))
def test_whatever_is_typed_into_the_form_is_answered_in_words(ada, data):
    form = LiftForm({**PLAIN, **data}, athlete=ada)
    assert form.is_valid() or all(str(e) for errors in form.errors.values() for e in errors)
