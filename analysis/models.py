"""Stored profiles: what was computed for an athlete, keyed by a fingerprint of everything it was computed from."""

from django.conf import settings
from django.db import models

from athletes.models import Athlete


class StoredProfile(models.Model):
    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="stored_profiles")
    kind = models.CharField(max_length=40)
    fingerprint = models.CharField(max_length=64)
    as_of = models.DateField()
    payload = models.JSONField()
    computed = models.DateTimeField(auto_now=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["athlete", "kind"], name="stored_profile_once")]

    def __str__(self) -> str:
        return f"{self.kind} of {self.athlete} as of {self.as_of}"


class DismissedReason(models.Model):
    """A reason of the squad wall that a coach set aside; it returns once its evidence is another."""

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="dismissed_reasons")
    code = models.CharField(max_length=20)
    evidence = models.CharField(max_length=80)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")
    on = models.DateTimeField()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["athlete", "code"], name="dismissed_reason_once")]

    def __str__(self) -> str:
        return f"{self.code} of {self.athlete}"
