"""The one table of every address and what each role gets from it, a module per part of the site."""

from importlib import import_module

from tests.addresses.frame import Row

PARTS = (
    "account",
    "club",
    "people",
    "lifts",
    "floor",
    "transfer",
    "privacy",
    "leverages",
    "model",
    "decision",
    "weak_link",
    "squad",
    "today",
    "trials",
    "progress",
    "meets",
    "own",
    "operations",
)


def whole_table() -> dict[str, Row]:
    table: dict[str, Row] = {}
    for part in PARTS:
        rows = import_module(f"tests.addresses.{part}").ADDRESSES
        assert not table.keys() & rows.keys(), f"twice in the table: {table.keys() & rows.keys()}"
        table |= rows
    return table
