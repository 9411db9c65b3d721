"""What a plan's line and a logged set have in common: the pull, its bar and its start."""

from collections.abc import Iterable
from typing import Any

from django import forms

from athletes.models import Athlete
from athletes.models.choices import Start
from athletes.schema.fields import FieldSpec, specs
from athletes.schema.sets import PullTags
from athletes.units.fields import read_amount, row_field
from athletes.units.loads import Amount, parse_height
from athletes.units.schema_fields import broken_rules, form_fields

NO_BAR = "not one of the club's named bars"
NOT_PLANNED = {"shape", "depth_verified"}  # seen while it is lifted, so no plan asks for it
PULL_SPECS = tuple(spec for name, spec in specs(PullTags).items() if name not in NOT_PLANNED)
PULL_FORM_FIELDS = form_fields(PULL_SPECS)
PULL_FIELDS = [*PULL_FORM_FIELDS, "bar"]
DEFAULTS = {spec.column: spec.default for spec in specs(PullTags).values() if spec.term is not None and spec.default}
DISC_CM = 45.0


class PullForm(forms.ModelForm):
    """What a plan's line and a logged set share: the pull, its bar and its start."""

    def __init__(self, *args: Any, athlete: Athlete, **extra: Any) -> None:
        super().__init__(*args, **extra)
        self.athlete = athlete
        row_field(self, "bar").queryset = athlete.club.bars.order_by("name")
        row_field(self, "bar").empty_label = NO_BAR
        for field in self.fields.values():
            if isinstance(field, forms.CharField) and not field.required:
                field.widget.attrs.setdefault("autocomplete", "off")

    def clean_disc_diameter_cm(self) -> float:
        return self.cleaned_data["disc_diameter_cm"] or DISC_CM

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        for name, default in DEFAULTS.items():
            if name in data:
                data[name] = data[name] or default
        if data.get("bar"):
            data["bar_kind"] = data["bar"].kind
        for name, message in broken_rules(self.rule_specs(), data).items():
            self.add_error(name, message)
        self._clean_start_height(data)
        return data

    def rule_specs(self) -> Iterable[FieldSpec]:
        """The described fields whose rules this form holds."""
        return PULL_SPECS

    def is_as_stored(self, *names: str) -> bool:
        """Whether a stored row's typed text and unit come back unchanged: then its canonical value stays too."""
        return self.instance.pk is not None and not set(names) & set(self.changed_data)

    def _clean_start_height(self, data: dict[str, Any]) -> None:
        if self.is_as_stored("start", "start_typed", "start_unit"):
            return
        height = read_amount(self, "start_typed", "start_unit", _height)
        if data.get("start") == Start.FLOOR:
            if data.get("start_typed"):
                self.add_error("start_typed", "A height was typed but the start says floor; choose block or deficit.")
            data["start_unit"], self.instance.start_cm = "", 0.0
        elif height is not None:
            data["start_typed"], data["start_unit"] = height.typed, height.unit
            self.instance.start_cm = height.value
        elif "start_typed" not in self.errors:
            self.add_error("start_typed", "Type how high the block is or how deep the deficit, such as 10 cm or 4 in.")


def _height(text: str, unit: str) -> Amount:
    return parse_height(text, unit if unit in ("cm", "in") else "cm")
