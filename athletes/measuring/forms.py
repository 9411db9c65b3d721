"""The measuring form: three boxes a measure, every odd text answered with a question, nothing typed ever lost."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from django import forms
from django.utils import timezone

from athletes.measuring.repeats import Repeats, repeat_question
from athletes.measuring.services import NewReading, latest_lengths
from athletes.measuring.stale import is_minor
from athletes.models import Athlete, Measurement, MeasuringVisit, User
from athletes.models.choices import LengthUnit, MeasureKey, WeightUnit
from athletes.schema.measurements import REPEATS, SHEET_GROUPS, keys_of_group, measure_label, sheet_keys
from athletes.units.builds import oddities
from athletes.units.lengths import Reading, read

FOUND = [("", "no bony points measured"), ("self", "by the athlete"), ("consent", "by me, with the athlete's consent")]


@dataclass(frozen=True)
class Box:
    """One input with its question: `choices` are (value, words) of radio buttons, `kept` a choice already made."""

    field: forms.BoundField
    as_name: str
    messages: tuple[str, ...] = ()
    choices: tuple[tuple[str, str], ...] = ()
    kept: str = ""
    heard: str = ""


@dataclass(frozen=True)
class Question:
    """Something to confirm about a whole measure: a tick box, or a hidden field once ticked."""

    name: str
    token: str
    message: str
    agreed: bool


@dataclass(frozen=True)
class Row:
    key: str
    label: str
    boxes: tuple[Box, ...]
    questions: tuple[Question, ...]


class MeasuringForm(forms.Form):
    day = forms.DateField(label="Measured on", widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"))
    length_unit = forms.ChoiceField(label="Lengths in", choices=LengthUnit.choices)
    mass_unit = forms.ChoiceField(label="Body mass in", choices=WeightUnit.choices)
    landmarks = forms.ChoiceField(label="Bony points were found", choices=FOUND, required=False)
    chaperone = forms.CharField(
        label="Second adult present",
        max_length=80,
        required=False,
        help_text="Needed when bony points are measured on somebody under 18: a name, or “a parent”.",
    )
    note = forms.CharField(label="Note", max_length=200, required=False)

    def __init__(self, athlete: Athlete, user: User, visit: MeasuringVisit, see_mass: bool, data: Any = None) -> None:
        self.athlete, self.visit, self.see_mass = athlete, visit, see_mass
        self.stored = {} if visit.pk is None else {f"{m.key}_{m.repeat}": m for m in visit.measurements.all()}
        super().__init__(data, initial=self.initial_of(user))
        for key in sheet_keys():
            for repeat in REPEATS:
                self.fields[f"{key}_{repeat}"] = reading_field(key, repeat)
        self.readings: dict[str, Reading] = {}
        self.questions: dict[str, list[Question]] = {}

    def initial_of(self, user: User) -> dict[str, object]:
        units = {m.unit for m in self.stored.values() if m.key != MeasureKey.MASS}
        masses = {m.unit for m in self.stored.values() if m.key == MeasureKey.MASS}
        first: dict[str, object] = {
            "day": self.visit.day or timezone.localdate(),
            "length_unit": "in" if units and units <= {"in", "ft"} else "cm" if units else user.length_unit,
            "mass_unit": "lb" if masses == {"lb"} else "kg" if masses else user.weight_unit,
            "chaperone": self.visit.chaperone,
            "note": self.visit.note,
            "landmarks": found_by(self.visit, self.stored),
        }
        shown = {name: m.typed for name, m in self.stored.items() if self.see_mass or m.key != MeasureKey.MASS}
        return first | shown

    def clean_day(self) -> date:
        day = self.cleaned_data["day"]
        if day > timezone.localdate():
            raise forms.ValidationError(f"{day:%-d %B %Y} lies ahead; give the day of the measuring.")
        if self.athlete.born and day < self.athlete.born:
            raise forms.ValidationError(f"{day:%-d %B %Y} is before the athlete was born.")
        if day.year < 1950:
            raise forms.ValidationError(f"The year {day.year} is too long ago; check it.")
        return day

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        for key in sheet_keys():
            for repeat in REPEATS:
                self.read_box(key, f"{key}_{repeat}")
        self.check_repeats()
        self.check_together()
        self.check_landmarks()
        if not self.errors and not self.readings and not self.stored:
            self.add_error(None, "Nothing is typed yet: fill in at least one measure.")
        return data

    def read_box(self, key: str, name: str) -> None:
        text = self.cleaned_data.get(name) or ""
        reading = self.unchanged(key, name, text)
        if reading is None:
            unit = self.cleaned_data.get("mass_unit" if key == MeasureKey.MASS else "length_unit") or ""
            unit = unit or ("kg" if key == MeasureKey.MASS else "cm")
            reading = read(key, text, unit, self.answer(f"{name}_as", text))
        if reading is not None:
            self.readings[name] = reading
            if reading.value is None:
                self.add_error(name, reading.message)

    def unchanged(self, key: str, name: str, text: str) -> Reading | None:
        """A stored reading whose text and unit were left alone is the same reading still, without new questions."""
        kept = self.stored.get(name)
        unit = "mass_unit" if key == MeasureKey.MASS else "length_unit"
        if kept is None or text != kept.typed or self.cleaned_data.get(unit) != self.initial[unit]:
            return None
        return Reading(kept.typed, kept.unit, kept.value)

    def answer(self, name: str, text: str) -> str:
        """The choice made for this very text; a choice for another text does not count."""
        choice, _, about = str(self.data.get(name, "")).partition(":")
        return choice if about == text else ""

    def agreed(self, name: str, token: str) -> bool:
        return bool(token) and self.data.get(name) == token

    def repeats(self) -> dict[str, Repeats]:
        """The understood readings of each measure."""
        found: dict[str, list[float]] = {}
        for name, reading in self.readings.items():
            if reading.value is not None:
                found.setdefault(name.rsplit("_", 1)[0], []).append(reading.value)
        return {key: Repeats(key, tuple(values)) for key, values in found.items()}

    def check_repeats(self) -> None:
        for key, repeats in self.repeats().items():
            message = repeat_question(repeats)
            if message:
                self.ask(key, f"{key}_more", " / ".join(f"{v:.2f}" for v in repeats.values), message)

    def check_together(self) -> None:
        here = {key: repeats.mean for key, repeats in self.repeats().items()}
        day = self.cleaned_data.get("day") or timezone.localdate()
        known = latest_lengths(self.athlete, day, without=self.visit) | here
        for odd in oddities(known, self.athlete.sex, is_minor(self.athlete, day)):
            if odd.key in here or (MeasureKey.STATURE in here and odd.key != MeasureKey.MASS):
                self.ask(odd.key if odd.key in here else MeasureKey.STATURE, f"{odd.key}_sure", odd.token, odd.message)

    def ask(self, key: str, name: str, token: str, message: str) -> None:
        """Put a question beside a measure; it stops the saving until it is agreed to."""
        agreed = self.agreed(name, token)
        self.questions.setdefault(key, []).append(Question(name, token, message, agreed))
        if not agreed:
            self.add_error(f"{key}_1", message)

    def check_landmarks(self) -> None:
        measured = [key for key in keys_of_group("landmark") if any(f"{key}_{n}" in self.readings for n in REPEATS)]
        if not measured:
            return
        if not self.cleaned_data.get("landmarks"):
            self.add_error("landmarks", "Say how the bony points were found: by the athlete, or by you with consent.")
        day = self.cleaned_data.get("day") or timezone.localdate()
        if is_minor(self.athlete, day) and not self.cleaned_data.get("chaperone"):
            self.add_error(
                "chaperone",
                "Bony points of somebody under 18 are measured with a second adult present. Write who was there, or "
                "clear those boxes.",
            )

    def groups(self) -> list[tuple[str, str, list[Row]]]:
        """What the template shows: titled groups of rows."""
        return [
            (group.heading, group.text, [self.row(key) for key in keys_of_group(group.name)]) for group in SHEET_GROUPS
        ]

    def row(self, key: str) -> Row:
        boxes = tuple(self.box(f"{key}_{n}") for n in REPEATS if key != MeasureKey.MASS or n == 1)
        return Row(key, measure_label(key), boxes, tuple(self.questions.get(key, ())))

    def box(self, name: str) -> Box:
        reading = self.readings.get(name)
        if reading is None:
            return Box(self[name], f"{name}_as", tuple(map(str, self[name].errors)))
        messages = (reading.message,) if reading.value is None else ()
        kept = f"{reading.chosen}:{reading.typed}" if reading.chosen else ""
        choices = tuple((f"{c.name}:{reading.typed}", c.words) for c in reading.choices)
        return Box(self[name], f"{name}_as", messages, choices, kept, reading.heard)

    def new_readings(self) -> list[NewReading]:
        """What is to be stored, repeats counted from 1 without gaps."""
        counts: dict[str, int] = {}
        rows = []
        for name, reading in self.readings.items():
            key = name.rsplit("_", 1)[0]
            counts[key] = counts.get(key, 0) + 1
            rows.append(NewReading(key, counts[key], reading.typed, reading.unit, float(reading.value or 0)))
        return rows

    def heard(self) -> list[str]:
        """What was understood where it differs from what was typed, to be said once more when it is saved."""
        return [
            f"{measure_label(name.rsplit('_', 1)[0]).capitalize()}: {r.heard}"
            for name, r in self.readings.items()
            if r.heard
        ]

    def keeps_mass(self) -> bool:
        """Whether a stored body mass that the reader may not see stays as it is."""
        return not self.see_mass and not any(name.startswith(f"{MeasureKey.MASS}_") for name in self.readings)

    def fill(self) -> MeasuringVisit:
        """The visit with what the form says about it, not yet saved."""
        self.visit.day = self.cleaned_data["day"]
        self.visit.landmarks_consent = self.cleaned_data["landmarks"] == "consent"
        self.visit.chaperone = self.cleaned_data["chaperone"]
        self.visit.note = self.cleaned_data["note"]
        return self.visit


def reading_field(key: str, repeat: int) -> forms.CharField:
    label = f"{measure_label(key)}, reading {repeat}"
    field = forms.CharField(label=label, required=False, max_length=200)
    field.widget.attrs.update({"size": 8, "autocomplete": "off", "aria-label": label, "class": "reading"})
    return field


def found_by(visit: MeasuringVisit, stored: dict[str, Measurement]) -> str:
    if visit.landmarks_consent:
        return "consent"
    return "self" if any(m.key in keys_of_group("landmark") for m in stored.values()) else ""
