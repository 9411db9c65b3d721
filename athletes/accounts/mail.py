"""Mails that leave through the queue, and the address that their links begin with."""

import logging
from datetime import timedelta
from smtplib import SMTPException

from django.conf import settings
from django.core.mail import EmailMessage
from django.db.models import F
from django.http import HttpRequest
from django.utils import timezone
from django_tasks import task

from athletes.models import Invitation, MailState, OutgoingMail

TRIES = 3
STALE = timedelta(seconds=60)
logger = logging.getLogger(__name__)


def own_address(request: HttpRequest) -> str:
    """What links in mails begin with: the address the keeper of the server gave, whatever host a request names."""
    return settings.SITE_ADDRESS or f"{request.scheme}://{request.get_host()}"


def send_later(message: EmailMessage, decoy: bool = False, invitation: Invitation | None = None) -> None:
    """Queue a mail: how long the mail server takes must not tell whether an account exists.

    A decoy is queued in the same way and thrown away by the worker.
    """
    mail = OutgoingMail.objects.create(
        to="" if decoy else message.to[0],
        subject=str(message.subject)[:200],
        body=str(message.body),
        sender=message.from_email or "",
        invitation=invitation,
    )
    if invitation is not None:
        _note(invitation.pk, MailState.QUEUED)
    send_mail.enqueue(mail.pk)


@task()
def send_mail(pk: int) -> None:
    """Send one mail and delete its row; a mail server that refuses it is noted with the invitation.

    The try is counted before sending, so a mail whose worker was killed is tried again, at most three times.
    """
    mail = OutgoingMail.objects.filter(pk=pk).first()
    if mail is None:
        return
    claimed = OutgoingMail.objects.filter(pk=pk, tries=mail.tries).update(tries=F("tries") + 1, touched=timezone.now())
    if not claimed:
        return
    state, reason = MailState.SENT, ""
    message = EmailMessage(mail.subject, mail.body, mail.sender or None, [mail.to])
    try:
        message.send() if mail.to else message.message()
    except (SMTPException, OSError, ValueError) as problem:
        state, reason = MailState.REFUSED, " ".join(str(problem).split())[:200] or type(problem).__name__
        logger.exception("A mail could not be sent")
    if mail.invitation_id:
        _note(mail.invitation_id, state, reason)
    mail.delete()


def _note(invitation: int, state: MailState, reason: str = "") -> None:
    Invitation.objects.filter(pk=invitation).update(mail_state=state, mail_reason=reason)


def revive_mails(at_start: bool = False) -> int:
    """Queue mails again whose worker was killed; one that was tried three times is given up and noted so."""
    waiting = OutgoingMail.objects.all()
    if not at_start:
        waiting = waiting.filter(touched__lt=timezone.now() - STALE)
    count = 0
    for mail in waiting:
        if mail.tries < TRIES:
            count += 1
            send_mail.enqueue(mail.pk)
            continue
        if mail.invitation_id:
            _note(mail.invitation_id, MailState.REFUSED, f"given up after {TRIES} tries that did not end")
        mail.delete()
    return count
