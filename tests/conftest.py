"""Shared fixtures: the cast and clients signed in as its members."""

import os

import pytest
from django.test import Client
from hypothesis import settings as examples

from tests.cast import Cast, make_cast

os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")

# `make test` tries the same examples on every machine; `make fuzz` tries new ones, and what it finds becomes a test.
examples.register_profile("steady", derandomize=True, deadline=None)
examples.register_profile("new", derandomize=False, deadline=None, print_blob=True)
examples.load_profile(os.environ.get("STANCEBOOK_EXAMPLES", "steady"))


@pytest.fixture(autouse=True)
def _quick_and_private(settings, tmp_path):
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    settings.TASKS = {"default": {"BACKEND": settings.TASK_BACKENDS["immediate"]}}
    settings.MEDIA_ROOT = tmp_path / "media"
    settings.ERASURE_LEDGER = tmp_path / "erasures.jsonl"
    settings.SECURE_SSL_REDIRECT = settings.SESSION_COOKIE_SECURE = settings.CSRF_COOKIE_SECURE = False
    settings.STORAGES = {
        **settings.STORAGES,
        "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
    }


@pytest.fixture
def cast(db) -> Cast:
    return make_cast()


@pytest.fixture
def signed_in(cast):
    """`signed_in("cato")` is a client signed in as that member of the cast; `None` is a stranger."""

    def as_(name: str | None) -> Client:
        client = Client()
        if name is not None:
            client.force_login(cast.users[name], backend="django.contrib.auth.backends.ModelBackend")
        return client

    return as_
