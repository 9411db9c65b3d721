"""A stance tried with a dowel, ankle to ankle."""

from athletes.units.typed_lengths import IN_CM, cleaned, read_typed

NARROWEST, WIDEST = 10.0, 150.0  # cm, ankle to ankle; from memory


class UnreadableStance(ValueError):
    """What was typed cannot be read as a stance; the message says what and why."""


def parse_stance(text: str, unit: str) -> float:
    """The stance in cm; a unit typed behind the number counts before `unit`."""
    plain = cleaned(text)
    typed = read_typed(plain)
    if typed is None or not typed.sure or (typed.unit and typed.unit not in IN_CM):
        raise UnreadableStance(f"Stance “{plain}” is not one length; type a number such as 72 or 28 in.")
    unit = typed.unit or unit
    value = typed.number * IN_CM[unit]
    if not NARROWEST <= value <= WIDEST:
        raise UnreadableStance(
            f"Stance “{plain}” is {value:.4g} cm, outside 10 to 150 cm from ankle to ankle; check the number and unit."
        )
    return value
