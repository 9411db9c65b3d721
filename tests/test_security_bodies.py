"""Second pass of docs/security.md: what a request may name in its body, mails, headers of proxies, ways on, counts."""

import json
import re
import uuid
from datetime import timedelta
from pathlib import Path

import pytest
from django.conf import settings as site
from django.core import mail
from django.core.mail import EmailMessage
from django.test import Client, RequestFactory
from django.urls import reverse
from django.utils import timezone
from django_otp.plugins.otp_totp.models import TOTPDevice

from athletes.accounts import invitations
from athletes.exporting import archive_reader as reader
from athletes.importing.forms import UploadForm
from athletes.models import Athlete, Attempt, Bar, Invitation, LiftSet, PlanItem, Presence
from athletes.web import checks
from tests.addresses.world import make_world
from tests.cast import PASSWORD

SET = {
    "day": "2026-11-20", "lift": "deadlift", "load_typed": "180", "load_unit": "kg", "reps_tried": "1", "result": "made"
}  # fmt: skip


@pytest.fixture
def world(cast):
    return make_world(cast)


def taken(response) -> bool:
    """Whether a form was taken: its page leads on."""
    return response.status_code == 302


# --- a thing of another club in a body ----------------------------------------------------------------------------


def test_a_set_takes_no_bar_of_another_club(cast, world, signed_in):
    path = reverse("lift-new", args=[cast.athletes["ada"].pk])
    answer = signed_in("cato").post(path, SET | {"bar": world["other"]["bar"]})
    assert (taken(answer), LiftSet.objects.filter(day="2026-11-20", load_typed="180").count()) == (False, 0)
    assert taken(signed_in("cato").post(path, SET | {"bar": world["own"]["bar"]}))


def plan_body(**line: object) -> dict[str, object]:
    head = {"line-TOTAL_FORMS": "1", "line-INITIAL_FORMS": "1" if "id" in line else "0"}
    typed = {"sets": "1", "reps": "1", "lift": "deadlift", "start": "floor", "note": "ours"} | line
    return head | {f"line-0-{name}": value for name, value in typed.items()}


@pytest.mark.parametrize("named", ["id", "bar"])
def test_a_plan_takes_no_line_and_no_bar_of_another_club(cast, world, signed_in, named):
    there = world["other"]["plan" if named == "id" else "bar"]
    path = reverse("plan", args=[cast.athletes["ada"].pk]) + "?day=2026-11-20"
    answer = signed_in("cato").post(path, plan_body(**{named: there}))
    assert not taken(answer)
    assert not PlanItem.objects.filter(note="ours").exists()


def test_a_line_that_somebody_took_out_meanwhile_is_asked_about_and_can_be_left_out(cast, world, signed_in):
    PlanItem.objects.filter(pk=world["own"]["plan"]).delete()
    path = reverse("plan", args=[cast.athletes["ada"].pk]) + "?day=2026-11-20"
    asked = signed_in("cato").post(path, plan_body(id=world["own"]["plan"]))
    assert asked.status_code == 422
    assert "Somebody took this line out" in asked.content.decode()
    assert 'value="ours"' in asked.content.decode()
    assert 'name="line-0-DELETE"' in asked.content.decode()
    assert taken(signed_in("cato").post(path, plan_body(id=world["own"]["plan"], DELETE="on")))


def test_copying_a_plan_copies_only_the_athletes_own(cast, world, signed_in):
    PlanItem.objects.filter(pk=world["other"]["plan"]).update(note="theirs")
    path = reverse("plan", args=[cast.athletes["ada"].pk]) + "?day=2026-11-25"
    body = {"what": "copy", "source": world["other"]["plan"], "athlete": world["other"]["athlete"]}
    signed_in("cato").post(path, body)
    assert PlanItem.objects.filter(note="theirs").count() == 1


def test_a_trial_takes_no_set_of_somebody_else(cast, world, signed_in):
    LiftSet.objects.filter(pk=world["other"]["set"]).update(style="sumo")
    path = reverse("trial-tap", args=[cast.athletes["ada"].pk, world["own"]["trial"]])
    assert signed_in("cato").post(path, {"set": world["other"]["set"], "answer": "yes"}).status_code == 404
    assert LiftSet.objects.get(pk=world["other"]["set"]).in_new_style == ""


@pytest.mark.parametrize("where", ["meet-enter", "meet-entry-edit"])
def test_a_meet_takes_no_athlete_of_another_club(cast, world, signed_in, where):
    args = [world["own"]["meet"]] + ([world["own"]["entry"]] if where.endswith("edit") else [])
    signed_in("ona").post(reverse(where, args=args), {"athlete": world["other"]["athlete"], "style": "", "lot": ""})
    hugo = cast.athletes["hugo"]
    assert list(hugo.meet_entries.values_list("meet__club", flat=True)) == [cast.harbour.pk]


