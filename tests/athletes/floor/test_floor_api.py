"""The floor's queue on the server: once, in order, nobody else's, never over somebody else's change."""

import json
import uuid
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from athletes.models import AuditEntry, LiftSet, Presence

URL = "/floor/entries/"
FIELDS = {
    "lift": "deadlift",
    "style": "sumo",
    "load_typed": "180",
    "load_unit": "kg",
    "reps_tried": 3,
    "result": "made",
    "dead_stop": True,
    "bar": None,
    "effort_typed": "8",
}


@pytest.fixture
def ada(cast):
    return cast.athletes["ada"]


def entry(athlete, uid=None, kind="set", at=None, **more) -> dict:
    fields = {**FIELDS, **more.pop("fields", {})}
    when = (at or timezone.now()).isoformat()
    return {"uid": uid or str(uuid.uuid4()), "kind": kind, "athlete": athlete.pk, "at": when, "fields": fields, **more}


def send(client, cast, *entries, user="stan", club=None):
    body = {"user": cast.users[user].pk, "club": (club or cast.quarry).pk, "entries": list(entries)}
    return client.post(URL, json.dumps(body), content_type="application/json")


def said(answer) -> list[str]:
    assert answer.status_code == 200, answer.content
    return [one["status"] for one in answer.json()["done"]]


def test_an_entry_is_written_once_however_often_it_comes(signed_in, cast, ada):
    client, one = signed_in("stan"), entry(ada)
    assert said(send(client, cast, one)) == ["stored"]
    assert said(send(client, cast, one, one)) == ["already", "already"]
    row = ada.sets.get()
    assert (str(row.uid), row.author, row.load_kg, row.reps_made, row.rir_low) == (one["uid"], cast.stan, 180.0, 3, 2.0)


def test_a_set_that_was_taken_back_does_not_come_again(signed_in, cast, ada):
    client, one = signed_in("stan"), entry(ada)
    send(client, cast, one)
    undo = {"uid": str(uuid.uuid4()), "kind": "undo", "athlete": ada.pk, "set": one["uid"]}
    assert said(send(client, cast, undo, undo, one)) == ["stored", "already", "already"]
    assert not ada.sets.exists()


def test_the_order_is_that_of_lifting_whoever_sends_first(signed_in, cast, ada):
    begun = timezone.now() - timedelta(minutes=50)
    mine = [entry(ada, at=begun + timedelta(minutes=2 * n), fields={"load_typed": str(100 + 2 * n)}) for n in range(5)]
    theirs = [
        entry(ada, at=begun + timedelta(minutes=2 * n + 1), fields={"load_typed": str(101 + 2 * n)}) for n in range(5)
    ]
    send(signed_in("cato"), cast, *theirs, user="cato")
    send(signed_in("stan"), cast, *mine)
    assert [row.load_kg for row in ada.sets.order_by("day", "order")] == [100.0 + n for n in range(10)]


def test_the_day_is_the_clubs_own(signed_in, cast, ada):
    cast.quarry.timezone = "Pacific/Auckland"
    cast.quarry.save()
    late = timezone.now().astimezone(ZoneInfo("Pacific/Auckland")) - timedelta(minutes=1)
    send(signed_in("stan"), cast, entry(ada, at=late))
    assert ada.sets.get().day == late.date()


@pytest.mark.parametrize(
    "at", ["2031-01-01T10:00:00+00:00", "1999-01-01T10:00:00+00:00", "noon", None, 7, "2026-13-45T99:00"]
)
def test_a_clock_that_cannot_be_right_asks_for_the_day(signed_in, cast, ada, at):
    client, one = signed_in("stan"), {**entry(ada), "at": at}
    asked = send(client, cast, one)
    assert said(asked) == ["clock"] and "Say the day." in asked.json()["done"][0]["why"]
    assert not ada.sets.exists()
    day = NOON.date() - timedelta(days=3)
    assert said(send(client, cast, {**one, "day": day.isoformat()})) == ["stored"]
    assert ada.sets.get().day == day


NOON = datetime(2026, 11, 20, 12, tzinfo=UTC)  # the cast's clubs keep UTC


