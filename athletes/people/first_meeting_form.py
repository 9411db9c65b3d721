"""The first meeting: history per style, squat, rules, grip, a stance tried with a dowel, and private injuries."""

from datetime import date
from typing import Any

from django import forms
from django.utils import timezone

from athletes.measuring.stale import UnreadableStance, is_minor, parse_stance
from athletes.models import Athlete, FirstMeeting, HealthNote, StyleRecord
from athletes.models.choices import LengthUnit, Standing, Style, WeightUnit
from athletes.units.fields import NumberField, read_amount
from athletes.units.loads import parse_load

DATE = {"type": "date"}


def date_field(label: str, **extra: Any) -> forms.DateField:
    widget = forms.DateInput(attrs=DATE, format="%Y-%m-%d")
    return forms.DateField(label=label, required=False, widget=widget, **extra)


def not_ahead(form: forms.BaseForm, name: str) -> date | None:
    """A day that has been; the message stands at its field."""
    day = form.cleaned_data.get(name)
    if day is not None and day > timezone.localdate():
        raise forms.ValidationError(f"{day.day} {day:%B} {day.year} lies ahead; it is asked when it was.")
    return day


class FirstMeetingForm(forms.ModelForm):
    """Everything but styles and injuries.

    The standing is there only for those who decide it, a pinch of the hip only for those who may see health.
    """

    standing = forms.ChoiceField(label="Standing", choices=Standing.choices)
    years_training = NumberField(what="Years of training", low=0, high=80, label="Years of training", required=False)
    turnout_deg = NumberField(
        what="Turnout", low=0, high=80, label="Turnout of each foot, degrees", required=False, unit=" degrees",
        help_text="0 is toes straight ahead.",
    )  # fmt: skip
    shoe_width_cm = NumberField(
        what="Shoe width", low=6, high=16, label="Width of the lifting shoe, cm", required=False, unit=" cm",
        help_text="Across the ball of the foot. The gap between the discs less the shoes bounds every stance.",
    )  # fmt: skip
    next_meet_on = date_field("Next meet on")

    class Meta:
        model = FirstMeeting
        fields = [
            "years_training", "squat_typed", "squat_unit", "squat_depth_seen", "rules", "bar_allowed", "grip",
            "next_meet_on", "next_meet_name", "next_meet_important", "wishes_two_heavy_days",
            "stance_typed", "stance_unit", "turnout_deg", "hip_pinch",
            "hip_pinch_note", "shoe_width_cm", "goal", "cues",
        ]  # fmt: skip
        labels = {
            "squat_typed": "Best back squat",
            "squat_unit": "Unit",
            "squat_depth_seen": "Depth was seen by a coach",
            "rules": "Rules lifted under",
            "bar_allowed": "Bar allowed there",
            "grip": "Usual grip",
            "next_meet_name": "Its name",
            "next_meet_important": "It is important: no style trial runs into it",
            "wishes_two_heavy_days": "Wants to pull heavy twice a week",
            "stance_typed": "Widest comfortable stance, ankle to ankle",
            "stance_unit": "Unit",
            "hip_pinch": "A hip pinched",
            "hip_pinch_note": "Where, and at which stance",
            "goal": "What the athlete wants",
            "cues": "Cues that work",
        }

    def __init__(self, athlete: Athlete, decides: bool, sees_health: bool, *args: Any, **kwargs: Any) -> None:
        self.athlete = athlete
        super().__init__(*args, **kwargs)
        self.fields["squat_unit"] = unit_field(WeightUnit, self.instance.squat_unit or athlete.weight_unit)
        self.fields["stance_unit"] = unit_field(LengthUnit, self.instance.stance_unit or "cm")
        for name in ("squat_unit", "stance_unit"):
            self.initial[name] = self.fields[name].initial
        if decides:
            self.initial["standing"] = athlete.standing
        else:
            del self.fields["standing"]
        if not sees_health:
            del self.fields["hip_pinch"], self.fields["hip_pinch_note"]

    def clean_standing(self) -> str:
        """Under 18 by birth date and by nothing else where the birth date is known."""
        standing, athlete = self.cleaned_data["standing"], self.athlete
        if athlete.born is None:
            return standing
        minor = is_minor(athlete, timezone.localdate())
        if minor and standing != Standing.UNDER_18:
            raise forms.ValidationError("The athlete is under 18 by birth date; the standing stays “under 18”.")
        if not minor and standing == Standing.UNDER_18:
            raise forms.ValidationError("“Under 18” contradicts the birth date.")
        return standing

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        squat = read_amount(self, "squat_typed", "squat_unit", parse_load)
        self.instance.squat_kg = squat.value if squat else None
        data["squat_unit"] = squat.unit if squat else ""
        stance = (data.get("stance_typed") or "").strip()
        self.instance.stance_cm = None
        if stance:
            try:
                self.instance.stance_cm = parse_stance(stance, data.get("stance_unit") or "cm")
            except UnreadableStance as problem:
                self.add_error("stance_typed", str(problem))
        else:
            data["stance_unit"] = ""
        if data.get("hip_pinch_note") and not data.get("hip_pinch"):
            data["hip_pinch"] = True
        return data


