"""Chances in words with numbers."""

from __future__ import annotations

ODDS = (
    (0.985, "about 49 in 50"),
    (0.925, "about 19 in 20"),
    (0.05, ""),
    (0.02, "about 1 in 30"),
    (0.0, "less than 1 in 50"),
)


def chance_words(chance: float) -> str:
    """ "about 7 in 10"; nearer the ends in twentieths and fiftieths."""
    for least, words in ODDS:
        if chance >= least:
            return words or f"about {max(round(chance * 10), 1)} in 10"
    return ODDS[-1][1]


def load_words(kg: float) -> str:
    """A meet load: kilograms, at most two decimals."""
    return f"{kg:.2f}".rstrip("0").rstrip(".") + " kg"
