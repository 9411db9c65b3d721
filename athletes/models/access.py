"""Settings, invitations, addresses that change, counts of tries, and the trail of who changed and who looked."""

import uuid

from django.conf import settings
from django.db import models

from athletes.models.choices import Role, choices
from athletes.models.people import Athlete, Club


class SettingOverride(models.Model):
    """A common-practice number changed for a club, or for one athlete of it."""

    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="setting_overrides")
    athlete = models.ForeignKey(
        Athlete, null=True, blank=True, on_delete=models.CASCADE, related_name="setting_overrides"
    )
    key = models.CharField(max_length=60)
    value = models.JSONField()
    changed = models.DateTimeField(auto_now=True)
    changed_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["club", "key"], condition=models.Q(athlete__isnull=True), name="setting_once_per_club"
            ),
            models.UniqueConstraint(
                fields=["athlete", "key"],
                condition=models.Q(athlete__isnull=False),
                name="setting_once_per_athlete",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.key} = {self.value}"


class MailState(models.TextChoices):
    """What became of the mail of an invitation."""

    QUEUED = "queued", "waiting to be mailed"
    SENT = "sent", "mailed"
    REFUSED = "refused", "not mailed"


class Invitation(models.Model):
    """A single-use, expiring way into a club; only the hash of its token is kept."""

    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="invitations")
    athlete = models.ForeignKey(Athlete, null=True, blank=True, on_delete=models.CASCADE, related_name="+")
    role = models.CharField(max_length=10, choices=choices(Role))
    email = models.EmailField()
    token_hash = models.CharField(max_length=64, unique=True)
    created = models.DateTimeField(auto_now_add=True)
    created_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")
    expires = models.DateTimeField()
    used = models.DateTimeField(null=True, blank=True)
    withdrawn = models.DateTimeField(null=True, blank=True)
    mail_state = models.CharField(max_length=7, choices=MailState, blank=True)
    mail_reason = models.CharField(max_length=200, blank=True)

    def __str__(self) -> str:
        return f"{self.email} as {self.get_role_display()}"


class OutgoingMail(models.Model):
    """A mail that waits for the worker; the row is deleted when it is sent or refused, so no link stays readable."""

    to = models.EmailField(blank=True, help_text="empty: composed and thrown away, to take equally long")
    subject = models.CharField(max_length=200)
    body = models.TextField()
    sender = models.CharField(max_length=200, blank=True)
    invitation = models.ForeignKey(Invitation, null=True, blank=True, on_delete=models.CASCADE, related_name="+")
    tries = models.PositiveSmallIntegerField(default=0)
    touched = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        return f"mail {self.pk}"


class EmailChange(models.Model):
    """A wish to sign in with another address: asked for, used by its mailed link, or called off, before or after."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="email_changes")
    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    old_email = models.EmailField()
    new_email = models.EmailField()
    asked = models.DateTimeField(auto_now_add=True)
    used = models.DateTimeField(null=True, blank=True)
    called_off = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-asked", "-pk"]

    def __str__(self) -> str:
        return f"another address for {self.user}"


class Tally(models.Model):
    """How often something was asked lately, the same for every server process; the key tells nobody whose it is."""

    key = models.CharField(max_length=64, primary_key=True)
    count = models.PositiveIntegerField(default=0)
    ends = models.DateTimeField(db_index=True)

    def __str__(self) -> str:
        return f"{self.count} until {self.ends:%Y-%m-%d %H:%M}"


class AuditEntry(models.Model):
    """One change: who, when, to which row, what it was and what it is."""

    changes: list[dict[str, object]]  # set on rows by the page of a set, never stored

    club = models.ForeignKey(Club, null=True, on_delete=models.CASCADE, related_name="+")
    athlete = models.ForeignKey(Athlete, null=True, on_delete=models.CASCADE, related_name="audit")
    actor = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")
    at = models.DateTimeField(auto_now_add=True)
    action = models.CharField(max_length=40)
    target = models.CharField(max_length=60)
    before = models.JSONField(null=True, blank=True)
    after = models.JSONField(null=True, blank=True)

    class Meta:
        indexes = [models.Index(fields=["athlete", "-at"], name="audit_athlete_at")]
        ordering = ["-at", "-pk"]

    def __str__(self) -> str:
        return f"{self.action} {self.target}"


class AccessEntry(models.Model):
    """Who looked at an athlete's pages, once a page kind a day."""

    page_words: str  # set on rows by the page of looks, never stored

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="looks")
    viewer = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    day = models.DateField()
    page = models.CharField(max_length=40)
    first_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["athlete", "viewer", "day", "page"], name="look_once_a_day")]

    def __str__(self) -> str:
        return f"{self.viewer} saw {self.page}"


class SignInSession(models.Model):
    """A signed-in browser, so that a person can see and end their sessions."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="sign_ins")
    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    session_key = models.CharField(max_length=40, unique=True)
    agent = models.CharField(max_length=120, blank=True)
    started = models.DateTimeField(auto_now_add=True)
    last_seen = models.DateTimeField(auto_now=True)

    def __str__(self) -> str:
        return f"{self.user} since {self.started:%Y-%m-%d}"


class Revision(models.Model):
    """How often anything an athlete's profile is computed from has changed.

    Database triggers move it (migration `revisions`), so bulk writes, imports and restores count too and a stored
    profile can never be older than its inputs unnoticed.
    """

    athlete = models.OneToOneField(Athlete, on_delete=models.CASCADE, primary_key=True, related_name="revision")
    number = models.BigIntegerField(default=0)

    def __str__(self) -> str:
        return f"revision {self.number} of {self.athlete}"
