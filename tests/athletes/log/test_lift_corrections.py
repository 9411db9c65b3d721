"""A correction keeps what it was, can be undone, never drifts, and is shown when somebody else was faster."""

from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from athletes.log import services as log
from athletes.log.forms import LiftForm
from athletes.models import AuditEntry, LiftSet
from tests.athletes.log.lift_forms import DAY, PLAIN, a_set, as_posted, post


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
