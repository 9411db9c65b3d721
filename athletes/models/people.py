"""Who: people, clubs, memberships, athletes, what they said at the first meeting, and their measured bodies."""

import uuid
from datetime import date

from django.conf import settings
from django.contrib.auth.models import AbstractUser
from django.db import models
from django.db.models import Q

from athletes.models.choices import (
    BarKind,
    BodySite,
    Grip,
    HealthKind,
    LengthUnit,
    Pronoun,
    Role,
    Sex,
    Standing,
    Style,
    WeightUnit,
    choices,
    measure_choices,
)
from athletes.schema.names import name_key


class NameKeyField(models.CharField):
    """A column derived from `name` at every write, so that it can never lag behind."""

    def pre_save(self, model_instance: models.Model, add: bool) -> str:
        key = name_key(str(getattr(model_instance, "name")))  # noqa: B009 - any model that has a name
        setattr(model_instance, self.attname, key)
        return key


class User(AbstractUser):
    """A person who signs in with an e-mail address; their units are for show only, never for storage."""

    _roles: dict[int, str]  # kept by `roles_of` for one request

    email = models.EmailField("e-mail", unique=True)
    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    weight_unit = models.CharField(max_length=2, choices=choices(WeightUnit), default=WeightUnit.KG)
    length_unit = models.CharField(max_length=2, choices=choices(LengthUnit), default=LengthUnit.CM)
    is_demo = models.BooleanField(default=False, editable=False)

    USERNAME_FIELD = "email"
    REQUIRED_FIELDS = ["username"]

    class Meta:
        db_table = "athletes_user"

    def __str__(self) -> str:
        return self.get_full_name() or self.email


class Club(models.Model):
    name = models.CharField(max_length=80)
    timezone = models.CharField(max_length=50, default="UTC")
    closed_days = models.JSONField(default=list, blank=True)  # ISO days on which nothing is decided or tested
    created = models.DateTimeField(auto_now_add=True)
    members = models.ManyToManyField(settings.AUTH_USER_MODEL, through="Membership")

    def __str__(self) -> str:
        return self.name


class Membership(models.Model):
    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="memberships")
    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="memberships")
    role = models.CharField(max_length=10, choices=choices(Role))
    since = models.DateField(auto_now_add=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["club", "user"], name="membership_one_role_per_club"),
            models.CheckConstraint(condition=Q(role__in=Role.values), name="membership_role_known"),
        ]

    def __str__(self) -> str:
        return f"{self.user}, {self.get_role_display()} at {self.club}"


class Athlete(models.Model):
    """A lifter of one club; `sex` picks the reference tables, `coach` the squad."""

    # set on rows by views and queries for one answer, never stored
    viewer_role: str
    standing_word: str

    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="athletes")
    user = models.OneToOneField(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.SET_NULL, related_name="athlete"
    )
    coach = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.SET_NULL, related_name="squad"
    )
    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    name = models.CharField(max_length=80)
    name_key = NameKeyField(max_length=80, editable=False, db_index=True)
    sex = models.CharField(max_length=1, choices=choices(Sex))
    pronoun = models.CharField(max_length=4, choices=choices(Pronoun), default=Pronoun.THEY)
    born = models.DateField(null=True, blank=True)
    born_year_only = models.BooleanField(default=False, help_text="`born` is then the last day of the year")
    standing = models.CharField(max_length=10, choices=choices(Standing), default=Standing.BEGINNER)
    weight_unit = models.CharField(max_length=2, choices=choices(WeightUnit), default=WeightUnit.KG)
    hide_mass_from_athlete = models.BooleanField(default=False)
    active = models.BooleanField(default=True)
    created = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(sex__in=Sex.values), name="athlete_sex_known"),
            models.CheckConstraint(condition=Q(standing__in=Standing.values), name="athlete_standing_known"),
        ]
        indexes = [models.Index(fields=["club", "active"], name="athlete_club_active")]
        ordering = ["name_key", "pk"]

    def __str__(self) -> str:
        return self.name

    def age_on(self, day: date) -> int | None:
        """Whole years on a day; None when the birth date is not known."""
        if self.born is None:
            return None
        return day.year - self.born.year - ((day.month, day.day) < (self.born.month, self.born.day))


class GuardianConsent(models.Model):
    """A guardian's written consent for a minor, with date and withdrawal."""

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="consents")
    guardian = models.CharField(max_length=80)
    given_on = models.DateField()
    withdrawn_on = models.DateField(null=True, blank=True)
    covers_pictures = models.BooleanField(default=False)
    recorded_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(withdrawn_on__isnull=True) | Q(withdrawn_on__gte=models.F("given_on")),
                name="consent_withdrawn_after_given",
            )
        ]

    def __str__(self) -> str:
        return f"{self.guardian} for {self.athlete}"


