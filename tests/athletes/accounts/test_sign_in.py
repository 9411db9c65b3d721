"""Signing in: known and unknown accounts get the same answer and the same work; tries run out; the way back."""

import re

import pytest
from django.contrib.auth import hashers
from django.contrib.auth.hashers import MD5PasswordHasher
from django.core.mail import EmailMessage
from django.test import Client
from django.urls import reverse

from athletes.accounts import mail
from athletes.models import SignInSession
from tests.cast import PASSWORD

SIGN_IN = "/sign-in/"


def try_password(client, email, password="wrong-wrong-wrong"):
    return client.post(SIGN_IN, {"username": email, "password": password})


def words(response) -> str:
    """The page without what differs by nature: the typed address and the form's token."""
    text = re.sub(r'name="csrfmiddlewaretoken" value="\w+"', "", response.content.decode())
    return re.sub(r"[\w.]+@example\.test", "ADDRESS", text)


def test_a_right_password_opens_and_remembers_the_browser(cast):
    client = Client(headers={"user-agent": "Mozilla/5.0 (X11; Linux x86_64) Firefox/140.0"})
    response = try_password(client, cast.cato.email, PASSWORD)
    assert response.status_code == 302
    row = SignInSession.objects.get(user=cast.cato)
    assert row.agent == "Firefox on Linux"
    assert client.get("/account/").status_code == 200


def test_the_address_may_be_typed_in_capitals(cast):
    client = Client()
    assert try_password(client, cast.cato.email.upper(), PASSWORD).status_code == 302


def test_known_and_unknown_accounts_get_the_same_page(cast):
    known = try_password(Client(), cast.cato.email)
    unknown = try_password(Client(), "nobody@example.test")
    cast.stan.is_active = False
    cast.stan.save()
    closed = try_password(Client(), cast.stan.email, PASSWORD)
    assert known.status_code == unknown.status_code == closed.status_code == 200
    assert words(known) == words(unknown) == words(closed)


class CountingHasher(MD5PasswordHasher):
    algorithm = "counting"
    count = 0

    def encode(self, password, salt):
        CountingHasher.count += 1
        return super().encode(password, salt)


def test_known_and_unknown_accounts_cost_the_same_hashing(cast, settings):
    settings.PASSWORD_HASHERS = [f"{__name__}.CountingHasher"]
    hashers.get_hashers.cache_clear()
    cast.cato.set_password(PASSWORD)
    cast.cato.save()
    counts = {}
    for who in (cast.cato.email, "nobody@example.test"):
        CountingHasher.count = 0
        try_password(Client(), who)
        counts[who] = CountingHasher.count
    hashers.get_hashers.cache_clear()
    assert len(set(counts.values())) == 1, counts
    assert min(counts.values()) == 1


@pytest.mark.parametrize("name", ["cato", "nobody"])
def test_the_seventh_try_is_refused_for_known_and_unknown_alike(cast, name):
    client = Client()
    answers = [try_password(client, f"{name}@example.test").status_code for _ in range(7)]
    assert answers[:5] == [200] * 5
    assert answers[-1] == 429
    locked = try_password(client, f"{name}@example.test", PASSWORD)
    assert locked.status_code == 429
    assert "Too many tries" in locked.content.decode()


def test_a_lockout_holds_for_that_address_only_and_for_every_spelling_of_it(cast):
    client = Client()
    for spelling in ("cato@example.test", "Cato@example.test", "CATO@example.test") * 3:
        last = try_password(client, spelling)
    assert last.status_code == 429
    assert try_password(client, cast.stan.email, PASSWORD).status_code == 302


def test_signing_in_goes_where_the_person_wanted_but_never_to_another_site(cast):
    own = Client().post(SIGN_IN, {"username": cast.cato.email, "password": PASSWORD, "next": "/account/"})
    assert own.url == "/account/"
    away = Client().post(SIGN_IN, {"username": cast.cato.email, "password": PASSWORD, "next": "https://evil.example/"})
    assert away.url == "/"


def test_signing_out_needs_a_post_and_forgets_the_browser(cast):
    client = Client()
    try_password(client, cast.cato.email, PASSWORD)
    assert client.get("/sign-out/").status_code == 405
    assert client.post("/sign-out/").status_code == 302
    assert not SignInSession.objects.exists()
    assert client.get("/account/").status_code == 302


def test_a_lost_password_says_the_same_for_everybody_and_mails_only_the_known(cast, mailoutbox):
    pages = [
        Client().post(reverse("password-reset"), {"email": email}, follow=True)
        for email in (cast.ada.email, "nobody@example.test")
    ]
    assert words(pages[0]) == words(pages[1])
    assert [m.to for m in mailoutbox] == [[cast.ada.email]]


def test_the_mailed_link_sets_a_new_password_once_and_ends_every_session(cast, mailoutbox):
    old = Client()
    try_password(old, cast.ada.email, PASSWORD)
    Client().post(reverse("password-reset"), {"email": cast.ada.email})
    link = re.search(r"http://testserver(\S+)", mailoutbox[0].body)[1]
    fresh = Client()
    form = fresh.get(link, follow=True)
    new = {"new_password1": "other-plates-and-chalk", "new_password2": "other-plates-and-chalk"}
    assert fresh.post(form.request["PATH_INFO"], new).status_code == 302
    assert old.get("/account/").status_code == 302
    assert try_password(Client(), cast.ada.email, "other-plates-and-chalk").status_code == 302
    assert "opens nothing any more" in Client().get(link, follow=True).content.decode()


def test_a_reset_ends_a_lockout(cast, mailoutbox):
    client = Client()
    for _ in range(7):
        locked = try_password(client, cast.ada.email)
    assert locked.status_code == 429
    Client().post(reverse("password-reset"), {"email": cast.ada.email})
    fresh = Client()
    form = fresh.get(re.search(r"http://testserver(\S+)", mailoutbox[0].body)[1], follow=True)
    new = {"new_password1": "other-plates-and-chalk", "new_password2": "other-plates-and-chalk"}
    fresh.post(form.request["PATH_INFO"], new)
    assert try_password(client, cast.ada.email, "other-plates-and-chalk").status_code == 302


def test_a_reset_also_ends_a_lockout_over_all_places(cast, mailoutbox, monkeypatch):
    monkeypatch.setattr("athletes.accounts.sign_in.MISSES_FOR_ONE_ACCOUNT", 2)
    for _ in range(3):
        locked = try_password(Client(), cast.ada.email)
    assert locked.status_code == 429
    Client().post(reverse("password-reset"), {"email": cast.ada.email})
    fresh = Client()
    form = fresh.get(re.search(r"http://testserver(\S+)", mailoutbox[0].body)[1], follow=True)
    new = {"new_password1": "other-plates-and-chalk", "new_password2": "other-plates-and-chalk"}
    fresh.post(form.request["PATH_INFO"], new)
    assert try_password(Client(), cast.ada.email, "other-plates-and-chalk").status_code == 302


def test_nobody_can_be_flooded_with_reset_mails(cast, mailoutbox):
    for _ in range(9):
        answer = Client().post(reverse("password-reset"), {"email": cast.ada.email})
        assert answer.status_code == 302
    assert len(mailoutbox) == 5


def test_a_broken_mail_server_breaks_no_page(cast, caplog, monkeypatch):
    def broken(self):
        raise OSError("no mail server")

    monkeypatch.setattr(EmailMessage, "send", broken)
    mail.send_later(EmailMessage("A", "b", None, ["ada@example.test"]))
    assert "could not be sent" in caplog.text
