"""The form of how a lifter stands in one style: six things to see, none of them required."""

from datetime import date
from typing import Any

from django import forms
from django.utils import timezone

from athletes.measuring.stale import UnreadableStance, parse_stance
from athletes.models import Athlete, Posture, User
from athletes.models.choices import PostureSource, Style, choices
from athletes.schema.postures import SEEN, posture_specs
from athletes.units.fields import choice_field
from athletes.units.schema_fields import callback, form_fields

SPECS = posture_specs()
FIELDS = form_fields(spec for name, spec in SPECS.items() if name != "day")
BETWEEN = "from heel middle to heel middle"


class PostureForm(forms.ModelForm):
    """One entry; what was seen may be as little as one of six things."""

    class Meta:
        model = Posture
        fields = [
            "style", "day", "source", "heels_typed", "heels_unit", "turnout_deg", "bar_over", "arms", "back", "knees",
            "note",
        ]  # fmt: skip
        formfield_callback = callback(FIELDS)

    def __init__(self, athlete: Athlete, user: User, *args: Any, **kwargs: Any) -> None:
        self.athlete = athlete
        super().__init__(*args, **kwargs)
        self.fields["day"] = forms.DateField(
            label=SPECS["day"].field.label, widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
        )
        for name, term in (("style", Style), ("source", PostureSource)):
            choice_field(self, name).choices = choices(term)  # without an empty first choice
            self.fields[name].required = True
        self.fields["heels_unit"].required = False
        self.fields["note"].required = False
        self.initial["heels_unit"] = self.instance.heels_unit or user.length_unit
        if self.instance.pk is None:
            self.initial["day"], self.initial["source"] = timezone.localdate(), PostureSource.TAPE.value

    def clean_day(self) -> date:
        day = self.cleaned_data["day"]
        if day > timezone.localdate():
            raise forms.ValidationError(f"{day:%-d %B %Y} lies ahead; give the day it was seen.")
        if day.year < 1950 or (self.athlete.born and day < self.athlete.born):
            raise forms.ValidationError(f"{day:%-d %B %Y} is too long ago; check it.")
        return day

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        typed = (data.get("heels_typed") or "").strip()
        self.instance.heels_cm = None
        if typed:
            try:
                self.instance.heels_cm = parse_stance(
                    typed, data.get("heels_unit") or "cm", BETWEEN, SPECS["heels_m"].limits
                )
            except UnreadableStance as problem:
                self.add_error("heels_typed", str(problem))
        else:
            data["heels_unit"] = ""
        columns = [SPECS[name].field.typed[0] if SPECS[name].field.typed else SPECS[name].column for name in SEEN]
        if not self.errors and all(data.get(column) in ("", None) for column in columns):
            self.add_error(None, "Nothing is filled in yet: one of the six is enough.")
        return data
