"""A club begins on an empty server: by one command, with a link for its first owner and no superuser."""

from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.test import Client

from athletes.models import AuditEntry, Club, Invitation, Membership, User

OWNER = {
    "first_name": "Nova",
    "last_name": "",
    "weight_unit": "kg",
    "length_unit": "cm",
    "password": "grips-and-belts-3",
}


def founded(*arguments: str) -> str:
    out = StringIO()
    call_command("found_club", *arguments, stdout=out)
    return out.getvalue()


def test_the_first_owner_comes_in_by_the_printed_link_and_runs_the_club(db, settings):
    settings.SITE_ADDRESS = "https://stancebook.example"
    said = founded("Lathe  Street Lifters", "Nova@Example.test", "--timezone", "Europe/Vienna")
    link = said.split("https://stancebook.example")[1].strip()
    client = Client()
    assert "Lathe Street Lifters invites you" in client.get(link).content.decode()
    assert client.post(link, OWNER).status_code == 302
    club = Club.objects.get()
    assert (club.name, club.timezone) == ("Lathe Street Lifters", "Europe/Vienna")
    assert Membership.objects.get(user__email="nova@example.test").role == "owner"
    assert not User.objects.get().is_superuser
    for page in ("/club/", "/people/", "/squad/", "/tonight/"):
        assert client.get(page).status_code == 200
    assert AuditEntry.objects.filter(club=club, action="founded").exists()


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((" ", "nova@example.test"), "name: between"),
        (("x" * 200, "nova@example.test"), "name: between"),
        (("Lathe Street", "nova"), "email: 'nova'"),
        (("Lathe Street", "nova@example.test", "--timezone", "Europe/Nowhere"), "--timezone"),
    ],
)
def test_a_wrong_argument_is_named_and_founds_nothing(db, arguments, words):
    with pytest.raises(CommandError, match=words) as refused:
        founded(*arguments)
    assert refused.value.returncode == 2
    assert not Club.objects.exists() and not Invitation.objects.exists()


def test_a_name_that_is_taken_is_refused(cast):
    with pytest.raises(CommandError, match="already"):
        founded("quarry hall", "nova@example.test")
