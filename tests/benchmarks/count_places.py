"""Files that name a fact, and lines of product and tests: `python -m tests.benchmarks.count_places [FIELD ...]`.

A file counts where the name stands in its code as an identifier or a string of its own, comments and docstrings left
out, migrations and tests apart. Given no field, the set's fields that the schema describes are counted.
"""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

from athletes.schema.measurements import MEASUREMENTS
from athletes.schema.sets import set_specs

TOP = Path(__file__).resolve().parents[2]
PRODUCT = ("athletes", "analysis", "config")


def sources(*folders: str, suffix: str = "py") -> Iterator[Path]:
    for folder in folders:
        yield from (p for p in sorted((TOP / folder).rglob(f"*.{suffix}")) if "migrations" not in p.parts)


def names_in(path: Path) -> set[str]:
    """Identifiers, attributes, arguments, keywords and whole strings of a file."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text())):
        for part in ("id", "attr", "arg", "name"):
            name = getattr(node, part, None)
            if isinstance(name, str):
                found.add(name)
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            found.add(node.value)
    return found


def places(names: set[str]) -> dict[str, list[str]]:
    """Files of the product by the name that stands in them."""
    found: dict[str, list[str]] = {name: [] for name in names}
    for path in sources(*PRODUCT):
        for name in names & names_in(path):
            found[name].append(str(path.relative_to(TOP)))
    return found


def lines_of(*folders: str, suffix: str = "py") -> int:
    return sum(len(path.read_text().splitlines()) for path in sources(*folders, suffix=suffix))


def main() -> None:
    asked = set(sys.argv[1:]) or set(set_specs())
    for name, files in sorted(places(asked).items(), key=lambda item: -len(item[1])):
        print(f"{name}: {len(files)} files")
        if sys.argv[1:]:
            print("\n".join(f"  {file}" for file in files))
    measures = places({one.key for one in MEASUREMENTS})
    print("measurements by files:", ", ".join(f"{key} {len(files)}" for key, files in sorted(measures.items())))
    for suffix in ("py", "html", "js", "css"):
        print(f"lines of product, {suffix}: {lines_of(*PRODUCT, suffix=suffix)}")
    print(f"lines of tests, py: {lines_of('tests')}")


if __name__ == "__main__":
    main()
