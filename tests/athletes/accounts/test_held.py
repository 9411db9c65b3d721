"""A form that arrives without a session, or with an old token: nothing typed is lost, nothing is kept by the server."""

import re
from html import unescape

import pytest
from django.contrib.sessions.models import Session
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.utils.html import escape
from django_otp.plugins.otp_static.models import StaticDevice
from hypothesis import given
from hypothesis import strategies as st

from athletes.accounts import second_factor as steps
from athletes.accounts.saved_form import SavedForm, load_saved_form
from athletes.models import LiftSet
from tests.athletes.accounts.test_second_factor import code_of
from tests.cast import PASSWORD

HTML = {"accept": "text/html"}
TYPED = {"first_name": "Adél <b>", "last_name": "Fell", "weight_unit": "lb", "length_unit": "in"}


def hidden(page: str, name: str) -> str:
    return unescape(re.search(rf'name="{name}" value="([^"]*)"', page)[1])


def sign_in_with(client, page, email, password=PASSWORD):
    body = {"username": email, "password": password, "next": hidden(page, "next"), "held": hidden(page, "held")}
    return client.post("/sign-in/", body)


def send(client, page):
    """Press the one button of the page that shows what was typed."""
    form = re.search(r'<form method="post" action="([^"]+)" class="sheet narrow">(.*?)</form>', page, re.S)
    fields = re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)">', form[2])
    return client.post(unescape(form[1]), {n: unescape(v) for n, v in fields if n != "csrfmiddlewaretoken"})


def test_what_was_typed_goes_through_the_sign_in_and_arrives(cast):
    client = Client()
    first = client.post("/account/", TYPED, headers=HTML)
    assert first.status_code == 401
    page = first.content.decode()
    assert "it was not kept on the server" in page
    assert escape("Adél <b>") in page
    second = sign_in_with(client, page, cast.ada.email)
    assert second.status_code == 200
    assert "Send it now?" in second.content.decode()
    cast.ada.refresh_from_db()
    assert cast.ada.first_name == "Ada", "nothing is done before the person says so"
    assert send(client, second.content.decode()).url == "/account/"
    cast.ada.refresh_from_db()
    assert (cast.ada.first_name, cast.ada.weight_unit) == ("Adél <b>", "lb")


def test_a_set_that_was_typed_is_logged_once_it_is_sent_again(cast):
    path = f"/athletes/{cast.athletes['ada'].pk}/lifts/new/?next=/tonight/"
    typed = {"day": "2026-11-20", "lift": "deadlift", "load_typed": "182,5", "load_unit": "kg", "reps_tried": "1",
             "result": "made", "note": "two\nlines"}  # fmt: skip
    client = Client()
    page = sign_in_with(client, client.post(path, typed, headers=HTML).content.decode(), cast.cato.email)
    assert send(client, page.content.decode()).status_code == 302
    assert LiftSet.objects.get(note__startswith="two").load_kg == 182.5


def test_a_wrong_password_keeps_it_and_so_does_a_code(cast):
    client = Client()
    page = client.post("/account/", TYPED, headers=HTML).content.decode()
    again = sign_in_with(client, page, cast.ada.email, "wrong").content.decode()
    assert hidden(again, "held") == hidden(page, "held")
    device = steps.begin_device(cast.ada)
    steps.confirm_device(device, code_of(device))
    codes = steps.new_recovery_codes(cast.ada)
    code = sign_in_with(client, again, cast.ada.email)
    assert "Your code" in code.content.decode()
    body = {"held": hidden(code.content.decode(), "held")}
    missed = client.post("/sign-in/code/", body | {"code": "wrong"}).content.decode()
    assert hidden(missed, "held") == hidden(page, "held")
    for one in StaticDevice.objects.all():
        one.throttle_reset()
    assert "Send it now?" in client.post("/sign-in/code/", body | {"code": codes[0]}).content.decode()


def test_who_signed_in_elsewhere_meanwhile_goes_straight_to_it(cast, signed_in):
    page = Client().post("/account/", TYPED, headers=HTML).content.decode()
    assert "Send it now?" in sign_in_with(signed_in("ada"), page, cast.ada.email).content.decode()


