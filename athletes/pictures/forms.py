"""A picture of a lift and the marks on it."""

from typing import Any

from django import forms
from django.utils import timezone

from athletes.models import Picture
from athletes.models.choices import Style
from athletes.pictures.services import clean_picture

MARKS = ("hip", "shoulder", "bar")


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
