"""A typed length or body mass in a cell: read as the Build page reads it, with what is guessed or asked about.

No remark about a body mass ever holds its number: whoever may not see it reads these remarks too.
"""

from typing import NamedTuple

from athletes.reader.notes import ASK, GUESS, Note, Notes
from athletes.schema.measurements import ARM_LENGTH, measure_label, measurement
from athletes.schema.measurements import MeasureKey as Key
from athletes.units.lengths import KEPT, Choice, Reading, arm_hint, read, show
from athletes.units.typed_lengths import IN_CM, IN_KG, cleaned, read_typed

SURE_UNITS = ("m", "mm", "in", "cm")
SPAN_SHARE = (0.85, 1.20)  # of stature: an arm span and nothing else; calibration
CANNOT_BE_ARM = 130.0  # cm: longer than any arm


class Measured(NamedTuple):
    """One reading as it will be kept, None while it is not understood; `odd` says that it needs a yes."""

    key: str
    typed: str = ""
    unit: str = ""
    value: float | None = None
    notes: Notes = ()
    odd: str = ""


def read_length(key: str, text: str, unit: str, feet: object = None) -> Measured:
    """A length in the unit of its column; `feet` is what was answered about "5.11"."""
    reading = read(key, text, unit or "cm")
    if reading is None:
        return Measured(key)
    if reading.value is not None:
        return Measured(key, reading.typed, reading.unit, reading.value)
    guesses = [c for c in reading.choices if c.name != KEPT]
    if len(guesses) == 1 and guesses[0].name == "ft":
        return _feet(key, reading, guesses[0], feet)
    if len(guesses) == 1 and guesses[0].name in SURE_UNITS:
        said = f"“{cleaned(text)[:20]}” read as {show(key, guesses[0].value)} ({guesses[0].unit})"
        return Measured(key, reading.typed, guesses[0].unit, guesses[0].value, (Note(GUESS, said),))
    kept = [c for c in reading.choices if c.name == KEPT]
    if kept and not guesses:
        return Measured(key, reading.typed, kept[0].unit, kept[0].value, odd=_plain(reading.message))
    return Measured(key, notes=(Note(ASK, f"{measure_label(key)}: {_plain(reading.message)}"),))


def _plain(message: str) -> str:
    return message.replace(" or leave the box empty", "").replace(" Leave the box empty if it was not measured.", "")


def _feet(key: str, reading: Reading, choice: Choice, answered: object) -> Measured:
    """ "5 11" is feet and inches; "5.11" may be 5.11 feet as well, which is asked once."""
    text = cleaned(reading.typed)
    if "." not in text and "," not in text:
        said = f"“{text}” read as {choice.words}"
        return Measured(key, reading.typed, "ft", choice.value, (Note(GUESS, said),))
    if answered == "feet-inches":
        return Measured(key, reading.typed, "ft", choice.value, (Note("ok", "", "feet", "file"),))
    if answered == "feet":
        value = float(text.replace(",", ".")) * IN_CM["ft"]
        return Measured(key, reading.typed, "ft", value, (Note("ok", "", "feet", "file"),))
    return Measured(
        key, notes=(Note(ASK, f"{measure_label(key)} “{text}”: feet and inches, or feet?", "feet", "file"),)
    )


def read_mass(text: str, unit: str) -> Measured:
    """A body mass in a unit that is told; nothing about it is said aloud."""
    reading = read(Key.MASS, text, unit)
    if reading is None:
        return Measured(Key.MASS)
    number = read_typed(cleaned(text))
    if reading.value is not None and number is not None:
        return _kept_mass(text, reading.unit, reading.value)
    kept = [c for c in reading.choices if c.name == KEPT]
    if kept:
        odd = "a body mass far from most: are number and unit right?"
        return _kept_mass(text, kept[0].unit, kept[0].value)._replace(odd=odd)
    return Measured(Key.MASS, notes=(Note(ASK, "the body mass cannot be read: fix the line, or leave it out"),))


def _kept_mass(text: str, unit: str, value: float) -> Measured:
    """Typed text and unit as the note of a day can keep them: a plain number in kg or lb."""
    plain = cleaned(text).rstrip("#.abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ ")
    unit = unit if unit in ("kg", "lb") else "lb"
    try:
        same = abs(float(plain.replace(",", ".")) * IN_KG[unit] - value) < 1e-9
    except ValueError:
        same = False
    return Measured(Key.MASS, plain if same else f"{value / IN_KG[unit]:.2f}".rstrip("0").rstrip("."), unit, value)


def says_unit(text: str) -> bool:
    """Whether a typed number carries its own unit."""
    typed = read_typed(cleaned(text))
    return typed is not None and bool(typed.unit)


def read_arm(text: str, unit: str, stature: float | None, answered: object) -> Measured:
    """A length "arm": the span where it is about as long as the person is tall, one arm (not kept), or asked about."""
    if answered in ("span", "one"):
        settled = (Note("ok", "", "arm", "file"),)
        found = read_length(Key.ARM_SPAN, text, unit) if answered == "span" else one_arm(text)
        return found._replace(notes=found.notes + settled)
    lengths = _lengths_meant(text, unit)
    kinds = {_which(value, stature) for value in lengths}
    if kinds == {"span"}:
        found = read_length(Key.ARM_SPAN, text, unit)
        said = f"“{cleaned(text)[:20]}” in a column of arms read as the arm span"
        return found._replace(notes=(*found.notes, Note(GUESS, said)))
    if kinds == {"one"}:
        return one_arm(text)
    return Measured(Key.ARM_SPAN, notes=(Note(ASK, f"“{cleaned(text)[:20]}”: arm span or one arm?", "arm", "file"),))


def one_arm(text: str) -> Measured:
    """The length of one arm has no place in the log."""
    said = f"“{cleaned(text)[:20]}” is the length of one arm, which is not kept: the arm span is"
    return Measured(Key.ARM_SPAN, notes=(Note("skip", said),))


def looks_like_arm(measured: Measured, text: str, unit: str) -> bool:
    """Whether a length given as the span is only as long as one arm."""
    lengths = _lengths_meant(text, unit)
    return measured.value is None and bool(lengths) and all(bool(arm_hint(Key.ARM_SPAN, value)) for value in lengths)


def _lengths_meant(text: str, unit: str) -> list[float]:
    """The lengths in cm a typed number may mean, those of an arm or a span among them only."""
    typed = read_typed(cleaned(text))
    if typed is None or not typed.sure or typed.unit in IN_KG:
        return []
    units = [typed.unit or unit] if typed.unit or unit else ["cm", "in", "m"]
    low, high = ARM_LENGTH[0], measurement(Key.ARM_SPAN).limits.possible[1]
    return [value for u in units if low <= (value := typed.number * IN_CM[u]) <= high]


def _which(value: float, stature: float | None) -> str:
    if stature:
        share = value / stature
        return "one" if 0.40 <= share <= 0.48 else "span" if SPAN_SHARE[0] <= share <= SPAN_SHARE[1] else ""
    return "span" if value >= CANNOT_BE_ARM else "one" if value <= ARM_LENGTH[1] else ""
