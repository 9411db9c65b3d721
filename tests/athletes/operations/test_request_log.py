"""The log has one line of JSON a request and names nobody."""

import json
import logging
import os
import secrets
import subprocess
import sys

import pytest
from django.test import Client

from athletes.operations.request_log import JsonLines


@pytest.fixture
def lines(caplog):
    """The lines the log would have written so far, parsed."""
    caplog.set_level(logging.INFO, logger="stancebook.requests")
    return lambda: [json.loads(JsonLines().format(record)) for record in caplog.records]


def test_a_request_is_one_line_with_the_pattern_of_its_address(lines, cast):
    client = Client()
    client.force_login(cast.cato)
    ada = cast.athletes["ada"]
    answer = client.get(f"/athletes/{ada.pk}/lifts/?q=Ada+Fell", headers={"user-agent": "Ada's phone"})
    line = next(one for one in lines() if one["logger"] == "stancebook.requests")
    assert line["route"] == "athletes/<int:pk>/lifts/" and line["method"] == "GET"
    assert line["status"] == answer.status_code and line["bytes"] == len(answer.content) and line["ms"] > 0
    assert "Ada" not in json.dumps(line) and "\n" not in json.dumps(line)


def test_the_answer_carries_the_number_and_every_request_has_its_own(client, db):
    numbers = {client.get("/sign-in/").headers["X-Request-ID"] for _ in range(3)}
    assert len(numbers) == 3


@pytest.mark.parametrize(
    ("proxies", "given", "taken"),
    [
        (1, "abcd-1234-ef", True),
        (0, "abcd-1234-ef", False),
        (1, "a b", False),
        (1, "x" * 65, False),
        (1, "short", False),
    ],
)
def test_a_number_is_taken_only_from_a_proxy_of_ones_own_and_in_its_form(client, db, settings, proxies, given, taken):
    settings.PROXIES = proxies
    assert (client.get("/sign-in/", headers={"x-request-id": given}).headers["X-Request-ID"] == given) is taken


def test_a_refused_address_stands_in_the_log_without_itself(lines, client, db):
    client.get("/people/Ada-Fell/")
    told = [one for one in lines() if one["logger"].startswith("django.request")]
    assert told and all("Ada" not in json.dumps(one) for one in told)
    assert told[0]["text"] == "Not Found: -"


def test_an_error_is_told_by_kind_and_place_without_its_text():
    try:
        try:
            raise KeyError("ada@example.test")
        except KeyError as first:
            raise ValueError("Key (email)=(ada@example.test) exists") from first
    except ValueError:
        record = logging.getLogger("x").makeRecord("x", logging.ERROR, "f", 1, "went wrong", (), None)
        record.exc_info = sys.exc_info()
    told = json.loads(JsonLines().format(record))
    assert told["error"] == ["ValueError", "KeyError"] and told["text"] == "went wrong"
    assert "test_request_log.py" in told["places"][-1] and "ada@" not in json.dumps(told)


SERVER = """
import django
django.setup()
import logging
logging.getLogger("stancebook.requests").info("request", extra={"line": {"route": "x"}})
logging.getLogger("django.request").warning("%s: %s", "Not Found", "/athletes/1/")
"""


@pytest.mark.parametrize(("debug", "lines"), [("0", 2), ("1", 0)])
def test_a_server_writes_lines_and_a_developers_machine_words(tmp_path, debug, lines):
    own = {
        name: text for name, text in os.environ.items() if not name.startswith(("DJANGO_", "STANCEBOOK_", "DATABASE_"))
    }
    env = own | {
        "DJANGO_DEBUG": debug, "DJANGO_SECRET_KEY": secrets.token_urlsafe(60), "STANCEBOOK_VAR": str(tmp_path),
        "DJANGO_SETTINGS_MODULE": "config.settings",
    }  # fmt: skip
    done = subprocess.run([sys.executable, "-c", SERVER], env=env, capture_output=True, text=True, check=True)
    written = done.stderr.splitlines()
    assert sum(line.startswith("{") for line in written) == lines
    if lines:
        assert [json.loads(line)["level"] for line in written] == ["info", "warning"]
    else:
        assert written == ["Not Found: /athletes/1/"]
