"""Roles in a club: given, taken, left; a club never loses its last owner."""

from django.db import transaction

from athletes.access.audit import record
from athletes.accounts.invitations import invite
from athletes.models import Athlete, Club, Invitation, Membership, User
from athletes.models.choices import Role


class LastOwner(Exception):
    """The change would leave the club without an owner."""


def change_role(member: Membership, role: str, by: User) -> None:
    with transaction.atomic():
        _guard_last_owner(member, becomes=role)
        before = {"role": member.role}
        member.role = role
        member.save(update_fields=["role"])
        if role in (Role.STAFF, Role.ATHLETE):
            Athlete.objects.filter(club=member.club, coach=member.user).update(coach=None)
        record(by, "role changed", member, before, {"role": role}, club=member.club)


def remove_member(member: Membership, by: User) -> None:
    """End a membership: the squad loses this coach, and the person's own log stays with the club without them."""
    with transaction.atomic():
        _guard_last_owner(member, becomes="")
        Athlete.objects.filter(club=member.club, coach=member.user).update(coach=None)
        Athlete.objects.filter(club=member.club, user=member.user).update(user=None)
        record(by, "left" if by == member.user else "removed", member, {"role": member.role}, club=member.club)
        member.delete()


def found_club(name: str, timezone_name: str, owner_email: str) -> tuple[Invitation, str]:
    """A new club and the invitation of its first owner, with the token of the link, which is told once."""
    with transaction.atomic():
        club = Club.objects.create(name=name, timezone=timezone_name)
        record(None, "founded", club, club=club)
        return invite(club, Role.OWNER, owner_email, None, None)


def _guard_last_owner(member: Membership, becomes: str) -> None:
    """Locks the owners' rows, so that two owners cannot leave at the same moment."""
    owners = list(Membership.objects.select_for_update().filter(club=member.club, role=Role.OWNER))
    if becomes != Role.OWNER and owners == [member]:
        raise LastOwner
