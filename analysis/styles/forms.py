"""The coach's decision on the main style."""

from typing import Any

from django import forms

from athletes.models import Decision
from athletes.models.choices import Style
from athletes.units.fields import choice_field


class MainStyleForm(forms.ModelForm):
    """Main style, reasons for the coach's file, words for the lifter."""

    class Meta:
        model = Decision
        fields = ("main_style", "reasons", "words_for_athlete")
        labels = {"main_style": "Main style", "words_for_athlete": "In plain words for the lifter"}
        widgets = {"reasons": forms.Textarea(attrs={"rows": 4}), "words_for_athlete": forms.Textarea(attrs={"rows": 3})}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["main_style"].required = True
        choice_field(self, "main_style").choices = [("", "choose"), *Style.choices]
