"""Pictures of lifts with marks put on by hand; never without consent, never public."""

import uuid

from django.conf import settings
from django.db import models

from athletes.models.people import Athlete


class Picture(models.Model):
    """A still of a lift; `marks` holds hip, shoulder and bar as shares of width and height."""

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="pictures")
    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    file = models.ImageField(upload_to="pictures/")
    taken_on = models.DateField()
    lift_set = models.ForeignKey(
        "athletes.LiftSet", null=True, blank=True, on_delete=models.SET_NULL, related_name="pictures"
    )
    style = models.CharField(max_length=12, blank=True)
    marks = models.JSONField(default=dict, blank=True)
    note = models.CharField(max_length=200, blank=True)
    added_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")
    created = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-taken_on", "-pk"]

    def __str__(self) -> str:
        return f"{self.athlete} on {self.taken_on}"
