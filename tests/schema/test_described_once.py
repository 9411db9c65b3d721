"""A made-up set field and a made-up measurement appear everywhere from their description alone."""

import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import pytest
from django import forms

from athletes.schema.fields import Field, FieldSpec, Rule, specs
from athletes.schema.units import CM, SECONDS
from athletes.schema.vocabulary import Style, Term
from athletes.units.schema_fields import broken_rules, form_fields

ROOT = Path(__file__).resolve().parents[2]


class Chalk(Term):
    NONE = "none", "no chalk"
    BLOCK = "block", "block chalk"


@dataclass(frozen=True)
class MadeUp:
    """Four invented fields, one of each kind that a form knows."""

    chalk: Annotated[str, Field("Chalk", "chalk kreide", Chalk, blank="not noted")] = ""
    hold: Annotated[
        float | None,
        Field(
            "Hold", "hold-time", unit=SECONDS, low=0.5, high=30.0,
            only_when=Rule("chalk", lambda v: v["chalk"] == "block", "A hold needs chalk."),
        ),
    ] = None  # fmt: skip
    tries: Annotated[int, Field("Tries", "tries", low=1, high=5)] = 1
    barefoot: Annotated[bool, Field("barefoot", "barefoot")] = False
    undescribed: str = ""


@dataclass(frozen=True)
class Odd:
    what: Annotated[bytes, Field("What")] = b""


def test_the_description_is_read_from_the_record():
    found = specs(MadeUp)
    assert list(found) == ["chalk", "hold", "tries", "barefoot"]
    assert [spec.kind for spec in found.values()] == ["term", "number", "count", "flag"]
    assert found["hold"].limits == (0.5, 30.0) and found["chalk"].heading == "chalk"
    with pytest.raises(TypeError, match="no limits"):
        _ = found["chalk"].limits


def test_a_form_follows_from_the_description():
    form = type("Form", (forms.Form,), form_fields(specs(MadeUp).values()))
    assert form({"chalk": "block", "hold": "2,5", "tries": "2"}).is_valid()
    for typed, said in (("0.4", "outside 0.5 to 30 s"), ("31", "outside 0.5 to 30 s"), ("x", "not a number")):
        assert said in form({"hold": typed}).errors["hold"][0]
    assert "tries" in form({"tries": "6"}).errors and "chalk" in form({"chalk": "liquid"}).errors
    assert [str(label) for _, label in form().fields["chalk"].choices] == ["not noted", "no chalk", "block chalk"]


@pytest.mark.parametrize(
    ("values", "broken"),
    [
        ({"chalk": "block", "hold": 2.0}, {}),
        ({"chalk": "none", "hold": 2.0}, {"hold": "A hold needs chalk."}),
        ({"chalk": "none", "hold": None}, {}),
        ({"hold": 2.0}, {}),
    ],
)
def test_a_rule_names_the_field_that_is_filled_in_against_it(values, broken):
    assert broken_rules(specs(MadeUp).values(), values) == broken


def test_a_field_of_an_unknown_kind_is_refused():
    with pytest.raises(TypeError, match="no kind of field"):
        specs(Odd)


def test_an_unknown_term_says_what_is_known():
    with pytest.raises(ValueError, match="'trap-bar' is not one of conventional, sumo, wide-sumo"):
        Style("trap-bar")


MADE_UP_EVERYWHERE = """
import dataclasses, django
from typing import Annotated
from athletes.schema import measurements, sets
from athletes.schema.fields import Field, FieldSpec
from athletes.schema.units import SECONDS
old = sets.set_specs
spec = FieldSpec("hold_seconds", Field("Hold at lockout", "hold-time haltezeit", group="heavy", unit=SECONDS,
                 low=0.5, high=30.0), "number", None, False, None)
sets.set_specs = lambda: {**old(), "hold_seconds": spec}
measurements.MEASUREMENTS += (measurements.Measurement("wrist_girth", "wrist girth", "easy",
    measurements.Range((12, 25), (8, 35)), "wrist wrist-girth handgelenk", 0.003, {}),)
django.setup()
from athletes.reader.headings import ALIASES, EXPORT, LABELS
from athletes.reader.rows.closed import NUMBERS
from athletes.measuring.forms import MeasuringForm
from athletes.schema.measurements import measure_choices, sheet_keys
from athletes.units.lengths import read
assert ALIASES["haltezeit"] == "hold_seconds" and LABELS["hold_seconds"] == "hold time"
assert ("hold time", "hold_seconds") in EXPORT and EXPORT[-1] == ("note", "note")
assert NUMBERS["hold_seconds"] == ("hold_seconds", 0.5, 30.0)
from athletes.units.schema_fields import form_fields
assert "hold_seconds" in form_fields([spec])
assert ALIASES["handgelenk"] == "wrist_girth" and LABELS["wrist_girth"] == "wrist girth"
assert "wrist_girth" in sheet_keys() and ("wrist_girth", "wrist girth") in measure_choices()
assert read("wrist_girth", "17.5", "cm").value == 17.5 and read("wrist_girth", "175", "cm").choices[0].name == "mm"
print("everywhere")
"""


def test_a_made_up_field_and_a_made_up_measurement_appear_on_sheet_form_import_and_export():
    done = subprocess.run(
        [sys.executable, "-c", MADE_UP_EVERYWHERE],
        cwd=ROOT, capture_output=True, text=True, timeout=60,
        env={"DJANGO_SETTINGS_MODULE": "config.settings", "DJANGO_DEBUG": "1", "PYTHONPATH": str(ROOT)},
    )  # fmt: skip
    assert done.stdout.strip() == "everywhere", done.stderr[-1500:]


def test_the_unit_of_a_column_turns_into_the_records_unit():
    spec = FieldSpec("disc", Field("Disc", unit=CM), "number", None, False, None)
    assert 45.0 * spec.field.unit.si == pytest.approx(0.45)
