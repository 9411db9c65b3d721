"""The house rules that a linter does not know: sizes, vocabularies, addresses and paths that must not appear."""

import ast
import re
import statistics
import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SOURCES = [p for top in ("config", "athletes", "analysis") for p in (ROOT / top).rglob("*.py")]
OWN = [p for p in SOURCES if "migrations" not in p.parts]


def functions(path: Path) -> list[tuple[str, int]]:
    """Name and length in lines of every function, its docstring not counted."""
    found = []
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            body = node.body[1:] if ast.get_docstring(node) and len(node.body) > 1 else node.body
            found.append((f"{path.relative_to(ROOT)}:{node.name}", node.end_lineno - body[0].lineno + 1))
    return found


def tracked() -> list[Path]:
    names = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True).stdout.split("\n")
    return [ROOT / name for name in names if name and (ROOT / name).is_file()]


def test_no_file_is_past_400_lines():
    own = [*OWN, *(ROOT / "tests").rglob("*.py")]
    long = {str(p.relative_to(ROOT)): n for p in own if (n := len(p.read_text().splitlines())) > 400}
    assert long == {}


def test_no_function_is_past_60_lines_and_the_median_is_at_most_8():
    sizes = [size for path in OWN for size in functions(path)]
    assert [s for s in sizes if s[1] > 60] == []
    assert statistics.median(n for _, n in sizes) <= 8


def test_no_address_of_a_package_index_and_no_path_of_a_machine_stands_in_a_file():
    own_path = re.compile(r"/(work|farm|root|home)/[a-z]|https?://[^ \"']*(/simple/|/packages/|registry)")
    hits = []
    for path in tracked():
        if path.suffix in {".png", ".xlsx", ".zip", ".woff2"} or path.name == "test_structure.py":
            continue
        text = path.read_text(errors="ignore")
        hits += [f"{path.relative_to(ROOT)}: {m.group(0)}" for m in own_path.finditer(text)]
    assert hits == []


def test_no_template_carries_inline_script_or_style():
    inline = re.compile(r"<script(?![^>]*\bsrc=)(?![^>]*application/json)|<style|\sstyle=|\son[a-z]+=\"", re.I)
    hits = [
        f"{p.relative_to(ROOT)}: {m.group(0)}"
        for top in ("athletes", "analysis")
        for p in (ROOT / top).rglob("html/**/*.html")
        for m in inline.finditer(p.read_text())
    ]
    assert hits == []
