"""Ways into a club: one link, one use, a few days; only the hash of its token is kept."""

import hashlib
import secrets
from datetime import timedelta

from django.core.mail import EmailMessage
from django.db import transaction
from django.template import loader
from django.utils import timezone

from athletes.access.audit import record
from athletes.accounts.mail import send_later
from athletes.models import Athlete, Club, Invitation, Membership, User
from athletes.models.choices import Role

VALID_DAYS = 7


class AlreadyUsed(Exception):
    """The link was used, withdrawn or ran out between opening and answering."""


def token_hash(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


def invite(club: Club, role: str, email: str, athlete: Athlete | None, by: User | None) -> tuple[Invitation, str]:
    """A new invitation and its token, which is told once and not stored."""
    token = secrets.token_urlsafe(32)
    with transaction.atomic():
        row = Invitation.objects.create(
            club=club,
            role=role,
            email=email.lower(),
            athlete=athlete,
            token_hash=token_hash(token),
            created_by=by,
            expires=timezone.now() + timedelta(days=VALID_DAYS),
        )
        record(by, "invited", row, after={"role": role}, athlete=athlete, club=club)
    return row, token


def mail_invitation(row: Invitation, link: str) -> None:
    """Queue the mail with the link; the row then says whether it waits, was sent or was refused, and why."""
    by, club = (" ".join(str(named).split()) for named in (row.created_by, row.club))  # each on one line
    context = {"invitation": row, "by": by, "club": club, "link": link, "days": VALID_DAYS}
    body = loader.render_to_string("mail/invitation_body.txt", context)
    send_later(EmailMessage(f"Invitation to {club}", body, None, [row.email]), invitation=row)
    row.refresh_from_db(fields=["mail_state", "mail_reason"])


def open_invitation(token: str) -> Invitation | None:
    """The invitation behind a link while it can be used."""
    found = Invitation.objects.filter(token_hash=token_hash(token), **_usable()).select_related("club", "athlete")
    return found.first()


def _usable() -> dict[str, object]:
    return {"used__isnull": True, "withdrawn__isnull": True, "expires__gt": timezone.now()}


def withdraw(row: Invitation, by: User) -> None:
    with transaction.atomic():
        Invitation.objects.filter(pk=row.pk, used__isnull=True).update(withdrawn=timezone.now())
        record(by, "withdrawn", row, athlete=row.athlete, club=row.club)


def accept(row: Invitation, user: User) -> None:
    """Use the invitation up and let the user in; the one update decides between two clicks at once."""
    with transaction.atomic():
        if not Invitation.objects.filter(pk=row.pk, **_usable()).update(used=timezone.now()):
            raise AlreadyUsed
        if row.athlete_id and not _link_athlete(row, user):
            raise AlreadyUsed
        _keep_or_give_role(row, user)
        record(user, "joined", row, after={"role": row.role}, athlete=row.athlete, club=row.club)


def join_with_new_account(row: Invitation, user: User, password: str) -> User:
    """Make the account and accept, or neither."""
    with transaction.atomic():
        user.email = row.email
        user.username = row.email[:150]
        user.set_password(password)
        user.save()
        accept(row, user)
    return user


def _link_athlete(row: Invitation, user: User) -> bool:
    if row.athlete_id is None or Athlete.objects.filter(user=user).exists():
        return False
    return bool(Athlete.objects.filter(pk=row.athlete_id, user__isnull=True).update(user=user))


def _keep_or_give_role(row: Invitation, user: User) -> None:
    """A worker who is also invited as an athlete stays a worker; otherwise the invitation's role holds."""
    member, made = Membership.objects.get_or_create(club=row.club, user=user, defaults={"role": row.role})
    if not made and row.role != Role.ATHLETE:
        member.role = row.role
        member.save(update_fields=["role"])
