"""The optional note of a training day."""

from typing import Any

from django import forms

from athletes.models import TrainingDay
from athletes.models.choices import BodySite, WeightUnit
from athletes.units.fields import NumberField, read_amount
from athletes.units.loads import parse_mass


class DayNoteForm(forms.ModelForm):
    """Soreness, sleep, energy, and the body mass for those who may see it."""

    mass_typed = forms.CharField(label="Body mass", max_length=20, required=False)
    mass_unit = forms.ChoiceField(label="Unit", choices=WeightUnit.choices, required=False)
    soreness = forms.TypedChoiceField(
        label="Soreness, 0 none to 10 worst", coerce=int, empty_value=None, required=False,
        choices=[("", "not noted"), *((str(n), str(n)) for n in range(11))],
    )  # fmt: skip
    soreness_site = forms.ChoiceField(label="Where", choices=[("", "not noted"), *BodySite.choices], required=False)
    energy = forms.TypedChoiceField(
        label="Energy, 0 none to 10 plenty", coerce=int, empty_value=None, required=False,
        choices=[("", "not noted"), *((str(n), str(n)) for n in range(11))],
    )  # fmt: skip
    sleep_hours = NumberField(label="Sleep, hours", what="Sleep", low=0, high=24, unit=" hours", required=False)

    class Meta:
        model = TrainingDay
        fields = ["soreness", "soreness_site", "sleep_hours", "energy", "note", "mass_typed", "mass_unit"]
        widgets = {"note": forms.Textarea({"rows": 3})}

    def __init__(self, *args: Any, with_mass: bool, **extra: Any) -> None:
        super().__init__(*args, **extra)
        if not with_mass:
            del self.fields["mass_typed"], self.fields["mass_unit"]

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if data.get("soreness_site") and not data.get("soreness"):
            self.add_error("soreness_site", "A place was chosen, but no soreness from 1 to 10.")
        if "mass_typed" in self.fields and {"mass_typed", "mass_unit"} & set(self.changed_data):
            mass = read_amount(self, "mass_typed", "mass_unit", parse_mass)
            self.instance.mass_kg = mass.value if mass else None
            data["mass_typed"], data["mass_unit"] = (
                (mass.typed, mass.unit) if mass else (data.get("mass_typed", ""), "")
            )
        return data
