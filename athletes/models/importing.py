"""Imports: the uploaded file, its lines as read, and the answers that were given."""

from django.conf import settings
from django.db import models

from athletes.models.people import Athlete, Club


class ImportBatch(models.Model):
    """One uploaded file on its way in: options as detected and changed, rows staged, then taken in or undone."""

    class Status(models.TextChoices):
        STAGING = "staging", "being read"
        READY = "ready", "ready to take in"
        MOVING = "moving", "being taken in"
        DONE = "done", "taken in"
        UNDOING = "undoing", "being taken out"
        UNDONE = "undone", "undone"
        REFUSED = "refused", "refused"

    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="imports")
    athlete = models.ForeignKey(Athlete, null=True, blank=True, on_delete=models.CASCADE, related_name="+")
    author = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")
    file = models.FileField(upload_to="imports/", blank=True)
    file_name = models.CharField(max_length=120)
    file_hash = models.CharField(max_length=64, blank=True)
    options = models.JSONField(default=dict)
    status = models.CharField(max_length=8, choices=Status, default=Status.STAGING)
    reason = models.CharField(max_length=300, blank=True)
    rows_total = models.PositiveIntegerField(default=0)
    rows_read = models.PositiveIntegerField(default=0)
    created = models.DateTimeField(auto_now_add=True)
    finished = models.DateTimeField(null=True, blank=True)
    stepped = models.DateTimeField(null=True, blank=True, help_text="when a step last began")

    class Meta:
        ordering = ["-created"]

    def __str__(self) -> str:
        return self.file_name


class ImportRow(models.Model):
    """One line of the file: as it stood, as it was read, and why it is taken, fixed, asked about or skipped."""

    class Status(models.TextChoices):
        OK = "ok", "clear"
        GUESS = "guess", "read with a guess"
        ASK = "ask", "needs an answer"
        SKIP = "skip", "skipped"
        DUPLICATE = "duplicate", "already here"

    batch = models.ForeignKey(ImportBatch, on_delete=models.CASCADE, related_name="rows")
    number = models.PositiveIntegerField()
    lifter = models.BigIntegerField(null=True, blank=True, help_text="athlete of all its sets and readings; 0: several")
    raw = models.JSONField()
    parsed = models.JSONField(null=True, blank=True)
    status = models.CharField(max_length=9, choices=Status)
    reason = models.CharField(max_length=300, blank=True)
    choice = models.CharField(max_length=6, blank=True)
    fixed = models.JSONField(null=True, blank=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["batch", "number"], name="import_row_once")]
        indexes = [models.Index(fields=["batch", "lifter"], name="import_row_lifter")]
        ordering = ["number"]

    def __str__(self) -> str:
        return f"line {self.number}: {self.status}"


class ImportAnswer(models.Model):
    """What the club answered to an ambiguity once, remembered for the next file."""

    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="import_answers")
    question = models.CharField(max_length=40)
    subject = models.CharField(max_length=120)
    answer = models.JSONField()
    answered_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")

    class Meta:
        constraints = [models.UniqueConstraint(fields=["club", "question", "subject"], name="import_answer_once")]

    def __str__(self) -> str:
        return f"{self.question} {self.subject}"


class HeldMass(models.Model):
    """The body mass of a line, held apart from it: who may read the line need not be allowed to see it."""

    batch = models.ForeignKey(ImportBatch, on_delete=models.CASCADE, related_name="held_masses")
    athlete = models.ForeignKey(Athlete, null=True, blank=True, on_delete=models.CASCADE, related_name="+")
    number = models.PositiveIntegerField()
    held = models.JSONField(default=dict)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["batch", "number"], name="held_mass_once")]

    def __str__(self) -> str:
        return f"line {self.number}: body mass (private)"
