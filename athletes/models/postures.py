"""How an athlete stands and starts in a style, as seen with tape and eye; every entry stays, the newest counts."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from athletes.models.choices import (
    Arms,
    BackShape,
    BarOverFoot,
    Knees,
    LengthUnit,
    PostureSource,
    Style,
    choices,
)
from athletes.models.people import Athlete


class Posture(models.Model):
    """What one person saw on one day in one style: typed stance and unit as given beside cm; "" is not seen."""

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="postures")
    style = models.CharField(max_length=12, choices=choices(Style))
    day = models.DateField()
    source = models.CharField(max_length=5, choices=choices(PostureSource))
    heels_typed = models.CharField(max_length=20, blank=True)
    heels_unit = models.CharField(max_length=2, choices=choices(LengthUnit), blank=True)
    heels_cm = models.FloatField(null=True, blank=True)
    turnout_deg = models.FloatField(null=True, blank=True)
    bar_over = models.CharField(max_length=10, choices=choices(BarOverFoot), blank=True)
    arms = models.CharField(max_length=10, choices=choices(Arms), blank=True)
    back = models.CharField(max_length=10, choices=choices(BackShape), blank=True)
    knees = models.CharField(max_length=10, choices=choices(Knees), blank=True)
    note = models.CharField(max_length=200, blank=True)
    author = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")
    created = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(heels_cm__isnull=True) | Q(heels_cm__gt=0), name="posture_heels"),
            models.CheckConstraint(
                condition=Q(turnout_deg__isnull=True) | Q(turnout_deg__gte=0, turnout_deg__lt=90),
                name="posture_turnout",
            ),
        ]
        ordering = ["-day", "-pk"]

    def __str__(self) -> str:
        return f"{self.athlete}, {self.get_style_display()} on {self.day}"
