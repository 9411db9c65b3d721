"""Numbers into sentences: lengths and angles with their ranges, and differences said no more surely than they are."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from analysis.core.records.pulls import Estimate

Write = Callable[[float], str]
NO_BREAK = "\u00a0"


def percent(share: float, *, signed: bool = False) -> str:
    """Whole percent of a share, of a difference with its sign."""
    return f"{share * 100:{'+' if signed else ''}.0f}{NO_BREAK}%"


def degrees(value: float) -> str:
    """Whole degrees."""
    return f"{value:.0f}°".replace("-0°", "0°")


def range_words(estimate: Estimate, write: Write) -> str:
    """ "38 cm (36–40 cm)"; without the range when it is as narrow as the rounding."""
    span = span_words(estimate.low, estimate.high, write)
    return f"{write(estimate.value)} ({span})" if write(estimate.low) != write(estimate.high) else write(estimate.value)


def span_words(low: float, high: float, write: Write) -> str:
    """ "36–40 cm": the unit once when both ends carry the same."""
    first, second = write(low), write(high)
    if first == second:
        return first
    number, _, unit = first.replace(NO_BREAK, " ").partition(" ")
    return f"{number}–{second}" if unit and second.endswith(unit) else f"{first}–{second}"


def joined(parts: Sequence[str], last: str = "and") -> str:
    """ "a, b and c"."""
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} {last} {parts[-1]}"


def compared(difference: Estimate, smallest: float) -> int:
    """-1 or +1 when a difference is surely below or above nothing, 0 for "about the same".

    Surely: the central 80 % of the paired draws lie on one side of zero, and the value is not below `smallest`, the
    size under which nobody would see it.
    """
    if abs(difference.value) < smallest or difference.low <= 0.0 <= difference.high:
        return 0
    return 1 if difference.value > 0.0 else -1


def sentence(text: str) -> str:
    """The text with a capital first letter and a full stop."""
    return text[:1].upper() + text[1:] + ("" if text.endswith(".") else ".")
