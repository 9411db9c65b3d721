"""What was logged: bars, training days, sets, plans, and the imports that brought old logs in."""

import uuid

from django.conf import settings
from django.db import models
from django.db.models import Q

from athletes.models.choices import (
    BarKind,
    BodySite,
    GaveWay,
    Grip,
    InNewStyle,
    LengthUnit,
    Lift,
    MissPosition,
    Result,
    RuleReason,
    Shape,
    ShapeRegion,
    Start,
    Style,
    WeightUnit,
    choices,
)
from athletes.models.people import Athlete, Club
from athletes.schema.sets import HEAVIEST_KG


class Bar(models.Model):
    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="bars")
    name = models.CharField(max_length=40)
    kind = models.CharField(max_length=12, choices=choices(BarKind))
    diameter_mm = models.FloatField(null=True, blank=True)
    span_m = models.FloatField(null=True, blank=True)
    knurl = models.CharField(max_length=20, blank=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["club", "name"], name="bar_name_once")]

    def __str__(self) -> str:
        return self.name


class TrainingDay(models.Model):
    """The optional note of a day; body mass is private, soreness and pain are for coach and athlete."""

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="days")
    day = models.DateField()
    mass_typed = models.CharField(max_length=20, blank=True)
    mass_unit = models.CharField(max_length=2, choices=choices(WeightUnit), blank=True)
    mass_kg = models.FloatField(null=True, blank=True)
    soreness = models.PositiveSmallIntegerField(null=True, blank=True)
    soreness_site = models.CharField(max_length=12, choices=choices(BodySite), blank=True)
    sleep_hours = models.FloatField(null=True, blank=True)
    energy = models.PositiveSmallIntegerField(null=True, blank=True)
    note = models.CharField(max_length=400, blank=True)
    mass_batch = models.ForeignKey(
        "athletes.ImportBatch", null=True, blank=True, on_delete=models.SET_NULL, related_name="mass_days"
    )

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["athlete", "day"], name="training_day_once"),
            models.CheckConstraint(condition=Q(soreness__isnull=True) | Q(soreness__lte=10), name="day_soreness_0_10"),
            models.CheckConstraint(condition=Q(energy__isnull=True) | Q(energy__lte=10), name="day_energy_0_10"),
        ]
        ordering = ["-day"]

    def __str__(self) -> str:
        return f"{self.athlete} on {self.day}"


class PullFields(models.Model):
    """Everything that makes two sets comparable, shared by plans and logged sets."""

    lift = models.CharField(max_length=12, choices=choices(Lift), default=Lift.DEADLIFT)
    style = models.CharField(max_length=12, choices=choices(Style), blank=True)
    bar = models.ForeignKey(Bar, null=True, blank=True, on_delete=models.SET_NULL, related_name="+", db_index=False)
    bar_kind = models.CharField(max_length=12, choices=choices(BarKind), default=BarKind.UNKNOWN)
    start = models.CharField(max_length=8, choices=choices(Start), default=Start.FLOOR)
    start_typed = models.CharField(max_length=20, blank=True)
    start_unit = models.CharField(max_length=2, choices=choices(LengthUnit), blank=True)
    start_cm = models.FloatField(default=0.0, help_text="height of the block (+) or depth of the deficit (+), cm")
    disc_diameter_cm = models.FloatField(default=45.0)
    grip = models.CharField(max_length=16, choices=choices(Grip), default=Grip.UNKNOWN)
    straps = models.BooleanField(default=False)
    belt = models.BooleanField(default=False)
    suit = models.BooleanField(default=False)
    dead_stop = models.BooleanField(default=True)
    paused = models.BooleanField(default=False)

    class Meta:
        abstract = True


