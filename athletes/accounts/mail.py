"""Mails that leave outside the request, and the address that their links begin with."""

import logging
from threading import Thread

from django.conf import settings
from django.core.mail import EmailMessage
from django.http import HttpRequest

logger = logging.getLogger(__name__)


def own_address(request: HttpRequest) -> str:
    """What links in mails begin with: the address the keeper of the server gave, whatever host a request names."""
    return settings.SITE_ADDRESS or f"{request.scheme}://{request.get_host()}"


def send_now(message: EmailMessage) -> str:
    """Send and wait for the mail server; returns why it was not sent, "" when it was.

    Only where the address is known to who asks: how long it takes tells whether a mail left.
    """
    try:
        sent = message.send()
    except Exception as problem:  # any mail failure: the page says it and offers the link itself
        logger.exception("A mail could not be sent")
        return " ".join(str(problem).split())[:200] or type(problem).__name__
    return "" if sent else "the mail server took no message"


def send_later(message: EmailMessage, decoy: bool = False) -> Thread:
    """Send from a thread: how long the mail server takes must not tell whether an account exists.

    A decoy is put together in the same way and then thrown away.
    """
    thread = Thread(target=_put_together if decoy else _send, args=(message,), daemon=True)
    thread.start()
    return thread


def _put_together(message: EmailMessage) -> None:
    message.message()


def _send(message: EmailMessage) -> None:
    try:
        message.send()
    except Exception:  # any mail failure: the person asks again, the keeper of the server reads the log
        logger.exception("A mail could not be sent")
