"""Counts of tries: in the database, for all server processes together, and by the right network address."""

import re
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from http.client import HTTPConnection
from urllib.parse import urlencode

import pytest
from django.conf import settings
from django.core.cache import caches
from django.test import Client, RequestFactory, override_settings
from django.utils import timezone
from hypothesis import given
from hypothesis import strategies as st

from athletes.access.client_address import client_address
from athletes.accounts import sign_in
from athletes.accounts.throttle import hit_rate_limit, rate_limited
from athletes.models import Tally
from tests.cast import PASSWORD
from tests.own_server import OwnServer, own_database

RESET = "/password-reset/"


def test_the_count_is_reached_and_ends_after_its_time(db):
    assert [hit_rate_limit("x", "a", 2, 60) for _ in range(4)] == [False, False, True, True]
    assert not hit_rate_limit("x", "b", 2, 60)
    assert not hit_rate_limit("y", "a", 2, 60)
    assert rate_limited("x", "a", 2)
    Tally.objects.update(ends=timezone.now() - timedelta(seconds=1))
    assert not rate_limited("x", "a", 2)
    assert not hit_rate_limit("x", "a", 2, 60)


def test_nothing_of_it_is_in_one_process_alone(cast, mailoutbox):
    for _ in range(8):
        for cache in caches.all():
            cache.clear()  # as another process would see it
        Client().post(RESET, {"email": cast.ada.email})
    assert len(mailoutbox) == 5


def test_the_table_names_nobody(cast):
    Client().post(RESET, {"email": cast.ada.email})
    assert Tally.objects.count() == 2  # the address asked for, and where from
    assert all(len(row.key) == 64 and "@" not in row.key for row in Tally.objects.all())


class Visitor:
    """A browser without a session that asks for a link."""

    def __init__(self, server: OwnServer) -> None:
        self.server = server

    def ask(self, email: str) -> int:
        link = HTTPConnection("127.0.0.1", self.server.port, timeout=60)
        link.request("GET", RESET)
        page = link.getresponse()
        cookie = page.headers["Set-Cookie"].split(";")[0]
        token = re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', page.read().decode())[1]
        head = {"Cookie": cookie, "Content-Type": "application/x-www-form-urlencoded"}
        link.request("POST", RESET, urlencode({"email": email, "csrfmiddlewaretoken": token}), head)
        answer = link.getresponse()
        answer.read()
        link.close()
        return answer.status


def test_two_server_processes_at_once_count_together(tmp_path):
    with own_database(tmp_path, settings.DATABASES["default"]) as address:
        server = OwnServer(tmp_path, address, threads=4)
        server.seed()
        server.start()
        try:
            with ThreadPoolExecutor(8) as pool:
                answers = list(pool.map(Visitor(server).ask, ["nobody@example.test"] * 24))
            assert answers == [302] * 24
            assert server.query("list(Tally.objects.values_list('count', flat=True))") == [24, 24]
        finally:
            server.kill()


@pytest.mark.parametrize("email", ["ada@example.test", "nobody@example.test"])
def test_links_for_one_account_and_links_from_one_place_run_out_for_known_and_unknown_alike(
    cast, mailoutbox, monkeypatch, email
):
    monkeypatch.setattr(sign_in, "RESETS_FROM_ONE_PLACE", 7)
    answers = [Client().post(RESET, {"email": email}) for _ in range(8)]
    assert [a.status_code for a in answers] == [302] * 7 + [200]
    assert "Too many links were asked for from here" in answers[-1].content.decode()
    assert f'value="{email}"' in answers[-1].content.decode()
    assert len(mailoutbox) == (5 if email == cast.ada.email else 0)


def test_one_place_cannot_try_one_password_on_many_accounts(cast, monkeypatch):
    monkeypatch.setattr(sign_in, "MISSES_FROM_ONE_PLACE", 4)
    for n in range(4):
        assert Client().post("/sign-in/", {"username": f"u{n}@example.test", "password": "no"}).status_code == 200
    right = {"username": cast.ada.email, "password": PASSWORD}
    refused = Client().post("/sign-in/", right)
    assert refused.status_code == 429
    assert "Too many tries" in refused.content.decode()
    assert Client(REMOTE_ADDR="192.0.2.9").post("/sign-in/", right).status_code == 302


def miss(email: str, place: str) -> int:
    return Client(REMOTE_ADDR=place).post("/sign-in/", {"username": email, "password": "no"}).status_code


