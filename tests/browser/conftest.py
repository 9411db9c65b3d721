"""A real browser on a live server; every page is watched for console errors and policy violations."""

import os
import shutil
from collections.abc import Callable, Iterator

import pytest
from django.conf import settings
from django.db import connection
from django.test import Client
from playwright.sync_api import Browser, Page, Playwright, sync_playwright

from tests.browser.flags import FLAGS
from tests.cast import Cast, make_cast

os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if "tests/browser" in str(item.path):
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def django_db_modify_db_settings(tmp_path_factory: pytest.TempPathFactory) -> None:
    """SQLite in a file of each worker's own: one in memory knows no waiting, and page and test would collide."""
    if connection.vendor == "sqlite":
        connection.settings_dict["TEST"]["NAME"] = str(tmp_path_factory.mktemp("browser") / "test.sqlite3")


@pytest.fixture(scope="session")
def playwright_engine() -> Iterator[Playwright]:
    with sync_playwright() as engine:
        yield engine


@pytest.fixture(scope="session")
def browser(playwright_engine: Playwright) -> Iterator[Browser]:
    found = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    started = playwright_engine.chromium.launch(executable_path=found, args=FLAGS)
    yield started
    started.close()


@pytest.fixture
def live_cast(transactional_db: None) -> Cast:
    return make_cast()


@pytest.fixture
def page_for(browser: Browser, live_server) -> Iterator[Callable[..., Page]]:
    """`page_for(user, width=390, dark=False)` opens a signed-in page; at the end nothing may have complained."""
    contexts, complaints = [], []

    def open_page(user=None, width: int = 1280, height: int = 900, dark: bool = False, **extra: object) -> Page:
        context = browser.new_context(
            viewport={"width": width, "height": height},
            color_scheme="dark" if dark else "light",
            base_url=live_server.url,
            **extra,
        )
        contexts.append(context)
        if user is not None:
            client = Client()  # one browser each: signing a second person in must not end the first one's session
            client.force_login(user, backend="django.contrib.auth.backends.ModelBackend")
            cookie = client.cookies[settings.SESSION_COOKIE_NAME]
            context.add_cookies([{"name": cookie.key, "value": cookie.value, "url": live_server.url}])
        page = context.new_page()
        page.complaints = complaints
        page.on("console", lambda m: complaints.append(m.text) if m.type == "error" else None)
        page.on("pageerror", lambda e: complaints.append(str(e)))
        return page

    yield open_page
    for context in contexts:
        context.close()
    assert complaints == []


def no_sideways_scroll(page: Page) -> bool:
    """Whether the page fits its window's width."""
    return page.evaluate("() => document.documentElement.scrollWidth <= window.innerWidth + 1")