@pytest.mark.parametrize(
    ("ahead", "status"),
    [
        (timedelta(days=-60), "stored"),
        (timedelta(days=-60, seconds=-1), "clock"),
        (timedelta(minutes=2), "stored"),
        (timedelta(hours=11, minutes=59), "stored"),  # the same day: only the minute is wrong
        (timedelta(hours=12), "clock"),
        (timedelta(days=2), "clock"),
    ],
)
def test_a_clock_is_believed_60_days_back_and_to_the_end_of_the_day(signed_in, cast, ada, monkeypatch, ahead, status):
    client = signed_in("stan")
    monkeypatch.setattr("athletes.floor.entries.timezone.now", lambda: NOON)
    assert said(send(client, cast, entry(ada, at=NOON + ahead))) == [status]


def test_midnight_is_that_of_the_club_and_two_minutes_past_it_are_believed(signed_in, cast, ada, monkeypatch):
    client = signed_in("stan")
    late = NOON.replace(hour=23, minute=59)
    monkeypatch.setattr("athletes.floor.entries.timezone.now", lambda: late)
    assert said(send(client, cast, entry(ada, at=late + timedelta(minutes=2)))) == ["stored"]
    assert said(send(client, cast, entry(ada, at=late + timedelta(minutes=2, seconds=1)))) == ["clock"]


@pytest.mark.parametrize("day", ["2026-11-21", "2026-09-20", "soon", 7, None])
def test_a_day_that_cannot_be_is_asked_for_again(signed_in, cast, ada, monkeypatch, day):
    client = signed_in("stan")
    monkeypatch.setattr("athletes.floor.entries.timezone.now", lambda: NOON)
    assert said(send(client, cast, {**entry(ada, at=NOON + timedelta(days=2)), "day": day})) == ["clock"]


def test_entries_of_a_wrong_clock_stay_in_their_order_on_the_day_that_was_said(signed_in, cast, ada):
    begun = timezone.now().replace(hour=10) + timedelta(days=2)
    day = (timezone.now() - timedelta(days=1)).date().isoformat()
    for n in (1, 0):
        one = entry(ada, at=begun + timedelta(minutes=n), fields={"load_typed": str(100 + n)})
        send(signed_in("stan"), cast, {**one, "day": day})
    assert [row.load_kg for row in ada.sets.order_by("day", "order")] == [100.0, 101.0]


def test_presence_by_a_wrong_clock_asks_for_the_day_too(signed_in, cast, ada):
    here = {**entry(ada, kind="here", at=timezone.now() + timedelta(days=2)), "here": True}
    assert said(send(signed_in("stan"), cast, here)) == ["clock"]
    assert not Presence.objects.exists()


def test_entries_of_another_sign_in_are_refused_whole(signed_in, cast, ada):
    answer = send(signed_in("cato"), cast, entry(ada), user="stan")
    assert (answer.status_code, answer.json()["why"]) == (403, "not-yours")
    assert send(signed_in("stan"), cast, entry(ada), club=cast.harbour).status_code == 403
    assert not LiftSet.objects.exists()


def test_the_signed_out_are_told_so_and_athletes_and_strangers_have_no_floor(signed_in, cast, ada):
    for verb, url in (("post", URL), ("get", "/floor/state/"), ("get", "/floor/token/")):
        answer = getattr(signed_in(None), verb)(url)
        assert (answer.status_code, answer.json()["why"]) == (401, "signed-out")
    for name in ("ada", "nils"):
        assert send(signed_in(name), cast, entry(ada), user=name).status_code == 404
        assert signed_in(name).get("/floor/state/").status_code == 404
    assert signed_in("stan").get(URL).status_code == 405


def test_without_a_fresh_token_nothing_is_written(cast, ada):
    strict = Client(enforce_csrf_checks=True)
    strict.force_login(cast.stan, backend="django.contrib.auth.backends.ModelBackend")
    assert send(strict, cast, entry(ada)).status_code == 403
    token = strict.get("/floor/token/").json()["token"]
    body = {"user": cast.stan.pk, "club": cast.quarry.pk, "entries": [entry(ada)]}
    sent = strict.post(URL, json.dumps(body), content_type="application/json", headers={"X-CSRFToken": token})
    assert said(sent) == ["stored"]