class SetFields(PullFields):
    """What a set is in itself, shared by the log and by the table where an import waits.

    Few indexes: every one lengthens the write lock of a large import, and nobody asks by bar or by author alone.
    """

    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    day = models.DateField()
    order = models.PositiveIntegerField(default=0)
    load_typed = models.CharField(max_length=20)
    load_unit = models.CharField(max_length=2, choices=choices(WeightUnit))
    load_kg = models.FloatField()
    reps_made = models.PositiveSmallIntegerField(default=1)
    reps_tried = models.PositiveSmallIntegerField(default=1)
    effort_typed = models.CharField(max_length=20, blank=True)
    rir_low = models.FloatField(null=True, blank=True)
    rir_high = models.FloatField(null=True, blank=True)
    shape = models.CharField(max_length=16, choices=choices(Shape), default=Shape.UNSEEN)
    shape_region = models.CharField(max_length=6, choices=choices(ShapeRegion), blank=True)
    pull_seconds = models.FloatField(null=True, blank=True)
    depth_verified = models.BooleanField(default=False)
    result = models.CharField(max_length=12, choices=choices(Result), default=Result.MADE)
    rule_reason = models.CharField(max_length=20, choices=choices(RuleReason), blank=True)
    miss_position = models.CharField(max_length=12, choices=choices(MissPosition), blank=True)
    second_position = models.CharField(max_length=12, choices=choices(MissPosition), blank=True)
    gave_way = models.CharField(max_length=20, choices=choices(GaveWay), blank=True)
    slowest_at = models.CharField(max_length=12, choices=choices(MissPosition), blank=True)
    what_changed = models.CharField(max_length=20, choices=choices(GaveWay), blank=True)
    in_new_style = models.CharField(max_length=6, choices=choices(InNewStyle), blank=True)
    is_test = models.BooleanField(default=False)
    note = models.CharField(max_length=400, blank=True)
    author = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+", db_index=False
    )
    created = models.DateTimeField(auto_now_add=True)
    changed = models.DateTimeField(auto_now=True)

    class Meta:
        abstract = True


def set_checks(name: str) -> list[models.BaseConstraint]:
    """What the database holds of every set, in the log and in the table where an import waits."""
    return [
        models.CheckConstraint(condition=Q(load_kg__gte=0, load_kg__lte=HEAVIEST_KG), name=f"{name}_load_0_700_kg"),
        models.CheckConstraint(condition=Q(reps_made__lte=models.F("reps_tried")), name=f"{name}_made_at_most_tried"),
        models.CheckConstraint(condition=Q(result__in=Result.values), name=f"{name}_result_known"),
    ]


class LiftSet(SetFields):
    """One set as it happened; `uid` comes from the client so that sending twice writes once."""

    share_of_best: float | None  # set on rows by the search for misses, in per cent, never stored

    athlete = models.ForeignKey(
        Athlete, on_delete=models.CASCADE, related_name="sets", db_index=False
    )  # set_athlete_day
    trial = models.ForeignKey(
        "athletes.Trial", null=True, blank=True, on_delete=models.SET_NULL, related_name="sets", db_index=False
    )  # set_of_trial
    batch = models.ForeignKey(
        "athletes.ImportBatch", null=True, blank=True, on_delete=models.CASCADE, related_name="sets"
    )

    class Meta:
        constraints = set_checks("set")
        indexes = [
            models.Index(fields=["athlete", "-day", "order", "result"], name="set_athlete_day"),
            models.Index(fields=["trial"], name="set_of_trial", condition=Q(trial__isnull=False)),
        ]
        ordering = ["-day", "order", "pk"]

    def __str__(self) -> str:
        return f"{self.load_typed} {self.load_unit} x {self.reps_made}"


class PlanItem(PullFields):
    """One line of a lifter's plan for a day."""

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="plan_items")
    day = models.DateField()
    order = models.PositiveIntegerField(default=0)
    sets = models.PositiveSmallIntegerField(default=1)
    reps = models.PositiveSmallIntegerField(default=1)
    load_typed = models.CharField(max_length=20, blank=True)
    load_unit = models.CharField(max_length=2, choices=choices(WeightUnit), blank=True)
    load_kg = models.FloatField(null=True, blank=True)
    rpe_cap = models.FloatField(null=True, blank=True)
    note = models.CharField(max_length=200, blank=True)
    cue = models.CharField(max_length=120, blank=True)
    trial = models.ForeignKey("athletes.Trial", null=True, blank=True, on_delete=models.SET_NULL, related_name="+")
    is_test = models.BooleanField(default=False)
    author = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")
    changed = models.DateTimeField(auto_now=True)

    class Meta:
        indexes = [models.Index(fields=["athlete", "day", "order"], name="plan_athlete_day")]
        ordering = ["day", "order", "pk"]

    def __str__(self) -> str:
        return f"{self.athlete} {self.day}: {self.sets} x {self.reps}"


class Presence(models.Model):
    """Who is in the room tonight."""

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="presences")
    day = models.DateField()
    marked_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")

    class Meta:
        constraints = [models.UniqueConstraint(fields=["athlete", "day"], name="presence_once_a_day")]

    def __str__(self) -> str:
        return f"{self.athlete} on {self.day}"
