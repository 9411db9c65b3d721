"""Sentences as data: privacy of each code and value, the reader's units, storing and reading, no unit in prose."""

import ast
import re
from datetime import date
from pathlib import Path
from string import Formatter

import pytest

from analysis.core.records.messages import (
    HEALTH,
    MASS,
    Message,
    Private,
    Quantity,
    Unit,
    Verbatim,
    as_message,
    kg,
    load,
    more_kg,
    share,
)
from analysis.core.records.plain import message_from, message_to_plain
from analysis.text.say import PRIVATE, TEXTS, Reader, say

EVERYTHING = Reader(allowed=frozenset(Private))
POUNDS = Reader(weight_unit="lb", length_unit="in", allowed=frozenset(Private))
SECRET = "7341"
SPOKEN = ("name", "she", "her", "whose")  # places that say() fills from the reader
CORE = Path(__file__).parents[3] / "analysis/core"
UNIT_IN_PROSE = re.compile(r"\b(?:kg|lb)\b")
MEETS_IN_KG = ("day.py", "scoring.py", "plans.py")  # rules of meets are in kilograms for everyone
KINDS_OF_WORDS = ("checks.py", "constants.py", "bar_gain.py", "anthropometry.py", "body.py", "report.py")


def values_of(code: str) -> dict[str, object]:
    """A value for every place: words, or a number where the template counts things (`{days:{new} day}`)."""
    found: dict[str, object] = {}
    for _, name, spec, _ in Formatter().parse(TEXTS[code]):
        if name and name not in SPOKEN:
            found[name] = 3 if spec else Verbatim("x")
        found |= {inner: Verbatim("x") for _, inner, _, _ in Formatter().parse(spec or "") if inner}
    return found


def places(code: str) -> list[str]:
    """The places that may hold something private: a count of things is never private."""
    return [name for name, value in values_of(code).items() if isinstance(value, Verbatim)]


@pytest.mark.parametrize("code", sorted(TEXTS))
@pytest.mark.parametrize("kind", list(Private))
def test_a_private_value_is_told_to_nobody_who_may_not_see_its_kind(code, kind):
    secret = Quantity(float(SECRET), Unit.COUNT, private=frozenset((kind,)))
    for place in places(code):
        values = values_of(code) | {place: secret}
        others = Reader(allowed=frozenset(Private) - {kind})
        assert SECRET in say(Message(code, values), EVERYTHING)
        assert say(Message(code, values), others) == ""
        around = Message("back.with-signs", {"rise": Verbatim("a"), "signs": (Message(code, values),)})
        assert SECRET not in say(around, others)


@pytest.mark.parametrize("code", sorted(PRIVATE))
def test_a_code_about_health_is_told_to_nobody_who_may_not_see_health(code):
    message = Message(code, values_of(code))
    assert say(message, EVERYTHING) and say(message, Reader(allowed=MASS)) == ""


@pytest.mark.parametrize(
    ("value", "in_kg", "in_lb"),
    [
        (load(142.5), "142.5 kg", "314 lb"),
        (kg(181.4), "181 kg", "400 lb"),
        (kg(185, 181.4, 190.2), "181–190 kg", "400–419 lb"),
        (more_kg(4.2, -1.4, 9.6), "-1 to +10 kg", "-3 to +21 lb"),
        (share(0.054, signed=True), "+5 %", "+5 %"),
        (Quantity(0.254, Unit.METRE, signed=True), "+25 cm", "+10 in"),
        (Quantity(2.25, Unit.SECOND), "2.2 s", "2.2 s"),
        (Quantity(412.0, Unit.NEWTON_METRE), "0.4 kN m", "0.4 kN m"),
        (Quantity(8.5, Unit.RPE), "8.5", "8.5"),
    ],
)
def test_values_are_written_in_the_readers_unit(value, in_kg, in_lb):
    words = Message("weak.still-open", {"reason": value})
    assert say(words, EVERYTHING).removeprefix("Still open: ") == in_kg
    assert say(words, POUNDS).removeprefix("Still open: ") == in_lb


def test_a_message_within_another_ends_without_its_stop_and_says_what_may_be_read():
    signs = (as_message("Slower."), Message("back.sore-days", {"limit": Verbatim("5"), "days": 3}, private=HEALTH))
    rise = Message("back.load-up", {"more": Quantity(900.0, Unit.NEWTON_METRE)})
    whole = Message("back.with-signs", {"rise": rise, "signs": signs})
    assert say(whole, EVERYTHING).endswith("At the same time: Slower; Sore (5 or more) on 3 of the last 14 days.")
    assert say(whole, Reader()) == ""


def test_a_stored_message_is_read_as_it_was():
    inner = Message("weak.pointing-to", {"best": kg(180, 170, 190), "link": Verbatim("the back"), "chance": "x"})
    whole = Message(
        "squad.sore-at",
        {
            "soreness": Quantity(6.0, Unit.SORENESS, private=HEALTH),
            "day": date(2026, 3, 4),
            "site": "lower-back",
            "count": 3,
            "inner": inner,
            "more": (inner, inner),
        },
        private=HEALTH,
    )
    assert message_from(message_to_plain(whole)) == whole


def strings_of(path: Path) -> list[str]:
    """Text of every string in a file that is no docstring."""
    tree = ast.parse(path.read_text())
    docs = {id(n.value) for n in ast.walk(tree) if isinstance(n, ast.Expr) and isinstance(n.value, ast.Constant)}
    found = [n for n in ast.walk(tree) if isinstance(n, ast.Constant) and isinstance(n.value, str)]
    return [str(n.value) for n in found if id(n) not in docs]


def test_no_sentence_of_the_core_writes_a_unit_of_mass():
    told = {}
    for path in sorted(CORE.rglob("*.py")):
        if path.name in (*MEETS_IN_KG, *KINDS_OF_WORDS) or path.parent.name in ("settings", "records"):
            continue
        if found := [text for text in strings_of(path) if UNIT_IN_PROSE.search(text) and " " in text]:
            told[str(path.relative_to(CORE))] = found
    assert told == {}


def test_no_page_of_the_analysis_reads_a_sentence_by_an_expression():
    typed = {
        "leverages/what_if.py",
        "how_it_works/dated.py",
        "trials/forms.py",
    }  # what people type; the days in a table's heading
    top = CORE.parent
    found = {str(p.relative_to(top)) for p in top.rglob("*.py") if "import re\n" in p.read_text()}
    assert found <= typed