@pytest.mark.parametrize("email", ["ada@example.test", "nobody@example.test"])
def test_one_account_cannot_be_tried_from_many_places(cast, monkeypatch, email):
    monkeypatch.setattr(sign_in, "MISSES_FOR_ONE_ACCOUNT", 4)
    assert [miss(spelling, f"192.0.2.{n}") for n, spelling in enumerate([email, email.upper()] * 2)] == [200] * 4
    right = {"username": email, "password": PASSWORD}
    refused = Client(REMOTE_ADDR="192.0.2.99").post("/sign-in/", right)
    assert refused.status_code == 429 and "Too many tries" in refused.content.decode()
    assert miss("cato@example.test", "192.0.2.99") == 200
    Tally.objects.update(ends=timezone.now() - timedelta(seconds=1))
    assert Client().post("/sign-in/", right).status_code == (302 if email.startswith("ada") else 200)


def test_one_place_alone_cannot_close_an_account_for_others(cast):
    places = [f"192.0.2.{n}" for n in range(6)]
    right = {"username": cast.ada.email, "password": PASSWORD}
    for place in places[:-1]:
        for _ in range(12):
            last = miss(cast.ada.email, place)
        assert last == 429
    assert Client(REMOTE_ADDR="198.51.100.1").post("/sign-in/", right).status_code == 302
    for _ in range(5):
        assert miss(cast.ada.email, places[-1]) == 200
    assert Client(REMOTE_ADDR="198.51.100.1").post("/sign-in/", right).status_code == 429


def asked_from(seen: str, told: str | None = None) -> str | None:
    extra = {} if told is None else {"HTTP_X_FORWARDED_FOR": told}
    return client_address(RequestFactory().get("/", REMOTE_ADDR=seen, **extra))


def test_no_header_is_believed_unless_the_setting_says_so():
    assert asked_from("192.0.2.1", "203.0.113.9") == "192.0.2.1"


@pytest.mark.parametrize(
    ("proxies", "told", "wanted"),
    [
        (1, "203.0.113.9", "203.0.113.9"),
        (1, "10.0.0.1, 198.51.100.7, 203.0.113.9", "203.0.113.9"),  # the rest was sent by the visitor
        (2, "10.0.0.1, 203.0.113.9, 192.0.2.200", "203.0.113.9"),
        (2, "203.0.113.9", "192.0.2.1"),  # not through both: what the connection says
        (1, "unknown", "192.0.2.1"),
        (1, None, "192.0.2.1"),
    ],
)
def test_with_proxies_of_ones_own_only_what_they_wrote_counts(settings, proxies, told, wanted):
    settings.PROXIES = proxies
    assert asked_from("192.0.2.1", told) == wanted


def test_a_network_of_one_household_is_one_place():
    assert asked_from("2001:db8:1:2:3::1") == asked_from("2001:db8:1:2:ffff::9") == "2001:db8:1:2::"
    assert asked_from("::ffff:192.0.2.1") == "192.0.2.1"
    assert asked_from("") is None


@given(st.text(max_size=60), st.integers(0, 3))
def test_whatever_the_header_holds_it_is_read_or_left(told, proxies):
    with override_settings(PROXIES=proxies):
        assert asked_from("192.0.2.1", told) is not None


def test_a_spoofed_header_opens_no_second_count_of_tries(cast):
    for n in range(7):
        last = Client().post(
            "/sign-in/", {"username": cast.ada.email, "password": "no"}, headers={"x-forwarded-for": f"203.0.113.{n}"}
        )
    assert last.status_code == 429


def test_behind_a_proxy_each_visitor_has_a_count_of_their_own(cast, settings):
    settings.PROXIES = 1
    body = {"username": cast.ada.email, "password": "no"}
    for _ in range(7):
        last = Client().post("/sign-in/", body, headers={"x-forwarded-for": "203.0.113.1"})
    assert last.status_code == 429
    other = Client().post("/sign-in/", body | {"password": PASSWORD}, headers={"x-forwarded-for": "203.0.113.2"})
    assert other.status_code == 302


def test_guessing_at_the_password_change_from_a_stolen_session_is_stopped(cast, signed_in):
    thief = signed_in("ada")
    new = {"new_password1": "other-plates-9", "new_password2": "other-plates-9"}
    for _ in range(11):
        page = thief.post("/account/password/", {"old_password": "guess"} | new)
    assert "Too many tries" in page.content.decode()
    right = thief.post("/account/password/", {"old_password": PASSWORD} | new)
    assert "Too many tries" in right.content.decode()