def test_an_invitation_and_an_import_take_no_athlete_of_another_club(cast, signed_in):
    there = cast.athletes["hugo"]
    there.user = None
    there.save()
    body = {"email": "x@example.test", "role": "athlete", "athlete": there.pk}
    signed_in("ona").post(reverse("invite"), body)
    assert not Invitation.objects.filter(email="x@example.test").exists()
    assert "athlete" in UploadForm({"athlete": there.pk}, {}, club=cast.quarry).errors


def test_an_athlete_gets_no_coach_of_another_club(cast, signed_in):
    ada = cast.athletes["ada"]
    body = {"name": ada.name, "sex": "f", "standing": "trained", "weight_unit": "kg", "active": "on"}
    theirs = {"coach": cast.olga.pk, "club": cast.harbour.pk}
    signed_in("ona").post(reverse("athlete-edit", args=[ada.pk]), body | theirs)
    ada.refresh_from_db()
    assert (ada.coach, ada.club) == (cast.cato, cast.quarry)


def queued(kind: str, **what: object) -> dict[str, object]:
    fields = {"lift": "deadlift", "load_typed": "180", "load_unit": "kg", "reps_tried": 1, "result": "made"}
    return {"uid": str(uuid.uuid4()), "kind": kind, "at": timezone.now().isoformat(), "fields": fields} | what


def test_a_phones_queue_writes_nothing_for_another_club(cast, world, signed_in):
    other, own = world["other"], world["own"]
    sets, attempts = LiftSet.objects.count(), Attempt.objects.count()
    entries = [
        queued("set", athlete=other["athlete"]),
        queued("here", athlete=other["athlete"], here=True),
        queued("undo", athlete=other["athlete"], set=str(other["set_uid"]), sure=True),
        queued("undo", athlete=own["athlete"], set=str(other["set_uid"]), sure=True),
        queued("attempt", entry=other["entry"], lift="deadlift", number=2, load_typed="200"),
        queued("set", athlete=own["athlete"], uid=str(other["set_uid"])),
        queued("set", athlete=own["athlete"], fields=queued("set")["fields"] | {"bar": other["bar"]}),
    ]
    sent = {"user": cast.cato.pk, "club": cast.quarry.pk, "entries": entries}
    answer = signed_in("cato").post("/floor/entries/", json.dumps(sent), content_type="application/json").json()
    assert [one["status"] for one in answer["done"]] == ["refused"] * 3 + ["already"] + ["refused"] * 3
    assert (LiftSet.objects.count(), Attempt.objects.count(), Presence.objects.count()) == (sets, attempts, 0)


@pytest.mark.parametrize("lie", [{"club": "other"}, {"user": "olga"}])
def test_a_phones_queue_of_another_club_or_person_is_refused_whole(cast, signed_in, lie):
    sent = {"user": cast.cato.pk, "club": cast.quarry.pk, "entries": []}
    sent |= {"club": cast.harbour.pk} if "club" in lie else {"user": cast.olga.pk}
    answer = signed_in("cato").post("/floor/entries/", json.dumps(sent), content_type="application/json")
    assert answer.status_code == 403


def test_nobody_works_on_in_a_club_they_were_taken_out_of(cast, signed_in):
    client = signed_in("cato")
    assert client.post(reverse("choose-club"), {"club": cast.harbour.pk}).status_code == 404
    client.post(reverse("choose-club"), {"club": cast.quarry.pk})
    cast.cato.memberships.all().delete()
    assert client.get("/club/").status_code == 404


# --- ways on, mails, files ----------------------------------------------------------------------------------------

AWAY = ("https://evil.example/", "//evil.example", "/\\evil.example", "home", "javascript:alert(1)", "\t//evil.example")


@pytest.mark.parametrize("to", AWAY)
def test_after_logging_one_comes_back_to_our_own_pages_only(cast, signed_in, to):
    path = reverse("lift-new", args=[cast.athletes["ada"].pk])
    answer = signed_in("cato").post(f"{path}?{'next=' + to}", SET)
    assert answer.url.startswith(reverse("lifts", args=[cast.athletes["ada"].pk]))


@pytest.mark.parametrize("to", AWAY)
def test_after_the_sign_in_one_comes_to_our_own_pages_only(cast, to):
    body = {"username": cast.cato.email, "password": PASSWORD, "next": to}
    assert Client().post("/sign-in/", body).url == "/"