def test_a_lifter_of_another_club_is_refused_in_words(signed_in, cast):
    answer = send(signed_in("stan"), cast, entry(cast.athletes["hugo"]))
    assert said(answer) == ["refused"]
    assert "not, or no longer, one you can log for" in answer.json()["done"][0]["why"]
    assert not LiftSet.objects.exists()


def test_the_uid_of_somebody_elses_set_shows_and_writes_nothing(signed_in, cast, ada):
    theirs = LiftSet.objects.create(
        athlete=cast.athletes["hugo"], day=timezone.localdate(), load_typed="222", load_unit="kg", load_kg=222
    )
    answer = send(signed_in("stan"), cast, entry(ada, uid=str(theirs.uid)))
    assert said(answer) == ["refused"]
    assert b"222" not in answer.content and not ada.sets.exists()


def test_what_cannot_be_is_refused_with_the_field_and_the_rest_goes_on(signed_in, cast, ada):
    wrong, right = entry(ada, fields={"load_typed": "heavy"}), entry(ada)
    answer = send(signed_in("stan"), cast, wrong, right)
    assert said(answer) == ["refused", "stored"]
    assert answer.json()["done"][0]["why"].startswith("Load on the bar: Load “heavy”")


def test_the_same_set_by_somebody_else_unseen_is_a_conflict_until_it_is_confirmed(signed_in, cast, ada):
    send(signed_in("cato"), cast, first := entry(ada), user="cato")
    client, mine = signed_in("stan"), entry(ada, seen=[])
    answer = send(client, cast, mine)
    assert said(answer) == ["conflict"]
    assert "Cato logged 180 kg x 3 for Ada Fell too" in answer.json()["done"][0]["why"]
    assert ada.sets.count() == 1
    assert said(send(client, cast, {**mine, "sure": True})) == ["stored"]
    assert said(send(client, cast, entry(ada, seen=[first["uid"]]))) == [
        "stored"
    ]  # the next set, having seen the other
    other = entry(ada, fields={"load_typed": "182.5"})
    assert said(send(client, cast, other)) == ["stored"]


@pytest.mark.parametrize(
    ("apart", "status"),
    [
        (timedelta(minutes=19, seconds=59), "conflict"),
        (timedelta(minutes=20), "conflict"),
        (timedelta(minutes=20, seconds=1), "stored"),
    ],
)
def test_sets_within_twenty_minutes_may_be_the_same_one(signed_in, cast, ada, monkeypatch, apart, status):
    monkeypatch.setattr("athletes.floor.entries.timezone.now", lambda: NOON)
    send(signed_in("cato"), cast, entry(ada, at=NOON - timedelta(hours=1)), user="cato")
    for sign in (1, -1):
        mine = entry(ada, at=NOON - timedelta(hours=1) + sign * apart, seen=[])
        assert said(send(signed_in("stan"), cast, mine)) == [status]


def test_undo_of_what_was_changed_meanwhile_is_a_conflict(signed_in, cast, ada):
    client, one = signed_in("stan"), entry(ada)
    seen = send(client, cast, one).json()["done"][0]["set"]["seen"]
    row = ada.sets.get()
    where = reverse("lift-correct", args=[ada.pk, row.pk])
    signed_in("cato").post(
        where,
        {
            "day": row.day,
            "lift": "deadlift",
            "load_typed": "185",
            "load_unit": "kg",
            "reps_tried": "3",
            "reps_made": "3",
            "result": "made",
        },
    )
    undo = {"uid": str(uuid.uuid4()), "kind": "undo", "athlete": ada.pk, "set": one["uid"], "saw": seen}
    answer = send(client, cast, undo)
    assert said(answer) == ["conflict"]
    assert ada.sets.get().load_kg == 185
    assert said(send(client, cast, {**undo, "sure": True})) == ["stored"]
    assert AuditEntry.objects.filter(action="taken back", before__load_typed="185").exists()


