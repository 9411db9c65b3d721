"""The form with which another club's copy of an athlete comes in."""

from django import forms


class ArchiveForm(forms.Form):
    """The copy and whose consent came with it."""

    file = forms.FileField(
        label="The athlete's copy (ZIP)", allow_empty_file=True, widget=forms.FileInput(attrs={"accept": ".zip"})
    )
    agreed = forms.BooleanField(
        label="The athlete agrees that this club keeps what is in the copy",
        error_messages={"required": "Without the athlete's consent nothing is taken in."},
    )
    agreed_by = forms.CharField(
        label="Who agreed, and how", max_length=120, help_text="Such as: herself, by letter of 3 March."
    )
    guardian = forms.CharField(
        label="Guardian who agreed, for somebody under 18", max_length=80, required=False,
        help_text="Written consent; pictures of a minor stay out until a consent for pictures is recorded here.",
    )  # fmt: skip
