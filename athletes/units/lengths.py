"""From typed text to cm or kg: taken, asked about with choices, or explained; never guessed in silence."""

from dataclasses import dataclass

from athletes.schema.measurements import ARM_LENGTH, Range, measure_label, measurement
from athletes.schema.measurements import MeasureKey as Key
from athletes.units.typed_lengths import IN_CM, IN_KG, Typed, bare_feet, cleaned, read_typed

LONGEST = 30
KEPT = "kept"  # the choice "it is right as typed"
LENGTH_GUESSES = ("m", "mm", "in", "cm")
MASS_GUESSES = ("kg", "lb")


@dataclass(frozen=True)
class Choice:
    """One way to read what was typed: its name, the unit it gives the text, the value in cm or kg, and the words."""

    name: str
    unit: str
    value: float
    words: str


@dataclass(frozen=True)
class Reading:
    """What became of one typed text; `value` (cm or kg) is None until it is understood or a choice is made.

    `heard` tells what was understood where the text carries its own unit or the reader made the choice `chosen`.
    """

    typed: str
    unit: str
    value: float | None = None
    message: str = ""
    choices: tuple[Choice, ...] = ()
    heard: str = ""
    chosen: str = ""


def scale(key: str) -> dict[str, float]:
    """Units of the measure and what one of each is in cm or kg."""
    return IN_KG if key == Key.MASS else IN_CM


def base(key: str) -> str:
    return "kg" if key == Key.MASS else "cm"


def show(key: str, value: float) -> str:
    """The value as people read it: one decimal at most, with its unit."""
    return f"{value:.1f}".removesuffix(".0") + f" {base(key)}"


def refused(text: str, unit: str, message: str) -> Reading:
    return Reading(text, unit, None, message)


def read(key: str, text: str, unit: str, chosen: str = "") -> Reading | None:
    """What a typed text means for a measure, in a box whose unit is `unit`; None for an empty box.

    `chosen` is the name of the choice the reader made for this very text.
    """
    plain = cleaned(text)
    if not plain:
        return None
    if len(text) > LONGEST:
        return refused(text, unit, f"This is longer than {LONGEST} characters; type one number with its unit.")
    if plain.startswith("-"):
        return refused(text, unit, f"“{plain}” is negative; {measure_label(key)} is more than 0.")
    typed = read_typed(plain)
    if typed is None:
        return ask_bare_feet(key, text, plain, unit, chosen) or refused(text, unit, not_one_number(key, plain))
    if typed.unit and typed.unit not in scale(key):
        kind = "a weight" if typed.unit in IN_KG else "a length"
        return refused(
            text,
            unit,
            f"“{plain}” is {kind}; {measure_label(key)} is in {'kg or lb' if key == Key.MASS else 'cm or in'}.",
        )
    if typed.number == 0:
        return refused(
            text,
            unit,
            f"“{plain}” is 0; {measure_label(key)} is more than 0. Leave the box empty if it was not measured.",
        )
    return weigh(key, text, plain, typed, unit, chosen)


def not_one_number(key: str, plain: str) -> str:
    example = "82.5" if key == Key.MASS else "178.5, 5'10\" or 1.78 m"
    return f"“{plain}” is not one number. Type one reading, such as {example}; a second reading goes into the next box."


def weigh(key: str, text: str, plain: str, typed: Typed, unit: str, chosen: str) -> Reading:
    """Take the number as it stands when that is usual; else offer every way to read it that is."""
    own_unit = typed.unit or unit
    value = typed.number * scale(key)[own_unit]
    limits = measurement(key).limits
    if typed.sure and limits.is_usual(value):
        heard = f"“{plain}” was read as {show(key, value)}." if typed.unit and typed.unit != unit else ""
        return Reading(text, own_unit, value, heard=heard)
    if not typed.sure and limits.is_usual(value):
        offered = [Choice("letters", own_unit, value, f"{show(key, value)}, a letter was typed for a digit")]
    else:
        offered = other_units(key, plain, typed, own_unit) + as_it_stands(key, limits, value, own_unit)
    return resolve_or_ask(key, text, plain, own_unit, value, offered, chosen)