def unit_field(units: type[WeightUnit] | type[LengthUnit], initial: str) -> forms.ChoiceField:
    return forms.ChoiceField(label="Unit", choices=units.choices, initial=initial, required=False)


class StyleForm(forms.ModelForm):
    """One style's history as told: years, best and when, last pulled."""

    years = NumberField(what="Years", low=0, high=80, label="Years", required=False)
    best_on = date_field("Best on")
    last_on = date_field("Last pulled")

    class Meta:
        model = StyleRecord
        fields = ["years", "best_typed", "best_unit", "best_on", "last_on"]
        labels = {"best_typed": "Best", "best_unit": "Unit"}

    def __init__(self, athlete: Athlete, style: str, stored: StyleRecord | None, data: Any = None) -> None:
        row = stored or StyleRecord(athlete=athlete, style=style)
        super().__init__(data, instance=row, prefix=style)
        self.title = str(Style(style).label).capitalize()
        self.fields["best_unit"] = unit_field(WeightUnit, row.best_unit or athlete.weight_unit)
        self.initial["best_unit"] = self.fields["best_unit"].initial

    def clean_best_on(self) -> date | None:
        return not_ahead(self, "best_on")

    def clean_last_on(self) -> date | None:
        return not_ahead(self, "last_on")

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        best = read_amount(self, "best_typed", "best_unit", parse_load)
        self.instance.best_kg = best.value if best else None
        data["best_unit"] = best.unit if best else ""
        if data.get("best_on") and data.get("last_on") and data["last_on"] < data["best_on"]:
            self.add_error("last_on", "The last pull cannot be before the best one.")
        return data


class HealthNoteForm(forms.ModelForm):
    """A private note for coach and athlete; left out altogether when nothing is written."""

    severity = NumberField(what="Strength of pain", low=0, high=10, label="How strong, 0 to 10", required=False)
    noted_on = date_field("Since")

    class Meta:
        model = HealthNote
        fields = ["kind", "site", "severity", "noted_on", "text"]
        labels = {"kind": "What", "site": "Where", "text": "In a few words"}

    def __init__(self, *args: Any, optional: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.optional = optional
        for name in ("kind", "site"):
            self.fields[name].required = not optional
        self.fields["text"].widget.attrs["size"] = 40

    def clean_noted_on(self) -> date:
        return not_ahead(self, "noted_on") or timezone.localdate()

    def clean_severity(self) -> int | None:
        strength = self.cleaned_data["severity"]
        return None if strength is None else round(strength)

    def is_blank(self) -> bool:
        """Nothing written: no kind, no place, no words."""
        return not any(str(self.data.get(self.add_prefix(n), "")).strip() for n in ("kind", "site", "text", "severity"))

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if self.optional and not self.is_blank():
            for name, words in (("kind", "what it is"), ("site", "where it is")):
                if not data.get(name) and name not in self.errors:
                    self.add_error(name, f"Choose {words}, or clear the note.")
        return data