def test_a_lockout_shows_it_for_copying(cast):
    client = Client()
    page = client.post("/account/", TYPED, headers=HTML).content.decode()
    for _ in range(7):
        last = sign_in_with(client, page, cast.ada.email, "wrong")
    assert last.status_code == 429
    assert escape("Adél <b>") in last.content.decode()


def test_passwords_and_codes_are_never_carried(cast):
    new = {"old_password": PASSWORD, "new_password1": "other-plates-9", "new_password2": "other-plates-9", "x": "y"}
    page = Client().post("/account/password/", new, headers=HTML).content.decode()
    assert PASSWORD not in page
    assert "other-plates-9" not in page


def test_nothing_is_stored_and_no_cache_may_keep_the_page(cast):
    answer = Client().post("/account/", TYPED, headers=HTML)
    assert not Session.objects.exists()
    assert "no-store" in answer["Cache-Control"]
    assert "Content-Security-Policy" in answer


def test_a_file_has_to_be_chosen_again_and_its_note_stays(cast):
    path = f"/athletes/{cast.athletes['ada'].pk}/pictures/"
    body = {"file": SimpleUploadedFile("pull.jpg", b"x"), "note": "third single"}
    page = Client().post(path, body, headers=HTML).content.decode()
    assert "Choose pull.jpg again" in page
    assert "third single" in page


def test_with_nothing_typed_or_for_a_script_the_way_to_the_sign_in_is_as_before(cast):
    assert Client().post("/account/", {}, headers=HTML).url == "/sign-in/?next=/account/"
    assert Client().post("/account/", TYPED, headers={"accept": "application/json"}).status_code == 302
    assert Client().get("/account/").status_code == 302


def test_a_form_from_elsewhere_is_not_held(cast):
    strict = Client(enforce_csrf_checks=True)
    assert strict.post("/account/", TYPED, headers=HTML).status_code == 403


@pytest.mark.parametrize(
    ("origin", "held"), [("http://testserver", True), ("https://evil.example", False), ("null", False), (None, False)]
)
def test_an_old_form_is_offered_again_only_when_it_came_from_a_page_of_ours(cast, origin, held):
    client = Client(enforce_csrf_checks=True)
    client.force_login(cast.ada, backend="django.contrib.auth.backends.ModelBackend")
    answer = client.post("/account/", TYPED, headers=HTML | ({"origin": origin} if origin else {}))
    page = answer.content.decode()
    assert answer.status_code == 403
    assert "Nothing was kept on the server" in page
    assert "back button keeps what you typed" in page
    assert ("Send it" in page and escape("Adél <b>") in page) == held
    cast.ada.refresh_from_db()
    assert cast.ada.first_name == "Ada"


def test_the_fresh_token_of_an_old_form_opens(cast):
    client = Client(enforce_csrf_checks=True)
    client.force_login(cast.ada, backend="django.contrib.auth.backends.ModelBackend")
    page = client.post("/account/", TYPED, headers=HTML | {"origin": "http://testserver"}).content.decode()
    answer = client.post("/account/", TYPED | {"csrfmiddlewaretoken": hidden(page, "csrfmiddlewaretoken")})
    assert answer.status_code == 302


AWAY = ("https://evil.example/", "//evil.example/account/", "/\\evil.example", "javascript:x", "")


@pytest.mark.parametrize("to", AWAY)
def test_it_is_only_ever_sent_to_an_address_of_ours(to):
    assert load_saved_form(SavedForm(to, (("a", "b"),)).text) is None


@given(st.text(max_size=200))
def test_whatever_a_sign_in_carries_it_is_read_or_left(text):
    load_saved_form(text)


@given(st.lists(st.tuples(st.text(max_size=20), st.text(max_size=50)), max_size=6))
def test_what_is_held_comes_out_as_it_went_in(pairs):
    fields = tuple((f"f{n}", value) for n, (_, value) in enumerate(pairs))
    assert load_saved_form(SavedForm("/account/?a=b", fields, ("f.jpg",)).text) == SavedForm(
        "/account/?a=b", fields, ("f.jpg",)
    )


@pytest.mark.parametrize("value", ["\\ud800", "\\u0000"])
def test_what_no_page_can_show_is_left(db, value):
    held = '{"to": "/account/", "fields": [["a", "HERE"]], "files": []}'.replace("HERE", value)
    assert Client().post("/sign-in/", {"username": "x", "password": "y", "held": held}).status_code == 200