def other_units(key: str, plain: str, typed: Typed, own_unit: str) -> list[Choice]:
    """The same number in other units, where that gives a usual value; a typed unit is believed."""
    if typed.unit:
        return []
    found = []
    for unit in MASS_GUESSES if key == Key.MASS else LENGTH_GUESSES:
        value = typed.number * scale(key)[unit]
        if unit != own_unit and measurement(key).limits.is_usual(value):
            found.append(Choice(unit, unit, value, f"{show(key, value)} ({plain} {unit}, not {own_unit})"))
    inches = bare_feet(plain)
    if inches and key != Key.MASS and measurement(key).limits.is_usual(inches * 2.54):
        found.append(feet_choice(key, inches))
    return found


def feet_choice(key: str, inches: float) -> Choice:
    feet, rest = divmod(inches, 12)
    return Choice("ft", "ft", inches * 2.54, f"{show(key, inches * 2.54)} ({feet:.0f} ft {rest:g} in)")


def as_it_stands(key: str, limits: Range, value: float, unit: str) -> list[Choice]:
    return [Choice(KEPT, unit, value, f"{show(key, value)}, right as typed")] if limits.is_possible(value) else []


def ask_bare_feet(key: str, text: str, plain: str, unit: str, chosen: str) -> Reading | None:
    inches = bare_feet(plain) if key != Key.MASS else None
    if not inches or not measurement(key).limits.is_usual(inches * 2.54):
        return None
    return resolve_or_ask(key, text, plain, unit, None, [feet_choice(key, inches)], chosen)


def resolve_or_ask(
    key: str, text: str, plain: str, unit: str, value: float | None, offered: list[Choice], chosen: str
) -> Reading:
    """The reader's choice if it is among those offered, else the question with all of them."""
    for choice in offered:
        if choice.name == chosen:
            return Reading(text, choice.unit, choice.value, heard=f"Read as {choice.words}.", chosen=choice.name)
    return Reading(text, unit, None, question(key, plain, unit, value, offered), tuple(offered))


def question(key: str, plain: str, unit: str, value: float | None, offered: list[Choice]) -> str:
    """What is odd about the text, and what it may mean."""
    odd = oddity(key, plain, unit, value, offered)
    if not offered:
        low, high = measurement(key).limits.possible
        return f"{odd} People measure {low:g} to {high:g} {base(key)}. Type it again." + arm_hint(key, value)
    guesses = [c for c in offered if c.name != KEPT]
    if len(offered) == 1 and guesses:
        return f"{odd} Read as {guesses[0].words}: is that right?" + arm_hint(key, value)
    if not guesses:
        return f"{odd} Is it right as typed?" + arm_hint(key, value)
    return f"{odd} Which is it: {' or '.join(c.words for c in offered)}?" + arm_hint(key, value)


def oddity(key: str, plain: str, unit: str, value: float | None, offered: list[Choice]) -> str:
    if value is None:
        return f"“{plain}” has no unit."
    if offered and offered[0].name == "letters":
        return f"“{plain}” has a letter among its digits."
    given = plain if any(c.isalpha() or c in "'\"#" for c in plain) else f"{plain} {unit}"
    limits = measurement(key).limits
    size = "small" if value < limits.usual[0] else "large"
    return f"“{given}” is {'very' if limits.is_possible(value) else 'too'} {size} for {measure_label(key)}."


def arm_hint(key: str, value: float | None) -> str:
    """An arm span that is as long as one arm is the commonest mix-up of all."""
    if key != Key.ARM_SPAN or value is None or not ARM_LENGTH[0] <= value < ARM_LENGTH[1]:
        return ""
    return (
        " If it is the length of one arm, it is not the span: measure from fingertip to fingertip with both arms out, "
        "about as long as the person is tall, or leave the box empty."
    )
