"""Makes the pictures of README.md from the invented demo: `make shots`."""

import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from tests.browser.flags import FLAGS

IMAGES = Path(__file__).resolve().parents[2] / "docs" / "images"
VISITS = 30  # of a page that computes lifter by lifter, until all are there
SHOTS = (
    ("decision", "coach@kiln.example", "/athletes/1/decision/", 1280, 800),
    ("leverages", "coach@kiln.example", "/athletes/1/leverages/", 1280, 800),
    ("squad", "coach@kiln.example", "/squad/", 1280, 800),
    ("today", "athlete@kiln.example", "/", 390, 844),
)


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def wait_for(port: int) -> None:
    """Until the server answers, at most two minutes."""
    for _ in range(240):
        try:
            socket.create_connection(("localhost", port), 1).close()
            return
        except OSError:
            time.sleep(0.5)


def demo_password() -> str:
    import django

    django.setup()
    from athletes.demo.build import DEMO_PASSWORD

    return DEMO_PASSWORD


def sign_in(page: Page, email: str) -> None:
    page.goto("/sign-in/")
    page.fill("input[name=username]", email)
    page.fill("input[name=password]", demo_password())
    page.click("main button[type=submit]")
    page.wait_for_load_state()


def take(base_url: str) -> None:
    IMAGES.mkdir(parents=True, exist_ok=True)
    with sync_playwright() as engine:
        browser = engine.chromium.launch(executable_path=shutil.which("chromium"), args=FLAGS)
        for name, email, path, width, height in SHOTS:
            context = browser.new_context(viewport={"width": width, "height": height}, base_url=base_url)
            page = context.new_page()
            page.set_default_timeout(120_000)  # a busy machine draws slowly
            sign_in(page, email)
            for _ in range(VISITS):
                page.goto(path)
                page.wait_for_load_state("networkidle")
                if not page.locator("meta[http-equiv=refresh]").count():
                    break
            page.screenshot(path=IMAGES / f"{name}.png")
            context.close()
        browser.close()


def main() -> None:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
    with tempfile.TemporaryDirectory() as var:
        env = {**os.environ, "STANCEBOOK_VAR": var, "DJANGO_DEBUG": "1", "STANCEBOOK_TASKS": "immediate"}
        for command in (["migrate", "-v0"], ["load_demo"]):
            subprocess.run([sys.executable, "manage.py", *command], env=env, check=True, stdout=subprocess.DEVNULL)
        port = free_port()
        server = subprocess.Popen(
            [sys.executable, "manage.py", "runserver", "--noreload", f"localhost:{port}"],
            env=env, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        try:
            wait_for(port)
            take(f"http://localhost:{port}")
        finally:
            server.terminate()
            server.wait()


if __name__ == "__main__":
    main()
