"""The pass of docs/security.md, one section of tests for each of its headings."""

import ast
import logging
import os
import re
import secrets
import subprocess
import sys
from html.parser import HTMLParser
from pathlib import Path

import pytest
from django.db import transaction
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from athletes.models import Bar, HealthNote, LiftSet
from tests.addresses import whole_table
from tests.addresses.frame import OK, Row
from tests.addresses.world import make_world
from tests.own_forms import model_forms
from tests.test_every_address import WHO, sample, world  # noqa: F401 - `world` is a fixture

ROOT = Path(__file__).resolve().parent.parent


TABLE = whole_table()


READABLE = sorted(name for name, line in TABLE.items() if OK in line.get.values())


WRITABLE = sorted(name for name, line in TABLE.items() if OK in line.post.values())


OWN_CODE = [p for top in ("athletes", "analysis", "config") for p in (ROOT / top).rglob("*.py")]


OWN_TEMPLATES = [p for top in ("athletes", "analysis") for p in (ROOT / top).rglob("html/**/*") if p.is_file()]


@pytest.fixture(autouse=True)
def _quiet(caplog):
    caplog.set_level(logging.CRITICAL)


def path_of(name: str, things: dict[str, object]) -> str:
    return reverse(name, kwargs={k: sample(word, things) for k, word in TABLE[name].args.items()})


def reader_of(line: Row) -> str:
    """Somebody who may read the address: anonymous if everybody may."""
    return next(role for role in ("anonymous", "owner", "self", "other_owner") if line.get[role] == OK)


def read(name: str, things: dict[str, object], client: Client, query: str = "") -> HttpResponse:
    with transaction.atomic():
        response = client.get(path_of(name, things) + (query or TABLE[name].query))
        body = b"".join(response.streaming_content) if response.streaming else response.content
        transaction.set_rollback(True)
    response.whole = body
    return response


POLICY = {
    "default-src": "'self'",
    "script-src": "'self'",
    "style-src": "'self'",
    "img-src": "'self' data: blob:",
    "connect-src": "'self'",
    "worker-src": "'self'",
    "manifest-src": "'self'",
    "object-src": "'none'",
    "base-uri": "'none'",
    "form-action": "'self'",
    "frame-ancestors": "'none'",
}


