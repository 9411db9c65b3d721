"""Mails that leave outside the request."""

import logging
from threading import Thread

from django.core.mail import EmailMessage

logger = logging.getLogger(__name__)


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
