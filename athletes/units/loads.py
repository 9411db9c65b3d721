"""Typed loads, masses and heights into canonical kg and cm, and what a stepper must know about plates.

The typed text and its unit are kept beside the canonical value, and the same text in the same unit always gives the
same value, so saving a row unchanged can never move it.
"""

import re
from dataclasses import dataclass

from athletes.schema.sets import HEAVIEST_KG
from athletes.schema.units import CM_PER_INCH, KG_PER_LB

HEAVIEST_TOTAL_KG = 1600.0
NUMBER = re.compile(r"[0-9]{1,5}([.,][0-9]{1,4})?", re.ASCII)
WEIGHT_WORDS = {"kg": "kg", "kgs": "kg", "kilo": "kg", "kilos": "kg", "lb": "lb", "lbs": "lb", "pound": "lb", "#": "lb"}
LENGTH_WORDS = {"cm": "cm", "in": "in", "inch": "in", "inches": "in", '"': "in", "″": "in"}

# Plates and bars in common use; the smallest pair makes the step. From memory, as sold in any gym.
PLATES = {
    "kg": {"bar": 20, "plates": [25, 20, 15, 10, 5, 2.5, 1.25], "step": 2.5, "big_step": 10, "coarse": 20},
    "lb": {"bar": 45, "plates": [45, 35, 25, 10, 5, 2.5], "step": 5, "big_step": 25, "coarse": 50},
}


class UnreadableAmount(ValueError):
    """What was typed cannot be read as an amount; the message says what and why."""


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount as typed, its unit, and the canonical value (kg or cm)."""

    typed: str
    unit: str
    value: float


def parse_load(text: str, unit: str) -> Amount:
    """The load of a bar: 0 to 700 kg; a unit written behind the number counts before `unit`."""
    clean = text.strip()
    if clean.startswith("-"):
        raise UnreadableAmount(f"Load “{clean}”: a miss is noted as the result, not with a minus.")
    if "%" in clean:
        raise UnreadableAmount(f"Load “{clean}”: a share of a best is not a load; type what was on the bar.")
    amount = _amount(clean, unit, WEIGHT_WORDS, "Load")
    if amount.value > HEAVIEST_KG:
        raise UnreadableAmount(
            f"Load “{clean} {amount.unit}” is more than {HEAVIEST_KG:.0f} kg; check number and unit."
        )
    return amount


def parse_total(text: str, unit: str) -> Amount:
    """The sum of two or three lifts: 0 to 1,600 kg."""
    amount = _amount(text.strip(), unit, WEIGHT_WORDS, "Total")
    if amount.value > HEAVIEST_TOTAL_KG:
        raise UnreadableAmount(f"Total “{text.strip()}” is more than 1,600 kg; check the number and the unit.")
    return amount


def parse_mass(text: str, unit: str) -> Amount:
    """A person's body mass: 20 to 350 kg."""
    amount = _amount(text.strip(), unit, WEIGHT_WORDS, "Body mass")
    if not 20.0 <= amount.value <= 350.0:
        raise UnreadableAmount(
            f"Body mass “{amount.typed} {amount.unit}” is outside 20 to 350 kg; check the number and the unit."
        )
    return amount


def parse_height(text: str, unit: str) -> Amount:
    """The height of a block or the depth of a deficit: above 0, at most 60 cm."""
    amount = _amount(text.strip(), unit, LENGTH_WORDS, "Start height")
    if not 0.0 < amount.value <= 60.0:
        raise UnreadableAmount(
            f"Start height “{amount.typed} {amount.unit}” is outside 0 to 60 cm; check the number and the unit."
        )
    return amount


def canonical(number: float, unit: str) -> float:
    """kg from kg or lb, cm from cm or in."""
    return number * {"lb": KG_PER_LB, "in": CM_PER_INCH}.get(unit, 1.0)


def shown(value: float, unit: str) -> str:
    """A canonical kg or cm value in `unit`, at most one decimal (two for quarter kilos), for display only."""
    number = value / canonical(1.0, unit)
    return f"{number:.2f}".rstrip("0").rstrip(".") if unit == "kg" else f"{number:.1f}".removesuffix(".0")


def parse_number(text: str, what: str) -> float:
    """A plain positive number with a decimal point or comma."""
    clean = text.strip()
    if not NUMBER.fullmatch(clean):
        raise UnreadableAmount(f"{what} “{clean}”: not a number that can be read, such as 182.5 or 182,5.")
    return float(clean.replace(",", "."))


def _amount(clean: str, unit: str, words: dict[str, str], what: str) -> Amount:
    found = re.fullmatch(r"(.*?)\s*([a-zA-Z#\"″]*)\.?", clean, re.DOTALL)
    number, word = (found.group(1), found.group(2).lower()) if found else (clean, "")
    if word and word not in words:
        raise UnreadableAmount(f"{what} “{clean}”: the unit “{word}” is not one of {', '.join(sorted(set(words)))}.")
    unit = words.get(word, unit)
    return Amount(number, unit, canonical(parse_number(number, what), unit))
