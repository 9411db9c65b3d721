"""Mails in the queue: the true state of an invitation's mail, tried again after a killed worker, nothing kept."""

from smtplib import SMTPRecipientsRefused

import pytest
from django.core import mail
from django.core.mail import EmailMessage
from django.urls import reverse

from athletes.accounts.mail import TRIES, revive_mails, send_later
from athletes.models import Invitation, OutgoingMail

ASKED = {"email": "nova@example.test", "role": "staff"}
WAITS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend"}}


def test_an_invitation_says_that_it_was_mailed(signed_in):
    page = signed_in("ona").post(reverse("invite"), ASKED).content.decode()
    assert "Mailed to" in page
    assert Invitation.objects.get().mail_state == "sent"
    assert len(mail.outbox) == 1
    assert not OutgoingMail.objects.exists()


def test_an_invitation_that_waits_for_the_worker_says_so(signed_in, settings):
    settings.TASKS = WAITS
    page = signed_in("ona").post(reverse("invite"), ASKED).content.decode()
    assert "It waits to be mailed" in page and "Mailed to" not in page
    assert "waiting to be mailed" in signed_in("ona").get(reverse("club")).content.decode()
    assert mail.outbox == []


def test_a_refused_mail_is_told_with_the_reason(signed_in, monkeypatch):
    def refuse(self, *args):
        raise SMTPRecipientsRefused({"nova@example.test": (550, b"no such mailbox")})

    monkeypatch.setattr(EmailMessage, "send", refuse)
    page = signed_in("ona").post(reverse("invite"), ASKED).content.decode()
    assert "Not mailed:" in page
    assert "no such mailbox" in page
    assert (Invitation.objects.get().mail_state, OutgoingMail.objects.count()) == ("refused", 0)


@pytest.mark.parametrize(("tries", "sent", "state"), [(0, 1, "sent"), (TRIES, 0, "refused")])
def test_a_mail_whose_worker_was_killed_is_tried_again_three_times(signed_in, settings, tries, sent, state):
    immediate, settings.TASKS = settings.TASKS, WAITS
    signed_in("ona").post(reverse("invite"), ASKED)
    OutgoingMail.objects.update(tries=tries)
    settings.TASKS = immediate
    revive_mails(at_start=True)
    assert (len(mail.outbox), Invitation.objects.get().mail_state) == (sent, state)
    assert not OutgoingMail.objects.exists()


def test_a_decoy_is_queued_and_thrown_away(db):
    send_later(EmailMessage("A", "b", None, ["nobody@example.test"]), decoy=True)
    assert mail.outbox == [] and not OutgoingMail.objects.exists()
