"""The first evening of a new club: a roster pasted in few taps, somebody invited by a link that is copied."""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from athletes.models import Athlete, Invitation
from tests.browser.conftest import no_sideways_scroll
from tests.browser.test_people import serious_findings

NAMES = "\n".join(
    f"Lifter Number{chr(65 + n)}, {'fm'[n % 2]}, {1985 + n}, {60 + n} kg, {160 + n} cm" for n in range(25)
)


@pytest.mark.parametrize("width", [390, 1280])
def test_a_roster_of_25_is_in_the_book_after_few_taps(page_for, live_cast, width):
    Athlete.objects.filter(club=live_cast.quarry).delete()
    page = page_for(live_cast.ona, width=width)
    taps = 0
    page.goto("/")
    expect(page.get_by_role("heading", name="Next: people")).to_be_visible()
    assert no_sideways_scroll(page) and serious_findings(page) == []
    page.get_by_role("main").get_by_role("link", name="Paste a roster").first.click()
    page.get_by_label("One lifter a line").fill(NAMES)
    page.get_by_role("button", name="Show how it is read").click()
    expect(page.get_by_role("heading", name="25 new")).to_be_visible()
    assert no_sideways_scroll(page) and serious_findings(page) == []
    page.get_by_role("button", name="Add 25 people").click()
    taps += 4  # the link, the field, two buttons
    expect(page.get_by_role("heading", name="Next: four lengths")).to_be_visible()
    assert Athlete.objects.filter(club=live_cast.quarry).count() == 25 and taps < 15


def test_the_link_of_an_invitation_is_copied_or_scanned(page_for, live_cast):
    page = page_for(live_cast.ona)
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.goto(reverse("club"))
    page.get_by_label("E-mail").fill("new@example.test")
    page.get_by_role("button", name="Make the link and mail it").click()
    page.get_by_role("button", name="Copy").click()
    expect(page.get_by_text("Copied.")).to_be_visible()
    copied = page.evaluate("navigator.clipboard.readText()")
    assert copied == page.locator("#new-link").inner_text() and "/join/" in copied
    page.get_by_text("Show it as a code to scan").click()
    expect(page.get_by_role("img", name="The same link as a QR code")).to_be_visible()
    assert serious_findings(page) == []
    assert Invitation.objects.filter(email="new@example.test").count() == 1
