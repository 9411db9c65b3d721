"""Consent, what may be shown, erasure, and pictures with their marks."""

from typing import Any

from django import forms
from django.utils import timezone

from athletes.models import Athlete, GuardianConsent, Picture, name_key
from athletes.models.choices import Style
from athletes.pictures.services import clean_picture

MARKS = ("hip", "shoulder", "bar")


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


class PictureForm(forms.Form):
    """A still of a lift; what is kept is a fresh copy without the camera's data."""

    file = forms.FileField(
        label="Picture",
        help_text="JPEG, PNG or WebP, at most 12 MB. From the side, bar end to the camera, hip and shoulder in view.",
        widget=forms.ClearableFileInput(attrs={"accept": "image/jpeg,image/png,image/webp"}),
        error_messages={"required": "Choose a picture first."},
    )
    taken_on = forms.DateField(
        label="Day of the lift",
        initial=timezone.localdate,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
    )
    style = forms.ChoiceField(label="Style", required=False, choices=[("", "not noted"), *Style.choices])
    note = forms.CharField(label="Note", required=False, max_length=200)

    def clean_file(self) -> bytes:
        return clean_picture(self.cleaned_data["file"])

    def clean_taken_on(self) -> object:
        day = self.cleaned_data["taken_on"]
        if day > timezone.localdate():
            raise forms.ValidationError("This day has not come yet.")
        return day


class MarksForm(forms.Form):
    """Hip, shoulder and bar in per cent from the left and from the top; each mark is whole or left out."""

    def __init__(self, picture: Picture, data: Any = None) -> None:
        shown = {
            f"{mark}_{axis}": round(100 * picture.marks[mark][i], 1)
            for mark in MARKS
            if mark in picture.marks
            for i, axis in enumerate("xy")
        }
        super().__init__(data, initial=shown)
        for mark in MARKS:
            for axis, edge in (("x", "left"), ("y", "top")):
                self.fields[f"{mark}_{axis}"] = forms.FloatField(
                    label=f"{mark.title()}, % from the {edge}", min_value=0, max_value=100, required=False
                )

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        for mark in MARKS:
            if (data.get(f"{mark}_x") is None) != (data.get(f"{mark}_y") is None) and not {
                f"{mark}_x",
                f"{mark}_y",
            } & set(self.errors):
                self.add_error(f"{mark}_y", f"The {mark} needs both numbers, or neither.")
        return data

    def marks(self) -> dict[str, list[float]]:
        data = self.cleaned_data
        whole = [mark for mark in MARKS if data[f"{mark}_x"] is not None]
        return {mark: [round(data[f"{mark}_{axis}"] / 100, 5) for axis in "xy"] for mark in whole}
