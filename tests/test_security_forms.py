"""The pass of docs/security.md: what a form may name, and sessions and cookies."""

import logging
import os
import re
import secrets
import subprocess
import sys

import pytest
from django.conf import settings
from django.test import Client
from django.urls import reverse

from analysis.meets.forms import EntryForm
from athletes.models import Athlete, Club, Meet, Membership, SignInSession
from tests.cast import PASSWORD
from tests.own_forms import model_forms
from tests.test_every_address import WHO, sample, world  # noqa: F401 - `world` is a fixture
from tests.test_security_pass import OWN_CODE, ROOT, TABLE


@pytest.fixture(autouse=True)
def _quiet(caplog):
    caplog.set_level(logging.CRITICAL)


NEVER_TYPED = {
    "id", "uid", "club", "user", "author", "added_by", "recorded_by", "decided_by", "changed_by", "measured_by",
    "password_hash", "is_superuser", "is_staff", "is_active", "is_demo", "groups", "user_permissions", "token_hash",
    "session_key", "batch", "athlete",
}  # fmt: skip


# a new athlete is put into one of the clubs one works in, a meet's lifter is one of that club's: each has its test
OFFERED = {"AthleteForm": {"club"}, "EntryForm": {"athlete"}}


def test_no_form_of_a_row_lets_a_request_name_whose_it_is():
    forms = model_forms()
    assert len(forms) >= 4
    typed = {f.__name__: NEVER_TYPED & f.base_fields.keys() for f in forms}
    assert {name: fields for name, fields in typed.items() if fields} == OFFERED
    assert [p for p in OWN_CODE if re.search(r'fields = "__all__"|\n        exclude = ', p.read_text())] == []


def test_a_new_athlete_cannot_be_put_into_a_club_one_does_not_work_in(cast, signed_in):
    Membership.objects.create(club=Club.objects.create(name="Third Floor"), user=cast.cato, role="coach")
    body = {"name": "Nova Reed", "sex": "f", "standing": "trained", "weight_unit": "kg", "active": "on"}
    signed_in("cato").post(reverse("athlete-new"), body | {"club": cast.harbour.pk})
    assert not Athlete.objects.filter(name="Nova Reed").exists()
    signed_in("cato").post(reverse("athlete-new"), body | {"club": cast.quarry.pk})
    assert Athlete.objects.get(name="Nova Reed").club == cast.quarry


def test_a_meet_takes_no_athlete_of_another_club(cast):
    meet = Meet.objects.create(club=cast.quarry, name="Autumn meet", day="2026-12-12")
    for athlete, refused in (("hugo", True), ("ada", False)):
        form = EntryForm({"athlete": cast.athletes[athlete].pk}, meet=meet, asks_mass=True)
        assert ("athlete" in form.errors) == refused


def test_fields_nobody_offered_are_not_taken(cast, signed_in):
    extra = {"is_superuser": "1", "is_staff": "1", "email": "new@example.test", "is_demo": "1", "role": "owner"}
    typed = {"first_name": "Ada", "last_name": "", "weight_unit": "kg", "length_unit": "cm"}
    signed_in("ada").post("/account/", typed | extra)
    cast.ada.refresh_from_db()
    assert (cast.ada.is_superuser, cast.ada.is_staff, cast.ada.email) == (False, False, "ada@example.test")
    assert Membership.objects.get(user=cast.ada).role == "athlete"


MIXED = sorted(
    name
    for name, line in TABLE.items()
    if line.args.get("pk") == "athlete" and [w for w in line.args.values() if w != "athlete" and not w.startswith("=")]
)


@pytest.mark.parametrize("name", MIXED)
def test_a_thing_of_the_other_club_is_not_found_below_ones_own_athlete(name, world, signed_in):  # noqa: F811
    args = TABLE[name].args
    mixed = {k: sample(word, world["own" if word == "athlete" else "other"]) for k, word in args.items()}
    client = signed_in("ona")
    answers = [
        client.get(reverse(name, kwargs=mixed)).status_code,
        client.post(reverse(name, kwargs=mixed)).status_code,
    ]
    assert set(answers) <= {404, 405}
    assert 404 in answers


def test_signing_in_changes_the_session_key_and_signing_out_throws_it_away(cast):
    client = Client()
    client.get("/sign-in/")
    session = client.session
    session["planted"] = True
    session.save()
    client.cookies[settings.SESSION_COOKIE_NAME] = session.session_key
    client.post("/sign-in/", {"username": cast.ada.email, "password": PASSWORD})
    signed = client.cookies[settings.SESSION_COOKIE_NAME].value
    assert signed != session.session_key
    assert SignInSession.objects.get().session_key == signed
    client.post("/sign-out/")
    thief = Client()
    thief.cookies[settings.SESSION_COOKIE_NAME] = signed
    assert thief.get("/account/").status_code == 302


def test_cookies_are_closed_to_scripts_and_to_other_sites(cast):
    answer = Client().post("/sign-in/", {"username": cast.ada.email, "password": PASSWORD})
    cookie = answer.cookies[settings.SESSION_COOKIE_NAME]
    assert cookie["httponly"]
    assert cookie["samesite"] == "Lax"


SERVER = """
import django; django.setup()
from django.conf import settings as s
print(s.SESSION_COOKIE_SECURE, s.CSRF_COOKIE_SECURE, s.SECURE_SSL_REDIRECT, s.SECURE_HSTS_SECONDS >= 31536000, s.DEBUG)
"""


def test_on_a_server_cookies_travel_over_https_only():
    server = {k: v for k, v in os.environ.items() if not k.startswith(("DJANGO_", "STANCEBOOK_"))} | {
        "DJANGO_SECRET_KEY": secrets.token_urlsafe(60),
        "DJANGO_ALLOWED_HOSTS": "stancebook.example",
        "DJANGO_SETTINGS_MODULE": "config.settings",
    }
    done = subprocess.run(
        [sys.executable, "-c", SERVER], env=server, cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert done.stdout.split() == ["True", "True", "True", "True", "False"]
