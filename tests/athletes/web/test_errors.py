"""Answers that are errors: a page of ours with what happened and a way on, status kept, every header, none inside."""

import re
from typing import Any

import pytest
from django.core.exceptions import BadRequest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.template.loader import get_template
from django.test import Client
from django.urls import reverse

from athletes.models import Picture
from athletes.pictures.services import MAX_BYTES
from athletes.web.errors import above

HTML = {"accept": "text/html"}
WAY_ON = re.compile(r'class="button" href="/[^"]*"')


def looks_like_ours(answer) -> bool:
    text = answer.content.decode()
    return "Stancebook" in text and "<h1>" in text and "Traceback" not in text and "django" not in text.lower()


def headers_are_strict(answer) -> bool:
    wanted = {
        "X-Content-Type-Options": "nosniff", "X-Frame-Options": "DENY", "Referrer-Policy": "same-origin",
        "Cross-Origin-Opener-Policy": "same-origin",
    }  # fmt: skip
    strict = {name: answer.get(name) for name in wanted} == wanted
    return (
        strict
        and "default-src 'self'" in answer["Content-Security-Policy"]
        and "camera=()" in answer["Permissions-Policy"]
    )


def raising(error: Exception):
    def view(*args: Any, **kwargs: Any) -> None:
        raise error

    return view


@pytest.fixture
def errors(cast, signed_in, monkeypatch, settings):
    """Brings each error about and returns the answer."""

    def ask(status: int):
        client = signed_in("cato")
        client.raise_request_exception = False
        if status in (400, 500):
            error = BadRequest("secret") if status == 400 else RuntimeError("secret")
            monkeypatch.setattr("athletes.people.club_views.current_club", raising(error))
            return client.get("/club/", headers=HTML)
        if status == 403:
            return signed_in("stan").get(f"/athletes/{cast.athletes['ada'].pk}/looks/", headers=HTML)
        if status == 413:
            settings.BODY_MAX_BYTES = 1000
            return client.post("/account/", {"first_name": "x" * 2000})
        if status == 429:
            for _ in range(7):
                last = Client().post("/sign-in/", {"username": "ada@example.test", "password": "no"}, headers=HTML)
            return last
        return client.get({404: "/none/", 405: "/account/sessions/end/"}[status], headers=HTML)

    return ask


@pytest.mark.parametrize("status", [400, 403, 404, 405, 413, 429, 500])
def test_every_error_has_a_page_of_ours_with_its_status_and_every_header(errors, status):
    answer = errors(status)
    assert answer.status_code == status
    assert looks_like_ours(answer)
    assert headers_are_strict(answer)
    assert "secret" not in answer.content.decode()
    assert answer["Content-Type"].startswith("text/html")


@pytest.mark.parametrize("status", [400, 403, 404, 405, 413, 500])
def test_every_error_page_shows_a_way_on(errors, status):
    assert WAY_ON.search(errors(status).content.decode())


def test_the_plain_page_for_too_many_tries_is_there_for_answers_without_words():
    assert "Wait 15 minutes" in get_template("429.html").render()


def test_a_wrong_verb_says_which_are_right_and_leads_to_the_page_above(cast, signed_in):
    answer = signed_in("ada").get("/account/second-step/begin/", headers=HTML)
    assert (answer.status_code, answer["Allow"]) == (405, "POST")
    assert 'href="/account/second-step/"' in answer.content.decode()
    assert "Nothing was sent" in answer.content.decode()


@pytest.mark.parametrize(
    ("path", "wanted"),
    [
        ("/account/sessions/end/", "/account/"),
        ("/athletes/7/lifts/3/undo/", "/athletes/7/lifts/3/"),
        ("/imports/4/answers/", "/imports/4/"),
        ("/club/bars/add/", "/club/"),
        ("/sign-out/", "/"),
        ("//evil.example/x/", "/"),
    ],
)
def test_the_page_above_is_the_nearest_one_there_is(path, wanted):
    assert above(path) == wanted


def test_a_script_that_asks_for_json_gets_no_page(signed_in):
    answer = signed_in("cato").get("/floor/entries/", headers={"accept": "application/json"})
    assert (answer.status_code, answer.content) == (405, b"")


def test_an_unknown_host_is_answered_with_every_header_also_on_a_server(settings):
    settings.ALLOWED_HOSTS, settings.SECURE_SSL_REDIRECT = ["stancebook.example"], True
    answer = Client().get("/sign-in/", headers={"host": "evil.example"})
    assert answer.status_code == 400
    assert looks_like_ours(answer)
    assert headers_are_strict(answer)
    assert "evil.example" not in answer.content.decode()


def test_a_body_that_is_too_long_is_refused_before_it_is_kept(cast, signed_in, settings):
    settings.BODY_MAX_BYTES = 1000
    path = f"/athletes/{cast.athletes['ada'].pk}/pictures/"
    answer = signed_in("ada").post(path, {"note": "x" * 2000})
    assert answer.status_code == 413
    assert "Nothing of it was kept" in answer.content.decode()
    assert not Picture.objects.exists()
    stranger = Client().post("/sign-in/", {"username": "x" * 2000})
    assert stranger.status_code == 413


def test_a_typed_form_past_five_megabytes_says_so(signed_in, settings):
    settings.DATA_UPLOAD_MAX_MEMORY_SIZE = 1000
    client = signed_in("ada")
    client.raise_request_exception = False
    answer = client.post("/account/", "first_name=" + "x" * 2000, content_type="application/x-www-form-urlencoded")
    assert answer.status_code == 413


def test_a_long_import_still_gets_its_message_at_the_form(cast, signed_in, settings):
    settings.BODY_MAX_BYTES, settings.IMPORT_MAX_BYTES = 1000, 2000
    file = SimpleUploadedFile("log.csv", b"100 x 5\n" * 1000)
    answer = signed_in("cato").post(reverse("import-new"), {"file": file})
    assert answer.status_code == 422
    assert "The file is larger than" in answer.content.decode()


def test_the_lengths_told_are_the_lengths_that_hold(settings):
    page = get_template("413.html").render()
    assert f"{MAX_BYTES // 2**20} MB" in page
    assert f"{settings.DATA_UPLOAD_MAX_MEMORY_SIZE // 2**20} MB" in page
    assert settings.BODY_MAX_BYTES > MAX_BYTES + settings.DATA_UPLOAD_MAX_MEMORY_SIZE / 2


@pytest.mark.parametrize("length", ["", "no", "-5", "²", "9" * 30])
def test_whatever_length_is_announced_is_answered(db, length):
    answer = Client().post("/sign-in/", {}, CONTENT_LENGTH=length)
    assert answer.status_code in (200, 400, 413)


def test_signing_in_again_while_signed_in_is_no_crash(signed_in):
    assert signed_in("ada").get("/sign-in/?next=/sign-in/").url == "/"
    assert signed_in("ada").get("/sign-in/?next=home").url == "/"
