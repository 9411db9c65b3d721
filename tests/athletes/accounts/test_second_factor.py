"""The second step: asked once set up, codes used once, recovery codes, switching off."""

import time

import pytest
from django.test import Client
from django_otp.oath import TOTP
from django_otp.plugins.otp_static.models import StaticDevice
from django_otp.plugins.otp_totp.models import TOTPDevice

from athletes.accounts import second_factor as steps
from tests.cast import PASSWORD


def code_of(device: TOTPDevice, after: int = 0) -> str:
    """What the phone shows, `after` steps of 30 s from now."""
    clock = TOTP(device.bin_key)
    clock.time = time.time() + 30 * after
    return f"{clock.token():06d}"


@pytest.fixture
def guarded(cast):
    """Cato with a confirmed phone and recovery codes."""
    device = steps.begin_device(cast.cato)
    codes = steps.confirm_device(device, code_of(device))
    return cast.cato, TOTPDevice.objects.get(user=cast.cato), codes


def password_step(user) -> Client:
    client = Client()
    assert client.post("/sign-in/", {"username": user.email, "password": PASSWORD}).url == "/sign-in/code/"
    return client


def test_setting_up_shows_a_square_code_and_the_recovery_codes_once(signed_in, cast):
    client = signed_in("cato")
    assert client.post("/account/second-step/begin/", {"password": "not this"}).status_code == 200
    assert not TOTPDevice.objects.exists()
    client.post("/account/second-step/begin/", {"password": PASSWORD})
    device = TOTPDevice.objects.get()
    page = client.get("/account/second-step/").content.decode()
    assert "<svg" in page
    assert steps.secret_words(device) in page
    wrong = client.post("/account/second-step/confirm/", {"code": "000000"})
    assert "does not fit" in wrong.content.decode()
    device.throttle_reset()
    shown = client.post("/account/second-step/confirm/", {"code": code_of(device)}).content.decode()
    assert shown.count("<code>") == 10
    assert "<code>" not in client.get("/account/second-step/").content.decode()
    stored = StaticDevice.objects.get(user=cast.cato).token_set.first().token
    assert stored not in shown


def test_the_password_alone_opens_nothing_once_it_is_on(guarded):
    user, _, _ = guarded
    client = password_step(user)
    assert client.get("/account/").status_code == 302
    assert client.get("/sign-in/code/").status_code == 200


def test_a_code_opens_and_cannot_be_used_twice(guarded):
    user, device, _ = guarded
    code = code_of(device, after=1)  # the step of now was used up by the set-up
    assert password_step(user).post("/sign-in/code/", {"code": code}).status_code == 302
    again = password_step(user).post("/sign-in/code/", {"code": code})
    assert again.status_code == 200
    assert "did not open" in again.content.decode()


def test_a_recovery_code_opens_once(guarded):
    user, _, codes = guarded
    client = password_step(user)
    assert client.post("/sign-in/code/", {"code": codes[0].upper()}).status_code == 302
    assert client.get("/account/").status_code == 200
    assert password_step(user).post("/sign-in/code/", {"code": codes[0]}).status_code == 200


def test_wrong_codes_slow_down_so_that_even_a_right_one_must_wait(guarded):
    user, device, _ = guarded
    client = password_step(user)
    for _ in range(4):
        client.post("/sign-in/code/", {"code": "000000"})
    assert client.post("/sign-in/code/", {"code": code_of(device, after=1)}).status_code == 200


def test_the_second_step_cannot_be_reached_without_the_password(cast):
    assert Client().get("/sign-in/code/").url == "/sign-in/"


def test_the_ten_minutes_run_out(guarded, monkeypatch):
    user, device, _ = guarded
    client = password_step(user)
    later = time.time() + 601
    monkeypatch.setattr("athletes.accounts.sign_in.time.time", lambda: later)
    assert client.post("/sign-in/code/", {"code": code_of(device, after=1)}).url == "/sign-in/"


def test_a_changed_password_ends_a_half_done_sign_in(guarded):
    user, device, _ = guarded
    client = password_step(user)
    user.set_password("other-plates-and-chalk")
    user.save()
    assert client.post("/sign-in/code/", {"code": code_of(device, after=1)}).url == "/sign-in/"


def test_switching_off_and_renewing_ask_for_the_password(guarded, signed_in):
    user, _, codes = guarded
    client = signed_in("cato")
    client.post("/account/second-step/remove/", {"password": "not this"})
    assert steps.has_second_factor(user)
    renewed = client.post("/account/second-step/codes/", {"password": PASSWORD}).content.decode()
    assert renewed.count("<code>") == 10
    assert steps.matching_device(user, codes[0]) is None
    client.post("/account/second-step/remove/", {"password": PASSWORD})
    assert not steps.has_second_factor(user)
    assert not StaticDevice.objects.filter(user=user).exists()


def test_guessing_the_password_from_a_stolen_session_is_stopped(guarded, signed_in):
    client = signed_in("cato")
    for _ in range(11):
        client.post("/account/second-step/remove/", {"password": "guess"})
    stopped = client.post("/account/second-step/remove/", {"password": PASSWORD})
    assert "Too many tries" in stopped.content.decode()
    assert TOTPDevice.objects.exists()
