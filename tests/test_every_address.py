"""Every address, every role, own and other club, reading and writing: one table, and no address without a row."""

import logging
from collections.abc import Iterator

import pytest
from django.db import transaction
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, reverse
from django.urls.resolvers import RoutePattern

from tests.addresses import whole_table
from tests.addresses.frame import OK, ROLES, SIGN_IN, Row, strangers
from tests.addresses.world import make_world

TABLE = whole_table()
WHO = {
    "anonymous": None,
    "owner": "ona",
    "coach": "cato",
    "other_coach": "bea",
    "staff": "stan",
    "self": "ada",
    "other_owner": "olga",
    "superuser": "nils",
}


def addresses(resolver: URLResolver) -> Iterator[URLPattern]:
    for entry in resolver.url_patterns:
        if isinstance(entry, URLResolver):
            yield from addresses(entry)
        else:
            yield entry


FOUND = list(addresses(get_resolver()))


def test_every_address_has_a_row_and_every_row_an_address():
    unnamed = [str(a.pattern) for a in FOUND if not a.name]
    assert unnamed == [], "give these addresses a name"
    missing = {
        a.name: f'"{a.name}": row({dict.fromkeys(a.pattern.converters, "SAMPLE")}, get=..., post=...)'
        for a in FOUND
        if a.name not in TABLE
    }
    hint = "\n".join(missing.values())
    assert not missing, f"add to the module of its part in tests/addresses/ (see frame.py for the words):\n{hint}"
    stale = TABLE.keys() - {a.name for a in FOUND}
    assert not stale, f"these rows of tests/addresses/ name no address any more: {sorted(stale)}"


def test_every_address_is_a_plain_route_and_every_row_answers_every_role():
    assert all(isinstance(a.pattern, RoutePattern) for a in FOUND)
    for name, line in TABLE.items():
        assert set(line.get) == set(line.post) == set(ROLES), name


@pytest.fixture
def world(cast):
    cast.nils.is_superuser = cast.nils.is_staff = True
    cast.nils.save()
    return make_world(cast)


def sample(word: str, things: dict[str, object]) -> object:
    return word[1:] if word.startswith("=") else things[word]


def fits(response, wanted: object, verb: str) -> bool:
    """Whether an answer is the wanted one; a writer's empty form may come back with what to mend."""
    to_sign_in = response.status_code == 302 and response.url.startswith("/sign-in/?next=")
    if wanted == SIGN_IN:
        return to_sign_in or response.status_code == 401
    if wanted == OK:
        return not to_sign_in and (
            response.status_code < 400 or (verb == "post" and response.status_code in (400, 409, 422))
        )
    return response.status_code == wanted or (wanted == 405 and to_sign_in)


def answer(client: Client, verb: str, path: str, line: Row):
    """Ask, and take back whatever the asking changed."""
    with transaction.atomic():
        ask = client.get(path + line.query) if verb == "get" else client.post(path, line.body)
        if getattr(ask, "streaming", False):
            b"".join(ask.streaming_content)
        transaction.set_rollback(True)
    return ask


@pytest.mark.parametrize("name", sorted(TABLE))
def test_each_role_gets_what_the_table_says(name, cast, world, signed_in, caplog):
    caplog.set_level(logging.ERROR)
    line = TABLE[name]
    wrong = []
    for side in ("own", "other") if line.args else ("own",):
        path = reverse(name, kwargs={k: sample(word, world[side]) for k, word in line.args.items()})
        for verb, answers in (("get", line.get), ("post", line.post)):
            wanted = answers if side == "own" else strangers(answers)
            for role in ROLES:
                client = signed_in(WHO[role])
                client.raise_request_exception = False
                got = answer(client, verb, path, line)
                if not fits(got, wanted[role], verb):
                    wrong.append(f"{verb} {path} ({side} club) as {role}: {got.status_code}, wanted {wanted[role]}")
    assert not wrong, "\n".join(wrong)
