"""What was decided: style trials and their verdicts, meets, entries, attempts and rivals."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from athletes.models.choices import (
    BarKind,
    Lift,
    Result,
    Style,
    SuccessMeasure,
    TrialStatus,
    Verdict,
    WeightUnit,
    choices,
)
from athletes.models.people import Athlete, Club


class Trial(models.Model):
    """A planned trial of a new style against an old one."""

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="trials")
    new_style = models.CharField(max_length=12, choices=choices(Style))
    old_style = models.CharField(max_length=12, choices=choices(Style), blank=True)
    started_on = models.DateField()
    weeks = models.PositiveSmallIntegerField(default=12)
    pulls_a_week = models.FloatField(default=1.5)
    old_style_plan = models.CharField(max_length=200, blank=True)
    baseline_new_typed = models.CharField(max_length=20, blank=True)
    baseline_new_kg = models.FloatField(null=True, blank=True)
    baseline_old_typed = models.CharField(max_length=20, blank=True)
    baseline_old_kg = models.FloatField(null=True, blank=True)
    baseline_unit = models.CharField(max_length=2, choices=choices(WeightUnit), blank=True)
    no_baseline_reason = models.CharField(max_length=200, blank=True)
    success = models.CharField(max_length=12, choices=choices(SuccessMeasure), default=SuccessMeasure.MORE_WEIGHT)
    avoid_dates = models.JSONField(default=list, blank=True)
    decide_on = models.DateField()
    stop_rules = models.JSONField(default=list, blank=True)
    note = models.CharField(max_length=400, blank=True)
    status = models.CharField(max_length=8, choices=choices(TrialStatus), default=TrialStatus.RUNNING)
    author = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")
    created = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["athlete"], condition=Q(status="running"), name="trial_one_running_per_athlete"
            ),
            models.CheckConstraint(condition=~Q(new_style=models.F("old_style")), name="trial_two_styles"),
        ]
        ordering = ["-started_on"]

    def __str__(self) -> str:
        return f"{self.athlete}: {self.get_new_style_display()} from {self.started_on}"


class Decision(models.Model):
    """What the coach decided and why, with the numbers that stood on the page that day."""

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="decisions")
    trial = models.ForeignKey(Trial, null=True, blank=True, on_delete=models.CASCADE, related_name="decisions")
    on = models.DateField()
    verdict = models.CharField(max_length=6, choices=choices(Verdict), blank=True)
    main_style = models.CharField(max_length=12, choices=choices(Style), blank=True)
    reasons = models.TextField(max_length=1000)
    words_for_athlete = models.TextField(max_length=600, blank=True)
    snapshot = models.JSONField(default=dict, blank=True)
    decided_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")
    created = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-on", "-pk"]

    def __str__(self) -> str:
        return f"{self.athlete} {self.on}: {self.verdict or self.main_style}"


class Meet(models.Model):
    days_to_go: int  # set on rows by the list of meets, never stored

    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="meets")
    name = models.CharField(max_length=80)
    day = models.DateField()
    bar_kind = models.CharField(max_length=12, choices=choices(BarKind), default=BarKind.STIFF)
    rule_set = models.JSONField(default=dict, blank=True)
    lifts = models.JSONField(default=list, blank=True)
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["-day"]

    def __str__(self) -> str:
        return f"{self.name}, {self.day}"


class MeetEntry(models.Model):
    """One lifter at one meet; a rival has no athlete, only the name that was typed."""

    meet = models.ForeignKey(Meet, on_delete=models.CASCADE, related_name="entries")
    athlete = models.ForeignKey(Athlete, null=True, blank=True, on_delete=models.CASCADE, related_name="meet_entries")
    rival_name = models.CharField(max_length=80, blank=True)
    mass_typed = models.CharField(max_length=20, blank=True)
    mass_kg = models.FloatField(null=True, blank=True)
    official_mass_typed = models.CharField(max_length=20, blank=True)
    official_mass_kg = models.FloatField(null=True, blank=True)
    first_meet = models.BooleanField(default=False)
    important = models.BooleanField(default=False)
    subtotal_typed = models.CharField(max_length=20, blank=True)
    subtotal_kg = models.FloatField(null=True, blank=True)
    goal_typed = models.CharField(max_length=20, blank=True)
    lot = models.PositiveSmallIntegerField(null=True, blank=True)
    goal_kg = models.FloatField(null=True, blank=True)
    style = models.CharField(max_length=12, choices=choices(Style), blank=True)
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(athlete__isnull=False) | ~Q(rival_name=""), name="meet_entry_somebody"),
            models.UniqueConstraint(
                fields=["meet", "athlete"], condition=Q(athlete__isnull=False), name="meet_entry_once"
            ),
        ]

    def __str__(self) -> str:
        return self.rival_name or str(self.athlete)

    @property
    def own_athlete(self) -> Athlete:
        """The club's athlete; ask only where the entry is known not to be a rival's."""
        if self.athlete is None:
            raise ValueError("A rival's entry has no athlete.")
        return self.athlete


class Attempt(models.Model):
    """One attempt: planned until it is handed in, due until it has a result; `uids` are the phone entries it took."""

    entry = models.ForeignKey(MeetEntry, on_delete=models.CASCADE, related_name="attempts")
    lift = models.CharField(max_length=12, choices=choices(Lift), default=Lift.DEADLIFT)
    number = models.PositiveSmallIntegerField()
    load_typed = models.CharField(max_length=20)
    load_unit = models.CharField(max_length=2, choices=choices(WeightUnit), default=WeightUnit.KG)
    load_kg = models.FloatField()
    changes = models.PositiveSmallIntegerField(default=0)
    result = models.CharField(max_length=12, choices=choices(Result), blank=True)
    reason = models.CharField(max_length=60, blank=True)
    declared_at = models.DateTimeField(null=True, blank=True)
    ended_at = models.DateTimeField(null=True, blank=True)
    uids = models.JSONField(default=list, blank=True)
    changed = models.DateTimeField(auto_now=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["entry", "lift", "number"], name="attempt_once"),
            models.CheckConstraint(condition=Q(number__gte=1, number__lte=4), name="attempt_number_1_4"),
        ]
        ordering = ["lift", "number"]

    def __str__(self) -> str:
        return f"{self.load_typed} {self.load_unit}, attempt {self.number}"
