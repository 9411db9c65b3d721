"""One line of a lifter's plan, and the lines of a day."""

from typing import Any

from django import forms
from django.forms import BaseModelFormSet, modelformset_factory
from django.forms.formsets import DELETION_FIELD_NAME
from django.utils.functional import cached_property

from athletes.log.pull_form import NO_BAR, PULL_FIELDS, PULL_FORM_FIELDS, PullForm
from athletes.models import PlanItem
from athletes.models.choices import WeightUnit
from athletes.units.fields import NumberField, choice_field, read_amount
from athletes.units.loads import parse_load
from athletes.units.schema_fields import callback

MOST_LINES = 40  # of one day; a number in the page must not make the server build thousands of forms


class PlanItemForm(PullForm):
    """A line: the pull, sets and reps, a load or an RPE cap, a note and a cue."""

    sets = forms.IntegerField(min_value=1, max_value=30, initial=1)
    reps = forms.IntegerField(min_value=1, max_value=100, initial=1)
    load_typed = forms.CharField(label="Load", max_length=20, required=False)
    load_unit = forms.ChoiceField(label="Unit", choices=WeightUnit.choices, required=False)
    rpe_cap = NumberField(label="or up to RPE", what="RPE cap", low=1, high=10, required=False)

    class Meta:
        model = PlanItem
        fields = ["sets", "reps", "load_typed", "load_unit", "rpe_cap", "note", "cue", "is_test", *PULL_FIELDS]
        formfield_callback = callback(PULL_FORM_FIELDS)
        labels = {"cue": "Cue from the coach", "is_test": "a test"}

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if self.is_as_stored("load_typed", "load_unit"):
            return data
        load = read_amount(self, "load_typed", "load_unit", parse_load)
        self.instance.load_kg = load.value if load else None
        if load is not None:
            data["load_typed"], data["load_unit"] = load.typed, load.unit
        elif "load_typed" not in self.errors:
            data["load_unit"] = ""
        return data


class PlanFormSet(BaseModelFormSet):
    """The lines of one athlete's day, in the order they are to be done."""

    def __init__(self, *args: Any, unit: str, **extra: Any) -> None:
        self.unit = unit
        super().__init__(*args, **extra)

    def get_form_kwargs(self, index: int | None) -> dict[str, object]:
        kwargs = super().get_form_kwargs(index)
        if index is None or index >= self.initial_form_count():
            kwargs["initial"] = {"load_unit": self.unit, "dead_stop": True}
        return kwargs

    @cached_property
    def bars(self) -> list[tuple[object, str]]:
        """The bars to choose from, read once for all lines."""
        bars = self.form_kwargs["athlete"].club.bars.order_by("name")
        return [("", NO_BAR), *((bar.pk, str(bar)) for bar in bars)]

    def add_fields(self, form: Any, index: int | None) -> None:
        super().add_fields(form, index)
        choice_field(form, "bar").choices = self.bars

    def clean(self) -> None:
        """A line that is not, or no longer, one of this day is asked about; else it would be left out unsaid."""
        lost = [f for f in self.initial_forms if f.instance._state.adding]
        gone = [f for f in lost if not f.cleaned_data.get(DELETION_FIELD_NAME)]
        for form in gone:
            setattr(form, "taken_out", True)  # noqa: B010 - the template asks for it
            form.add_error(
                None,
                "Somebody took this line out since you opened the page. Tick below to leave it out; if it is still "
                "wanted, type it into a new line.",
            )


PlanLines = modelformset_factory(
    PlanItem, form=PlanItemForm, formset=PlanFormSet, can_delete=True, extra=2, max_num=MOST_LINES,
    absolute_max=MOST_LINES + 10, validate_max=True,
)  # fmt: skip
