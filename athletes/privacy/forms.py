"""Consent, what may be shown, erasure, and pictures with their marks."""

from typing import Any

from django import forms
from django.utils import timezone

from athletes.models import Athlete, GuardianConsent
from athletes.schema.names import name_key


class ConsentForm(forms.ModelForm):
    class Meta:
        model = GuardianConsent
        fields = ["guardian", "given_on", "covers_pictures"]
        labels = {
            "guardian": "Guardian's name",
            "given_on": "Signed on",
            "covers_pictures": "It covers pictures of lifts",
        }
        widgets = {"given_on": forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")}

    def clean_given_on(self) -> object:
        day = self.cleaned_data["given_on"]
        if day > timezone.localdate():
            raise forms.ValidationError("This day has not come yet. Type the day on which it was signed.")
        return day


class WithdrawForm(forms.Form):
    pictures = forms.ChoiceField(
        label="The pictures",
        choices=[("hide", "keep them, hidden from everybody"), ("delete", "delete them now")],
        widget=forms.RadioSelect,
        error_messages={"required": "Say what becomes of the pictures."},
    )


class HideMassForm(forms.ModelForm):
    class Meta:
        model = Athlete
        fields = ["hide_mass_from_athlete"]
        labels = {
            "hide_mass_from_athlete": "Hide the body mass from the athlete too, and every number that gives it away"
        }


class EraseForm(forms.Form):
    """The name again, so that nobody is erased by a slip of the thumb."""

    name = forms.CharField(label="Name of the athlete", max_length=80)

    def __init__(self, athlete: Athlete, *args: Any, **kwargs: Any) -> None:
        self.athlete = athlete
        super().__init__(*args, **kwargs)
        self.fields["name"].help_text = f"Type {athlete.name} to confirm."

    def clean_name(self) -> str:
        if name_key(self.cleaned_data["name"]) != self.athlete.name_key:
            raise forms.ValidationError(f"This is not the name on this page, {self.athlete.name}.")
        return self.cleaned_data["name"]