class GuardianLink(models.Model):
    """A guardian's own way to what concerns one minor, without an account; only the hash of its token is kept."""

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="guardian_links")
    token_hash = models.CharField(max_length=64, unique=True)
    created = models.DateTimeField(auto_now_add=True)
    created_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")
    expires = models.DateTimeField()
    withdrawn = models.DateTimeField(null=True, blank=True)

    def __str__(self) -> str:
        return f"link of a guardian of {self.athlete}"


class FirstMeeting(models.Model):
    """What was said and tried at the first meeting; typed values stay beside the canonical ones."""

    athlete = models.OneToOneField(Athlete, on_delete=models.CASCADE, related_name="first_meeting")
    years_training = models.FloatField(null=True, blank=True)
    squat_typed = models.CharField(max_length=20, blank=True)
    squat_unit = models.CharField(max_length=2, choices=choices(WeightUnit), blank=True)
    squat_kg = models.FloatField(null=True, blank=True)
    squat_depth_seen = models.BooleanField(default=False)
    rules = models.CharField(max_length=80, blank=True)
    bar_allowed = models.CharField(max_length=12, choices=choices(BarKind), default=BarKind.UNKNOWN)
    next_meet_on = models.DateField(null=True, blank=True)
    next_meet_name = models.CharField(max_length=80, blank=True)
    next_meet_important = models.BooleanField(default=False)
    wishes_two_heavy_days = models.BooleanField(default=False)
    grip = models.CharField(max_length=16, choices=choices(Grip), default=Grip.UNKNOWN)
    stance_typed = models.CharField(max_length=20, blank=True)
    stance_unit = models.CharField(max_length=2, choices=choices(LengthUnit), blank=True)
    stance_cm = models.FloatField(null=True, blank=True)
    turnout_deg = models.FloatField(null=True, blank=True)
    hip_pinch = models.BooleanField(default=False)
    hip_pinch_note = models.CharField(max_length=200, blank=True)
    shoe_width_cm = models.FloatField(null=True, blank=True)
    goal = models.CharField(max_length=200, blank=True)
    cues = models.CharField(max_length=300, blank=True)
    updated = models.DateTimeField(auto_now=True)
    updated_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")

    def __str__(self) -> str:
        return f"first meeting with {self.athlete}"


class StyleRecord(models.Model):
    """An athlete's history in one style as told at the first meeting: years, best, last date."""

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="style_records")
    style = models.CharField(max_length=12, choices=choices(Style))
    years = models.FloatField(null=True, blank=True)
    best_typed = models.CharField(max_length=20, blank=True)
    best_unit = models.CharField(max_length=2, choices=choices(WeightUnit), blank=True)
    best_kg = models.FloatField(null=True, blank=True)
    best_on = models.DateField(null=True, blank=True)
    last_on = models.DateField(null=True, blank=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["athlete", "style"], name="style_record_once")]

    def __str__(self) -> str:
        return f"{self.athlete}, {self.get_style_display()}"


class HealthNote(models.Model):
    """Private to coach and athlete: pain, injury, surgery, clearance; shown to nobody else."""

    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="health_notes")
    kind = models.CharField(max_length=10, choices=choices(HealthKind))
    site = models.CharField(max_length=12, choices=choices(BodySite))
    severity = models.PositiveSmallIntegerField(null=True, blank=True)
    noted_on = models.DateField()
    ended_on = models.DateField(null=True, blank=True)
    text = models.CharField(max_length=400, blank=True)
    author = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(severity__isnull=True) | Q(severity__lte=10), name="health_severity_0_10"
            )
        ]
        ordering = ["-noted_on", "-pk"]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} ({self.get_site_display()})"


class MeasuringVisit(models.Model):
    athlete = models.ForeignKey(Athlete, on_delete=models.CASCADE, related_name="visits")
    day = models.DateField()
    measured_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+")
    landmarks_consent = models.BooleanField(default=False)
    chaperone = models.CharField(max_length=80, blank=True)
    note = models.CharField(max_length=200, blank=True)
    created = models.DateTimeField(auto_now_add=True)
    batch = models.ForeignKey(
        "athletes.ImportBatch", null=True, blank=True, on_delete=models.CASCADE, related_name="visits"
    )

    class Meta:
        ordering = ["-day", "-pk"]

    def __str__(self) -> str:
        return f"{self.athlete} on {self.day}"


class Measurement(models.Model):
    """One reading: typed text and unit as given, `value` canonical in cm (kg for body mass)."""

    visit = models.ForeignKey(MeasuringVisit, on_delete=models.CASCADE, related_name="measurements")
    key = models.CharField(max_length=28, choices=measure_choices())
    repeat = models.PositiveSmallIntegerField(default=1)
    typed = models.CharField(max_length=30)
    unit = models.CharField(max_length=4)
    value = models.FloatField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["visit", "key", "repeat"], name="measurement_once"),
            models.CheckConstraint(condition=Q(repeat__gte=1, repeat__lte=3), name="measurement_repeat_1_3"),
            models.CheckConstraint(condition=Q(value__gt=0), name="measurement_positive"),
        ]
        ordering = ["key", "repeat"]

    def __str__(self) -> str:
        return f"{self.get_key_display()} {self.typed} {self.unit}"
