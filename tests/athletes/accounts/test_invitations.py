"""Invitations: one link, one use, some days; for a role and, for an athlete, a log."""

import re
from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from athletes.accounts import invitations
from athletes.models import Athlete, AuditEntry, Invitation, Membership, User
from athletes.models.choices import Role
from tests.cast import PASSWORD

NEW = {"first_name": "Nova", "last_name": "", "weight_unit": "kg", "length_unit": "cm", "password": "grips-and-belts-3"}


@pytest.fixture
def link(cast):
    """A fresh link for a new member of staff."""
    _, token = invitations.invite(cast.quarry, Role.STAFF, "nova@example.test", None, cast.ona)
    return f"/join/{token}/"


def test_the_owner_gets_the_link_once_and_it_is_mailed(cast, signed_in, mailoutbox):
    client = signed_in("ona")
    page = client.post("/club/invitations/new/", {"email": "Nova@example.test", "role": "staff"}).content.decode()
    token = re.search(r"/join/([\w-]+)/", page)[1]
    assert token in mailoutbox[0].body
    assert token not in client.get("/club/").content.decode()
    row = Invitation.objects.get()
    assert row.token_hash == invitations.token_hash(token)
    assert token not in "".join(str(v) for v in vars(row).values())
    assert token not in "".join(str(vars(e)) for e in AuditEntry.objects.all())


def test_a_new_person_joins_with_the_invited_role_and_address(cast, link):
    client = Client()
    assert "Quarry Hall invites you" in client.get(link).content.decode()
    body = NEW | {"email": "attacker@example.test", "role": "owner", "is_superuser": "1", "is_staff": "1"}
    assert client.post(link, body).status_code == 302
    user = User.objects.get(email="nova@example.test")
    assert Membership.objects.get(user=user).role == Role.STAFF
    assert not user.is_superuser
    assert not user.is_staff
    assert client.get("/club/").status_code == 200


def test_a_link_works_once(link):
    Client().post(link, NEW)
    again = Client().get(link)
    assert again.status_code == 404
    assert "opens nothing" in again.content.decode()


def test_used_withdrawn_outdated_and_invented_links_look_the_same(cast, link, signed_in):
    pages = [Client().get("/join/invented/").content]
    row = Invitation.objects.get()
    for field in ("used", "withdrawn"):
        Invitation.objects.update(**{field: timezone.now()})
        pages.append(Client().get(link).content)
        Invitation.objects.update(**{field: None})
    assert Client().get(link).status_code == 200
    Invitation.objects.update(expires=timezone.now() - timedelta(seconds=1))
    pages.append(Client().get(link).content)
    assert len(set(pages)) == 1
    assert row.expires > timezone.now() + timedelta(days=6)


def test_an_owner_takes_an_invitation_back(cast, link, signed_in):
    signed_in("ona").post(f"/club/invitations/{Invitation.objects.get().pk}/withdraw/")
    assert Client().get(link).status_code == 404


def test_an_athletes_invitation_gives_them_their_log(cast):
    _, token = invitations.invite(cast.quarry, Role.ATHLETE, "petra@example.test", cast.athletes["petra"], cast.ona)
    client = Client()
    client.post(f"/join/{token}/", NEW)
    petra = Athlete.objects.get(name="Petra Moss")
    assert petra.user.email == "petra@example.test"
    assert client.get(f"/athletes/{petra.pk}/pictures/").status_code == 200
    assert client.get(f"/athletes/{cast.athletes['ada'].pk}/pictures/").status_code == 404


def test_an_athletes_invitation_needs_a_log_of_this_club_that_is_nobodys(cast, signed_in):
    client = signed_in("ona")
    body = {"email": "new@example.test", "role": "athlete"}
    assert "Choose whose log" in client.post("/club/invitations/new/", body).content.decode()
    for athlete in ("hugo", "ada"):
        page = client.post("/club/invitations/new/", body | {"athlete": cast.athletes[athlete].pk}).content.decode()
        assert "not one of the available choices" in page
        assert 'value="new@example.test"' in page
    assert not Invitation.objects.exists()


def test_who_has_an_account_signs_in_and_joins(cast):
    _, token = invitations.invite(cast.harbour, Role.COACH, cast.cato.email, None, cast.olga)
    client = Client()
    assert "Sign in to join" in client.get(f"/join/{token}/").content.decode()
    client.post("/sign-in/", {"username": cast.cato.email, "password": PASSWORD})
    client.post(f"/join/{token}/")
    assert Membership.objects.get(user=cast.cato, club=cast.harbour).role == Role.COACH


def test_somebody_elses_invitation_cannot_be_taken(cast, signed_in, link):
    client = signed_in("stan")
    assert "for another address" in client.get(link).content.decode()
    assert client.post(link).status_code == 404
    assert Invitation.objects.get().used is None


def test_two_clicks_at_once_let_only_one_in(cast, link):
    row = Invitation.objects.get()
    invitations.join_with_new_account(row, User(first_name="Nova"), "grips-and-belts-3")
    with pytest.raises(invitations.AlreadyUsed):
        invitations.accept(row, cast.stan)


def test_a_weak_password_is_refused_and_nothing_typed_is_lost(link):
    page = Client().post(link, NEW | {"password": "12345678"}).content.decode()
    assert "entirely numeric" in page
    assert 'value="Nova"' in page
    assert not User.objects.filter(email="nova@example.test").exists()


def test_coach_and_staff_cannot_invite(signed_in):
    for name in ("cato", "stan"):
        body = {"email": "x@example.test", "role": "owner"}
        assert signed_in(name).post("/club/invitations/new/", body).status_code == 403