def test_a_mail_has_the_receivers_and_the_subject_we_gave_it(cast, signed_in, monkeypatch):
    for email in ("x@example.test\nBcc: all@example.test", "x@example.test, y@example.test"):
        signed_in("ona").post(reverse("invite"), {"email": email, "role": "staff"})
    assert mail.outbox == []
    cast.quarry.name, cast.ona.first_name = "Quarry\r\nBcc: all@example.test", "Ona\n\nOpen http://evil.example now"
    cast.quarry.save()
    row = Invitation.objects.create(
        club=cast.quarry, role="staff", email="x@example.test", created_by=cast.ona, expires=timezone.now()
    )
    invitations.mail_invitation(row, "http://testserver/join/x/")
    sent: EmailMessage = mail.outbox[0]
    assert sent.recipients() == ["x@example.test"]
    assert sent.message()["Subject"] == "Invitation to Quarry Bcc: all@example.test"
    assert sent.body.strip().count("\n\n") == 2


def test_one_address_gets_five_invitations_an_hour(cast, signed_in):
    for _ in range(7):
        last = signed_in("ona").post(reverse("invite"), {"email": "x@example.test", "role": "staff"})
    assert Invitation.objects.count() == 5
    assert "At most five mails an hour" in last.content.decode()
    assert 'value="x@example.test"' in last.content.decode()


NAMES = ('a"; filename="x.exe', "a\r\nSet-Cookie: x=y", "../../etc/passwd", "Ängström", "💪", "---")


@pytest.mark.parametrize("name", NAMES)
def test_the_name_of_a_download_is_a_plain_word(cast, signed_in, name):
    ada = cast.athletes["ada"]
    Athlete.objects.filter(pk=ada.pk).update(name=name)
    for kind in ("athlete-sets", "athlete-copy"):
        asked = signed_in("cato").post(reverse("export-athlete", args=[ada.pk]), {"kind": kind})
        answer = signed_in("cato").get(f"{asked.url}file/")
        assert re.fullmatch(r'attachment; filename="[\w-]+\.(csv|zip)"', answer["Content-Disposition"])


def test_a_picture_in_a_copy_has_a_name_of_ours_and_no_path():
    for name in ("../x.jpg", "pictures/../x.jpg", "/etc/passwd", "pictures/a/b.jpg", "pictures\\x.jpg", "pictures/x\n"):
        assert not reader.PICTURE.fullmatch(name)


def test_no_code_unpacks_an_archive_onto_the_disk():
    root = Path(__file__).resolve().parent.parent
    code = [p.read_text() for p in (root / "athletes").rglob("*.py")]
    assert not any(re.search(r"\.extract(all)?\(|unpack_archive", text) for text in code)


# --- hosts and proxies --------------------------------------------------------------------------------------------


def test_headers_of_proxies_are_not_believed_by_default():
    request = RequestFactory().get(
        "/", HTTP_X_FORWARDED_HOST="evil.example", HTTP_X_FORWARDED_PROTO="https", HTTP_X_FORWARDED_PORT="1"
    )
    assert request.get_host() == "testserver"
    assert not request.is_secure()
    assert (site.USE_X_FORWARDED_HOST, site.USE_X_FORWARDED_PORT, site.PROXIES) == (False, False, 0)
    assert site.SECURE_PROXY_SSL_HEADER is None


@pytest.mark.parametrize(
    ("hosts", "address", "wrong"),
    [
        (["*"], "", 1),
        ([".example.org"], "", 1),
        (["*"], "https://stancebook.example", 0),
        (["stancebook.example"], "", 0),
        (["stancebook.example"], "stancebook.example", 1),
    ],
)
def test_a_server_that_answers_to_any_name_must_say_its_own(settings, hosts, address, wrong):
    settings.ALLOWED_HOSTS, settings.SITE_ADDRESS = hosts, address
    assert len(checks.mailed_links_have_an_address()) == wrong


# --- the second step ----------------------------------------------------------------------------------------------


def test_a_secret_that_was_never_confirmed_is_shown_for_an_hour_only(cast, signed_in):
    client = signed_in("cato")
    client.post("/account/second-step/begin/", {"password": PASSWORD})
    assert "<svg" in client.get("/account/second-step/").content.decode()
    TOTPDevice.objects.update(created_at=timezone.now() - timedelta(hours=2))
    assert "<svg" not in client.get("/account/second-step/").content.decode()


def test_bars_and_roles_of_another_club_are_not_there(cast, world, signed_in):
    client = signed_in("ona")
    there = world["other"]
    bodies = {"bar": {"name": "x"}, "bar-remove": {}, "member-role": {"role": "owner"}, "member-remove": {}}
    for where, body in bodies.items():
        pk = there["bar" if where.startswith("bar") else "membership"]
        assert client.post(reverse(where, args=[pk]), body).status_code == 404
    assert Bar.objects.filter(pk=there["bar"]).exists()
