"""Another address to sign in with: a link to the new one, a notice to the old one with a way back for some days.

Whoever asks is told the same and waits the same whether or not the new address is in use; its own mailbox is told.
"""

import secrets
from datetime import timedelta

from django.core import signing
from django.core.mail import EmailMessage
from django.db import IntegrityError, transaction
from django.db.models import Q, QuerySet
from django.template import loader
from django.urls import reverse
from django.utils import timezone
from django_otp.plugins.otp_static.models import StaticDevice
from django_otp.plugins.otp_totp.models import TOTPDevice

from athletes.access.audit import record
from athletes.accounts.mail import send_later
from athletes.accounts.sessions import end_sessions
from athletes.accounts.throttle import hit_rate_limit
from athletes.models import EmailChange, User

TAKE_FOR = timedelta(hours=24)
UNDO_FOR = timedelta(days=7)
TAKE, UNDO = "email-take", "email-undo"  # names of the addresses, and the salts of their links
LASTS = {TAKE: TAKE_FOR, UNDO: UNDO_FOR + TAKE_FOR}
MAILS_AN_HOUR = 5


class LinkExpired(Exception):
    """The link was used, called off or ran out, or the address has an account by now."""


def ask_for(user: User, new_email: str, site: str) -> EmailChange:
    """Note the wish and mail both addresses; a link that was asked for before opens nothing any more."""
    with transaction.atomic():
        waiting_for(user).update(called_off=timezone.now())
        row = EmailChange.objects.create(user=user, old_email=user.email, new_email=new_email)
        note(row, "asked for another e-mail")
    taken = in_use(new_email, user)
    if not hit_rate_limit("mail to", new_email, MAILS_AN_HOUR, 3600):
        send(row, "taken" if taken else "take", new_email, link(row, TAKE, site))
    send(row, "asked", row.old_email, link(row, UNDO, site))
    return row


def waiting_for(user: User) -> QuerySet[EmailChange]:
    """Wishes whose link can still be used."""
    return user.email_changes.filter(used=None, called_off=None, asked__gt=timezone.now() - TAKE_FOR)


def call_off(user: User) -> int:
    """The person themselves takes the wish back."""
    with transaction.atomic():
        rows = list(waiting_for(user))
        for row in rows:
            note(row, "kept the e-mail")
        return waiting_for(user).update(called_off=timezone.now())


def link(row: EmailChange, what: str, site: str) -> str:
    return site + reverse(what, args=[signing.dumps([str(row.uid), proof(row.user, what)], salt=what)])


def proof(user: User, what: str) -> str:
    """Ties the link to the password it was asked with: a new password ends what somebody else asked for before."""
    return user.get_session_auth_hash()[:20] if what == TAKE else ""


def change_behind(token: str, what: str) -> EmailChange:
    """The wish behind a signed link while it can be used; links that cannot all look the same."""
    try:
        uid, shown = signing.loads(token, salt=what, max_age=LASTS[what])
    except (signing.BadSignature, ValueError):
        raise LinkExpired from None
    row = EmailChange.objects.select_related("user").filter(uid=uid, user__is_active=True).first()
    if row is None or shown != proof(row.user, what) or not may_use(row, what):
        raise LinkExpired
    return row


def may_use(row: EmailChange, what: str) -> bool:
    if row.called_off:
        return False
    if what == TAKE:
        unchanged = row.user.email == row.old_email and row.used is None
        return unchanged and row.asked > timezone.now() - TAKE_FOR
    return (row.used or row.asked) > timezone.now() - UNDO_FOR


def in_use(email: str, besides: User) -> bool:
    """Whether another account has the address, or may still go back to it."""
    went = Q(old_email__iexact=email, called_off=None, used__gt=timezone.now() - UNDO_FOR)
    account = User.objects.filter(email__iexact=email).exclude(pk=besides.pk).exists()
    return EmailChange.objects.filter(went).exclude(user=besides).exists() or account


def locked(row: EmailChange, what: str) -> EmailChange:
    """The row and its person as they are now, held until the transaction ends; Gone when another click was faster."""
    user = User.objects.select_for_update().get(pk=row.user_id)
    now = EmailChange.objects.select_for_update().get(pk=row.pk)
    now.user = user
    if not may_use(now, what):
        raise LinkExpired
    return now


def take(row: EmailChange, site: str) -> EmailChange:
    """Sign in with the new address from now on; the old one is told once more."""
    try:
        with transaction.atomic():
            row = locked(row, TAKE)
            if in_use(row.new_email, row.user):
                raise LinkExpired
            set_email(row.user, row.new_email)
            row.used = timezone.now()
            row.save(update_fields=["used"])
            note(row, "changed the e-mail")
    except IntegrityError:
        raise LinkExpired from None
    send(row, "changed", row.old_email, link(row, UNDO, site))
    return row


def undo(row: EmailChange) -> EmailChange:
    """Back to the old address. Whoever asked knew the password, so it opens nothing any more, nor does any browser.

    A second step that was set up since goes too, because it would keep the owner out.
    """
    try:
        with transaction.atomic():
            row = locked(row, UNDO)
            user = row.user
            set_email(user, row.old_email)
            user.set_password(secrets.token_urlsafe(40))
            user.save(update_fields=["password"])
            user.email_changes.filter(asked__gte=row.asked, called_off=None).update(called_off=timezone.now())
            if TOTPDevice.objects.filter(user=user, created_at__gte=row.asked).exists():
                TOTPDevice.objects.filter(user=user).delete()
                StaticDevice.objects.filter(user=user).delete()
            end_sessions(user)
            note(row, "put the e-mail back")
    except IntegrityError:
        raise LinkExpired from None
    return row


def set_email(user: User, email: str) -> None:
    """The address, and the unused user name that was made from the address before."""
    if user.username == user.email[:150]:
        user.username = email[:150]
    user.email = email
    user.save(update_fields=["email", "username"])


def note(row: EmailChange, action: str) -> None:
    """One entry in the trail. A coach reads it as well, so no address is spelt out."""
    athlete = getattr(row.user, "athlete", None)
    member = row.user.memberships.select_related("club").order_by("pk").first()
    said = f"{masked(row.old_email)} and {masked(row.new_email)}"
    club = athlete.club if athlete else member.club if member else None
    record(row.user, action, row.user, after={"old and new": said}, athlete=athlete, club=club)


def masked(email: str) -> str:
    name, _, domain = email.partition("@")
    return f"{name[:1]}…@{domain}"


SUBJECTS = {
    "take": "Your new address for Stancebook",
    "taken": "Your address for Stancebook",
    "asked": "Another address was asked for your Stancebook account",
    "changed": "Your Stancebook account has another address now",
}


def send(row: EmailChange, kind: str, to: str, href: str) -> None:
    context = {"row": row, "link": href, "hours": int(TAKE_FOR.total_seconds() // 3600), "days": UNDO_FOR.days}
    body = loader.render_to_string(f"mail/email_{kind}.txt", context)
    send_later(EmailMessage(SUBJECTS[kind], body, None, [to]))