class Inline(HTMLParser):
    """Collects what a strict policy would block: scripts and styles in the page, handlers, script addresses."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.script = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        data_only = given.get("type") == "application/json"
        if (tag == "script" and "src" not in given and not data_only) or tag == "style" or "style" in given:
            self.found.append(f"<{tag} {given}>")
        self.found += [f"{tag} {key}" for key in given if key.startswith("on")]
        urls = [given.get(key) or "" for key in ("href", "src", "action", "formaction")]
        self.found += [url for url in urls if url.strip().lower().startswith(("javascript:", "data:text"))]
        away = [url for url in urls if re.match(r"(https?:)?//", url)]
        self.found += away if tag in ("script", "link", "img", "iframe", "form") else []


@pytest.mark.parametrize("name", READABLE)
def test_every_readable_address_sends_the_strict_headers_and_no_inline_code(name, world, signed_in):  # noqa: F811
    role = reader_of(TABLE[name])
    response = read(name, world["own"], signed_in(WHO[role]))
    policy = dict(part.strip().split(" ", 1) for part in response["Content-Security-Policy"].split(";"))
    assert policy == POLICY
    assert response["X-Content-Type-Options"] == "nosniff"
    assert response["X-Frame-Options"] == "DENY"
    assert response["Referrer-Policy"] == "same-origin"
    assert response["Cross-Origin-Opener-Policy"] == "same-origin"
    assert "camera=()" in response["Permissions-Policy"]
    if role != "anonymous":
        assert "no-store" in response["Cache-Control"] or "no-cache" in response["Cache-Control"]
        assert "public" not in response["Cache-Control"]
    if response["Content-Type"].startswith("text/html"):
        page = Inline()
        page.feed(response.whole.decode())
        assert page.found == []


def test_no_template_holds_inline_code_or_switches_escaping_off():
    inline = re.compile(r"<style|\sstyle=|<script(?![^>]*\ssrc=)(?![^>]*application/json)|\son\w+=|javascript:", re.I)
    unescaped = re.compile(r"\|\s*safe\b|autoescape off|\|\s*safeseq")
    pages = [p for p in OWN_TEMPLATES if p.suffix in {".html", ".svg"}]
    assert len(pages) > 30
    assert [str(p.relative_to(ROOT)) for p in pages if inline.search(p.read_text())] == []
    assert [str(p.relative_to(ROOT)) for p in pages if unescaped.search(p.read_text())] == []
    plain = [p for p in OWN_TEMPLATES if unescaped.search(p.read_text()) and p.suffix != ".txt"]
    assert plain == []


ERRORS = ("400", "403", "403_csrf", "404", "405", "413", "429", "500")


@pytest.mark.parametrize("name", [f"{error}.html" for error in ERRORS])
def test_error_pages_are_our_own_words_without_inline_code(name):
    text = (ROOT / "athletes" / "web" / "html" / name).read_text()
    assert 'extends "base.html"' in text
    assert "<h1>" in text


def test_a_missing_page_a_refusal_an_old_form_and_a_crash_are_answered_in_our_words(cast, signed_in, monkeypatch):
    assert "Nothing here for you" in signed_in("cato").get("/none/").content.decode()
    refused = signed_in("stan").get(f"/athletes/{cast.athletes['ada'].pk}/looks/")
    assert "not change it" in refused.content.decode()
    old_form = Client(enforce_csrf_checks=True).post("/sign-in/", {"username": "a@example.test", "password": "b"})
    assert (old_form.status_code, "grown old" in old_form.content.decode()) == (403, True)

    def broken(*args, **kwargs):
        raise RuntimeError

    monkeypatch.setattr("athletes.people.club_views.current_club", broken)
    client = signed_in("cato")
    client.raise_request_exception = False
    crash = client.get("/club/")
    assert (crash.status_code, "broke on our side" in crash.content.decode()) == (500, True)
    page = Inline()
    page.feed(crash.content.decode())
    assert page.found == []


def test_the_deploy_check_finds_nothing_with_the_settings_of_a_server():
    server = {k: v for k, v in os.environ.items() if not k.startswith(("DJANGO_", "STANCEBOOK_"))} | {
        "DJANGO_SECRET_KEY": secrets.token_urlsafe(60),
        "DJANGO_ALLOWED_HOSTS": "stancebook.example",
    }
    command = [sys.executable, "manage.py", "check", "--deploy", "--fail-level", "WARNING"]
    done = subprocess.run(command, env=server, cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr


def test_without_a_secret_and_without_debug_no_server_starts():
    bare = {k: v for k, v in os.environ.items() if not k.startswith(("DJANGO_", "STANCEBOOK_"))}
    command = [sys.executable, "-c", "import config.wsgi"]
    done = subprocess.run(command, env=bare, cwd=ROOT, capture_output=True, text=True)
    assert done.returncode != 0
    assert "DJANGO_SECRET_KEY" in done.stderr


def test_another_host_name_is_not_answered(settings):
    settings.ALLOWED_HOSTS = ["stancebook.example"]
    assert Client().get("/sign-in/", headers={"host": "evil.example"}).status_code == 400


NASTY = "'\"><script>alert(1)</script><img src=x onerror=alert(1)>{{ 7*7 }}{% load static %}${7*7}"


QUERIES = (
    "?page=1%27%20OR%201=1--",
    "?q=%27%22%3E%3Cscript%3E&style=%00&from=9999-99-99&page=-1",
    "?%5B%5D=1&kg=1e999",
)


@pytest.fixture
def nasty_world(cast):
    """The world with hostile text in every free field of the own club."""
    things = make_world(cast)
    ada = cast.athletes["ada"]
    ada.name = NASTY[:80]
    ada.save()
    for row in (cast.quarry, Bar.objects.get(club=cast.quarry)):
        row.name = NASTY[: row._meta.get_field("name").max_length]
        row.save()
    for user in cast.users.values():
        user.first_name, user.last_name = NASTY[:60], NASTY[60:]
        user.save()
    for model in (LiftSet, HealthNote):
        fields = {"note"} if model is LiftSet else {"text"}
        model.objects.filter(athlete=ada).update(**dict.fromkeys(fields, NASTY))
    ada.pictures.update(note=NASTY)
    ada.plan_items.update(note=NASTY[:100], cue=NASTY[:100])
    ada.decisions.update(reasons=NASTY, words_for_athlete=NASTY)
    ada.meet_entries.update(note=NASTY)
    cast.quarry.meets.update(name=NASTY[:80], note=NASTY)
    cast.quarry.imports.update(file_name=NASTY[:100])
    return things


@pytest.mark.parametrize("name", READABLE)
def test_hostile_text_is_only_ever_shown_as_text(name, nasty_world, signed_in):
    response = read(name, nasty_world["own"], signed_in(WHO[reader_of(TABLE[name])]))
    assert response.status_code < 400
    if response["Content-Type"].startswith(("text/html", "image/svg")):
        page = Inline()
        page.feed(response.whole.decode())
        assert page.found == []
        assert b"<script>alert" not in response.whole
        assert b"<img src=x" not in response.whole


@pytest.mark.parametrize("name", READABLE)
def test_hostile_queries_are_answered_and_never_break(name, world, signed_in):  # noqa: F811
    client = signed_in(WHO[reader_of(TABLE[name])])
    client.raise_request_exception = False
    answers = {query: read(name, world["own"], client, query).status_code for query in QUERIES}
    assert [a for a in answers.items() if a[1] >= 500] == []


@pytest.mark.parametrize("name", WRITABLE)
def test_hostile_bodies_are_answered_and_never_break(name, world, signed_in):  # noqa: F811
    line = TABLE[name]
    role = next(role for role in ("owner", "self", "anonymous") if line.post[role] == OK)
    client = signed_in(WHO[role])
    client.raise_request_exception = False
    words = field_names()
    for value in (NASTY, "\x00", "-1", "9" * 400, "1e999", "nan"):
        with transaction.atomic():
            answer = client.post(path_of(name, world["own"]), dict.fromkeys(words, value))
            transaction.set_rollback(True)
        assert answer.status_code < 500, (value[:20], answer.status_code)


def field_names() -> set[str]:
    """Every name that a form of the site could read, so that a hostile body reaches all of them."""
    names = re.compile(r"name=\"(\w+)\"|^    (\w+) = forms\.|POST(?:\.get)?[\[(]\"(\w+)\"", re.M)
    texts = [p.read_text() for p in [*OWN_CODE, *OWN_TEMPLATES] if p.suffix in {".py", ".html"}]
    from_forms = {field for form in model_forms() for field in form.base_fields}
    return from_forms | {word for text in texts for hit in names.findall(text) for word in hit if word}


def calls(tree: ast.AST, names: set[str]) -> list[int]:
    """Lines that call a function or method of one of these names."""
    found = [n for n in ast.walk(tree) if isinstance(n, ast.Call)]
    return [n.lineno for n in found if getattr(n.func, "attr", getattr(n.func, "id", "")) in names]


def test_no_code_builds_sql_from_text_runs_text_or_unpickles():
    bad = {}
    for path in OWN_CODE:
        tree = ast.parse(path.read_text())
        lines = calls(tree, {"raw", "extra", "RawSQL", "eval", "exec", "system", "popen", "loads_pickle"})
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and getattr(node.func, "attr", "") == "execute" and node.args:
                lines += [node.lineno] if isinstance(node.args[0], ast.BinOp) else []
            if isinstance(node, ast.Import | ast.ImportFrom):
                names = {a.name for a in node.names} | {getattr(node, "module", "") or ""}
                lines += [node.lineno] if names & {"pickle", "marshal", "shelve", "yaml"} else []
        if lines:
            bad[str(path.relative_to(ROOT))] = lines
    assert bad == {}


@pytest.mark.parametrize("name", WRITABLE)
def test_every_write_without_a_token_is_refused(name, world, cast):  # noqa: F811
    line = TABLE[name]
    role = next(role for role in ("owner", "self", "anonymous") if line.post[role] == OK)
    client = Client(enforce_csrf_checks=True)
    if WHO[role]:
        client.force_login(cast.users[WHO[role]], backend="django.contrib.auth.backends.ModelBackend")
    assert client.post(path_of(name, world["own"]), line.body).status_code == 403


def test_no_view_is_exempt_from_the_token_but_those_that_measure_an_upload_first():
    """Those hand the request on to a view that checks the token; that they do is held by the test above."""
    exempt = {str(p.relative_to(ROOT)): p.read_text() for p in OWN_CODE if "csrf_exempt" in p.read_text()}
    for path, text in exempt.items():
        assert text.count("@csrf_exempt\n") == text.count("request.upload_handlers = ["), path
        assert text.count("@csrf_exempt\n") <= text.count("@csrf_protect\n"), path