def test_presence_comes_through_the_queue_too(signed_in, cast, ada):
    client = signed_in("stan")
    here = {"uid": str(uuid.uuid4()), "kind": "here", "athlete": ada.pk, "here": True, "at": timezone.now().isoformat()}
    assert said(send(client, cast, here, here)) == ["stored", "stored"]
    assert Presence.objects.count() == 1
    send(client, cast, {**here, "uid": str(uuid.uuid4()), "here": False})
    assert not Presence.objects.exists()


def test_the_state_tells_others_entries_and_is_not_sent_twice(signed_in, cast, ada):
    client = signed_in("cato")
    first = client.get("/floor/state/")
    assert client.get("/floor/state/", headers={"If-None-Match": first["ETag"]}).status_code == 304
    send(signed_in("stan"), cast, entry(ada))
    second = client.get("/floor/state/", headers={"If-None-Match": first["ETag"]})
    lifter = next(one for one in second.json()["lifters"] if one["id"] == ada.pk)
    assert [(row["by"], row["load_typed"], row["reps"]) for row in lifter["sets"]] == [("Stan", "180", "3")]
    assert second["X-Server-Time"]


def test_a_running_trial_is_joined_by_a_set_that_says_whether_it_was_in_the_new_style(signed_in, cast, ada):
    today = timezone.localdate()
    trial = ada.trials.create(
        new_style="sumo", old_style="conventional", started_on=today, decide_on=today + timedelta(days=84)
    )
    send(
        signed_in("stan"), cast, entry(ada, fields={"in_new_style": "partly"}), entry(ada, fields={"load_typed": "60"})
    )
    assert [row.trial for row in ada.sets.order_by("-load_kg")] == [trial, None]


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"[]",
        b"{",
        b"null",
        b'{"entries": 7}',
        b'{"entries": [1]}',
        b"\xff\xfe",
        b'{"entries": [], "x": "\\ud800"}',
        b"[" * 100_000,
        json.dumps({"entries": [{}] * 51}).encode(),
    ],
)
def test_a_body_that_cannot_be_read_is_said(signed_in, body):
    answer = signed_in("stan").post(URL, body, content_type="application/json")
    assert (answer.status_code, answer.json()["why"]) == (400, "unreadable")


JUNK = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(st.characters(exclude_categories=["Cs"]), max_size=12),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=6), inner, max_size=3),
    max_leaves=6,
)
KEYS = ["uid", "kind", "athlete", "at", "day", "fields", "seen", "set", "saw", "sure", "here"]


@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    junk=st.dictionaries(st.sampled_from(KEYS), JUNK, max_size=6),
    kind=st.sampled_from(["set", "undo", "here"]),
    fields=st.dictionaries(st.sampled_from(sorted(FIELDS)), JUNK, max_size=3),
)
def test_whatever_a_phone_sends_is_answered(signed_in, cast, ada, junk, kind, fields):
    whole = {**entry(ada, kind=kind, fields=fields, set=str(uuid.uuid4())), **junk}
    answer = send(signed_in("stan"), cast, whole)
    assert answer.json()["done"][0]["status"] in ("stored", "already", "conflict", "clock", "refused")


def test_the_service_worker_is_served_from_the_root_with_the_files_it_keeps(client):
    answer = client.get("/sw.js")
    assert answer.status_code == 200 and answer["Content-Type"].startswith("text/javascript")
    assert answer["Cache-Control"] == "no-cache" and answer["Service-Worker-Allowed"] == "/"
    text = answer.content.decode()
    kept = json.loads(text.split("const KEPT = ")[1].split(";\n")[0])
    assert "/static/floor/queue.js" in kept and "/static/floor/floor.css" in kept
    assert client.post("/sw.js").status_code == 405


def test_the_service_worker_keeps_every_script_of_the_floor():
    from pathlib import Path

    from athletes.floor.service_worker import KEPT

    folder = Path(__file__).resolve().parents[3] / "athletes/floor/static"
    assert {f"floor/{p.name}" for p in folder.glob("*.js")} - {"floor/sw.js"} <= set(KEPT)
