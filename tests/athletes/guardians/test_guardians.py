"""A minor opens nothing until a guardian agrees; the link signs, shows, withdraws; after a year it asks again."""

from datetime import date, timedelta

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from athletes.access.visibility import consent_for
from athletes.guardians.services import athlete_behind, make_link
from athletes.models import Athlete, AuditEntry, GuardianConsent, GuardianLink, HealthNote, Membership, TrainingDay
from tests.athletes.exporting.copies import log
from tests.cast import person

SIGNED = {"guardian": "Mara  Reed", "agreed": "on"}


@pytest.fixture
def ivo(cast) -> Athlete:
    """Fifteen years old, with an account of his own."""
    one = cast.athletes["ivo"]
    one.user = cast.users["ivo"] = person("ivo")
    one.save()
    Membership.objects.create(club=cast.quarry, user=one.user, role="athlete")
    return one


@pytest.fixture
def link(cast, ivo) -> str:
    return reverse("guardian", args=[make_link(ivo, cast.cato)])


def own_addresses(athlete: Athlete) -> list[str]:
    names = ("summary", "lifts", "lift-new", "leverages", "plan", "consent", "export-athlete", "decision", "weak-link")
    return [reverse(name, args=[athlete.pk]) for name in names]


def test_a_minor_without_consent_opens_nothing_but_the_page_that_asks_for_it(signed_in, cast, ivo):
    client = signed_in("ivo")
    for address in own_addresses(ivo):
        assert client.get(address).get("Location") == reverse("guardian-needed"), address
        wrote = client.post(address, {"day": "2026-11-20"})
        assert wrote.status_code == 405 or wrote.get("Location") == reverse("guardian-needed"), address
    page = client.get("/", follow=True)
    assert "A guardian has to agree first" in page.content.decode()
    assert client.get(reverse("account")).status_code == 200
    assert not ivo.sets.exists()


def test_a_minor_whose_guardian_agreed_opens_their_pages(signed_in, cast, ivo, link):
    Client().post(link, SIGNED)
    client = signed_in("ivo")
    assert all(client.get(address).status_code == 200 for address in own_addresses(ivo))
    assert client.get(reverse("guardian-needed")).url == "/"


def test_coach_and_staff_open_the_pages_of_a_minor_as_before(signed_in, cast, ivo):
    for who in ("cato", "stan"):
        assert signed_in(who).get(reverse("lifts", args=[ivo.pk])).status_code == 200


def test_the_guardian_signs_with_name_and_day_and_the_trail_keeps_it(cast, ivo, link):
    client = Client()
    assert "May Ivo Reed be in the book?" in client.get(link).content.decode()
    client.post(link, SIGNED | {"covers_pictures": "on"})
    row = GuardianConsent.objects.get(athlete=ivo)
    assert (row.guardian, row.given_on, row.covers_pictures) == ("Mara Reed", timezone.localdate(), True)
    assert row.recorded_by is None
    assert AuditEntry.objects.filter(athlete=ivo, action="consent given", actor=None).count() == 1
    assert "You agreed that Ivo Reed is in the book" in client.get(link).content.decode()


@pytest.mark.parametrize("missing", ["guardian", "agreed"])
def test_without_a_name_or_the_tick_nothing_is_signed_and_nothing_typed_is_lost(cast, ivo, link, missing):
    page = Client().post(link, {name: value for name, value in SIGNED.items() if name != missing})
    assert not GuardianConsent.objects.exists()
    assert missing == "guardian" or "Mara" in page.content.decode()
    assert page.context["form"].errors.keys() == {missing}


@pytest.mark.parametrize("name", ["...", "   ", "7"])
def test_a_name_has_letters(cast, ivo, link, name):
    Client().post(link, SIGNED | {"guardian": name})
    assert not GuardianConsent.objects.exists()


def test_the_guardian_sees_what_was_lifted_but_no_body_mass_and_no_pain(cast, ivo, link):
    log(ivo, load_typed="97.5", load_kg=97.5, note="knee tracked in")
    TrainingDay.objects.create(athlete=ivo, day=date(2026, 3, 4), mass_typed="61,3", mass_unit="kg", mass_kg=61.3)
    HealthNote.objects.create(athlete=ivo, kind="pain", site="hip", noted_on=date(2026, 3, 4), text="secret ache")
    page = Client().get(link).content.decode()
    assert "97.5" in page and "61,3" not in page and "61.3" not in page and "secret ache" not in page


@pytest.mark.parametrize(("choice", "left"), [("hide", 1), ("delete", 0)])
def test_the_guardian_withdraws_and_says_what_becomes_of_the_pictures(signed_in, cast, ivo, link, choice, left):
    client = Client()
    client.post(link, SIGNED | {"covers_pictures": "on"})
    ivo.pictures.create(taken_on=date(2026, 3, 4), file="pictures/none.jpg")
    assert client.post(f"{link}withdraw/", {}).context["withdraw_form"].errors
    client.post(f"{link}withdraw/", {"pictures": choice})
    assert consent_for(ivo) is None and ivo.pictures.count() == left
    assert signed_in("ivo").get(reverse("lifts", args=[ivo.pk])).status_code == 302


@pytest.mark.parametrize(("days", "stands"), [(364, True), (365, False)])
def test_a_consent_is_asked_for_again_after_a_year(cast, ivo, days, stands):
    GuardianConsent.objects.create(
        athlete=ivo, guardian="Mara", given_on=timezone.localdate() - timedelta(days=days), covers_pictures=True
    )
    assert (consent_for(ivo) is not None) is stands


def test_how_long_a_consent_stands_is_a_setting(cast, ivo, settings):
    settings.CONSENT_DAYS = 10
    GuardianConsent.objects.create(athlete=ivo, guardian="Mara", given_on=timezone.localdate() - timedelta(days=10))
    assert consent_for(ivo) is None


def test_links_that_ran_out_were_replaced_or_invented_look_the_same(cast, ivo, link):
    newer = make_link(ivo, cast.cato)
    old = Client().get(link)
    assert old.status_code == 404 and "opens nothing any more" in old.content.decode()
    assert Client().get(reverse("guardian", args=["invented"])).content == old.content
    GuardianLink.objects.update(expires=timezone.now())
    assert athlete_behind(newer) is None


def test_a_link_opens_nothing_once_the_athlete_is_of_age(cast, ivo):
    token = make_link(ivo, cast.cato)
    Athlete.objects.filter(pk=ivo.pk).update(born=date(2001, 1, 1), standing="trained")
    assert athlete_behind(token) is None


def test_the_coach_makes_the_link_and_sees_it_once(signed_in, cast, ivo):
    page = signed_in("cato").post(reverse("guardian-link", args=[ivo.pk]))
    assert page.context["link"] in page.content.decode() and "<svg" in page.content.decode()
    token = page.context["link"].rstrip("/").rpartition("/")[2]
    assert athlete_behind(token) == ivo and not GuardianLink.objects.filter(token_hash=token).exists()
    for who, code in (("stan", 403), ("bea", 403), ("olga", 404), ("ivo", 302)):
        assert signed_in(who).post(reverse("guardian-link", args=[ivo.pk])).status_code == code
    assert signed_in("cato").get(reverse("guardian-link", args=[ivo.pk])).status_code == 405


def test_nobody_of_age_needs_a_guardian(signed_in, cast):
    ada = cast.athletes["ada"]
    page = signed_in("cato").post(reverse("guardian-link", args=[ada.pk]), follow=True)
    assert "is of age and decides alone" in page.content.decode() and not GuardianLink.objects.exists()
