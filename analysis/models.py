"""Stored profiles: what was computed for an athlete, keyed by a fingerprint of everything it was computed from."""

from django.db import models

from athletes.models import Athlete


class StoredProfile(models.Model):
    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="stored_profiles")
    kind = models.CharField(max_length=20)
    fingerprint = models.CharField(max_length=64)
    as_of = models.DateField()
    payload = models.JSONField()
    computed = models.DateTimeField(auto_now=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["athlete", "kind"], name="stored_profile_once")]

    def __str__(self) -> str:
        return f"{self.kind} of {self.athlete} as of {self.as_of}"
