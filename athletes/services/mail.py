"""Mails that leave outside the request."""

import logging
from threading import Thread

from django.core.mail import EmailMessage

logger = logging.getLogger(__name__)


def send_later(message: EmailMessage) -> Thread:
    """Send from a thread: how long the mail server takes must not tell whether an account exists."""
    thread = Thread(target=_send, args=(message,), daemon=True)
    thread.start()
    return thread


def _send(message: EmailMessage) -> None:
    try:
        message.send()
    except Exception:  # any mail failure: the person asks again, the keeper of the server reads the log
        logger.exception("A mail could not be sent")
