"""Where an opened workbook lies beside its upload, and small files that are whole or not there."""

import json
from pathlib import Path

AT, OUTCOME, TABLE = "at.json", "outcome.json", "table.csv"
OPENED = "imports-opened"
LINE_BREAK = "\u2028"  # stands for a line break inside a cell, so that a row of the sheet stays one line of the table


def put(path: Path, said: dict[str, object]) -> None:
    """Write a small file in one go."""
    new = path.with_suffix(".new")
    new.write_text(json.dumps(said), encoding="utf-8")
    new.replace(path)


def got(path: Path) -> dict[str, object]:
    """What a small file says; nothing when it is not there."""
    try:
        return dict(json.loads(path.read_text(encoding="utf-8")))
    except FileNotFoundError:
        return {}
