"""Fields that take what people type and give a message that says what is wrong with it."""

from collections.abc import Callable
from typing import Any, cast

from django import forms

from athletes.units.loads import Amount, UnreadableAmount, parse_number


class NumberField(forms.CharField):
    """A number with a decimal point or comma, between two ends; None when left empty."""

    def __init__(self, *, what: str, low: float, high: float, unit: str = "", **extra: Any) -> None:
        self.what, self.low, self.high, self.unit = what, low, high, unit
        super().__init__(**{"max_length": 20, **extra})
        self.widget.attrs.setdefault("inputmode", "decimal")

    def clean(self, value: object) -> float | None:
        text = super().clean(value)
        if not text:
            return None
        try:
            number = parse_number(text, self.what)
        except UnreadableAmount as problem:
            raise forms.ValidationError(str(problem)) from None
        if not self.low <= number <= self.high:
            raise forms.ValidationError(f"{self.what} “{text}” is outside {self.low:g} to {self.high:g}{self.unit}.")
        return number

    def prepare_value(self, value: object) -> object:
        return f"{value:g}" if isinstance(value, float) else value

    def has_changed(self, initial: object, data: object) -> bool:
        return str(self.prepare_value(initial) or "") != str(data or "").strip()


def choice_field(form: forms.BaseForm, name: str) -> forms.ChoiceField:
    """The field of that name as one that offers choices, to set them for this form alone."""
    return cast(forms.ChoiceField, form.fields[name])


def row_field(form: forms.BaseForm, name: str) -> "forms.ModelChoiceField[Any]":
    """The field of that name as one that offers rows, to set which for this form alone."""
    return cast("forms.ModelChoiceField[Any]", form.fields[name])


def read_amount(form: forms.BaseForm, typed: str, unit: str, parse: Callable[[str, str], Amount]) -> Amount | None:
    """Parse a typed field with its unit field; the message lands at the typed field, None when empty or wrong."""
    text = form.cleaned_data.get(typed) or ""
    if not text.strip():
        return None
    try:
        return parse(text, form.cleaned_data.get(unit) or "kg")
    except UnreadableAmount as problem:
        form.add_error(typed, str(problem))
        return None
