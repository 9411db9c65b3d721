"""Account, club, privacy and picture pages in a real browser: they fit, axe finds nothing, taps put marks down."""

import time
from datetime import date
from io import BytesIO

import pytest
from axe_playwright_python.sync_playwright import Axe
from django_otp.oath import TOTP
from django_otp.plugins.otp_totp.models import TOTPDevice
from PIL import Image
from playwright.sync_api import expect

from athletes.models import GuardianConsent, SignInSession
from athletes.pictures import services as pictures
from tests.browser.conftest import no_sideways_scroll
from tests.cast import PASSWORD

WCAG = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"], "preload": False}


def axe_hits(page) -> list[tuple[str, str]]:
    """What axe finds, by rule and first place; its own probing styles are refused by our policy and put aside."""
    before = list(page.complaints)
    hits = Axe().run(page, options=WCAG).response["violations"]
    page.complaints[:] = before
    return [(hit["id"], hit["nodes"][0]["html"][:120]) for hit in hits]


@pytest.fixture
def picture(live_cast):
    out = BytesIO()
    Image.new("RGB", (400, 800), (150, 140, 120)).save(out, "JPEG")
    ada = live_cast.athletes["ada"]
    GuardianConsent.objects.create(
        athlete=live_cast.athletes["ivo"], guardian="R. Reed", given_on=date(2026, 9, 1), covers_pictures=True
    )
    return pictures.add_picture(ada, out.getvalue(), live_cast.ada, taken_on=date(2026, 11, 20))


def pages_of(cast, picture) -> list[tuple[str, str]]:
    ada, ivo = cast.athletes["ada"].pk, cast.athletes["ivo"].pk
    ona = ["account/", "account/email/", "account/password/", "account/second-step/", "club/", "privacy/"]
    own = ["looks", "changes", "erase", "consent", "pictures", f"pictures/{picture.uid}"]
    return [
        *(("ona", f"/{path}") for path in ona),
        *(("ada", f"/athletes/{ada}/{part}/") for part in own),
        ("cato", f"/athletes/{ivo}/consent/"),
        ("ada", "/account/close/"),
    ]


@pytest.mark.parametrize(("width", "dark"), [(390, False), (1280, True)])
def test_every_page_fits_and_axe_finds_nothing(page_for, live_cast, picture, width, dark):
    found = {}
    pages = {}
    for who, path in pages_of(live_cast, picture):
        page = pages.get(who) or pages.setdefault(who, page_for(live_cast.users[who], width=width, dark=dark))
        page.goto(path)
        if not no_sideways_scroll(page):
            found[path] = "scrolls sideways"
        if hits := axe_hits(page):
            found[path] = hits
    assert found == {}


@pytest.mark.parametrize("path", ["/sign-in/", "/password-reset/", "/join/none-such/", "/privacy/"])
def test_pages_for_anybody_fit_and_axe_finds_nothing(page_for, live_cast, path):
    page = page_for(None, width=390)
    page.goto(path)
    page.complaints.clear()  # the browser itself reports the 404 of an invented invitation
    assert no_sideways_scroll(page)
    assert axe_hits(page) == []


def test_taps_put_the_marks_down_and_they_are_kept(page_for, live_cast, picture):
    page = page_for(live_cast.ada, width=390)
    page.goto(f"/athletes/{live_cast.athletes['ada'].pk}/pictures/{picture.uid}/")
    frame = page.locator("[data-picture]")
    box = frame.bounding_box()
    for x, y in ((0.25, 0.5), (0.6, 0.2), (0.5, 0.9)):
        frame.click(position={"x": box["width"] * x, "y": box["height"] * y})
    page.get_by_role("button", name="Keep the marks").click()
    expect(page.get_by_text("The marks are kept")).to_be_visible()
    picture.refresh_from_db()
    for mark, share in (("hip", (0.25, 0.5)), ("shoulder", (0.6, 0.2)), ("bar", (0.5, 0.9))):
        assert picture.marks[mark] == pytest.approx(share, abs=0.01)
    assert picture.marks["size"] == [400, 800]


def test_a_phone_is_set_up_and_then_asked_for(page_for, live_cast):
    page = page_for(live_cast.cato, width=390)
    page.goto("/account/second-step/")
    page.get_by_label("Your password").fill(PASSWORD)
    page.get_by_role("button", name="Set it up").click()
    expect(page.get_by_role("img", name="A square code")).to_be_visible()
    device = TOTPDevice.objects.get(user=live_cast.cato)
    clock = TOTP(device.bin_key)
    clock.time = time.time()
    page.get_by_role("textbox", name="Code").fill(f"{clock.token():06d}")
    page.get_by_role("button", name="Switch it on").click()
    codes = page.locator(".codes code").all_inner_texts()
    assert len(codes) == 10
    other = page_for(None, width=390)
    other.goto("/sign-in/")
    other.get_by_label("E-mail").fill(live_cast.cato.email)
    other.get_by_label("Password", exact=True).fill(PASSWORD)
    other.get_by_role("button", name="Sign in").click()
    other.get_by_role("textbox", name="Code").fill(codes[0])
    other.get_by_role("button", name="Go on").click()
    other.goto("/account/")
    expect(other.get_by_role("heading", name="Your account")).to_be_visible()
    assert SignInSession.objects.filter(user=live_cast.cato).exists()
