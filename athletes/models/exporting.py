"""Files that the worker prepares for somebody to take away."""

import uuid

from django.conf import settings
from django.db import models

from athletes.models.people import Athlete, Club


class FileKind(models.TextChoices):
    """What is prepared."""

    SQUAD_SETS = "squad-sets", "the squad's sets (CSV)"
    ATHLETE_SETS = "athlete-sets", "lifts (CSV)"
    ATHLETE_COPY = "athlete-copy", "a copy of everything (ZIP)"


class FileState(models.TextChoices):
    """How far it is."""

    WAITING = "waiting", "waiting for the worker"
    WORKING = "working", "being written"
    READY = "ready", "ready"
    FAILED = "failed", "not written"


class PreparedFile(models.Model):
    """One file for the one person who asked for it; `file` is set only when the whole of it is stored."""

    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="+")
    athlete = models.ForeignKey(Athlete, null=True, on_delete=models.CASCADE, related_name="prepared_files")
    asked_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="prepared_files")
    kind = models.CharField(max_length=12, choices=FileKind)
    state = models.CharField(max_length=7, choices=FileState, default=FileState.WAITING)
    file = models.FileField(upload_to="exports/", blank=True)
    name = models.CharField(max_length=120, help_text="what the file is called when it is taken away")
    done = models.PositiveIntegerField(default=0, help_text="sets written so far")
    total = models.PositiveIntegerField(default=0)
    size = models.PositiveBigIntegerField(default=0, help_text="bytes")
    tries = models.PositiveSmallIntegerField(default=0)
    reason = models.CharField(max_length=200, blank=True)
    touched = models.DateTimeField(auto_now_add=True, help_text="when the worker last moved")
    created = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-created", "-pk"]
        constraints = [
            models.CheckConstraint(condition=models.Q(kind__in=FileKind.values), name="prepared_file_kind"),
            models.CheckConstraint(condition=models.Q(state__in=FileState.values), name="prepared_file_state"),
        ]

    def __str__(self) -> str:
        return self.name
