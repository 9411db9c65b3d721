"""The house rules that a linter does not know: sizes, vocabularies, addresses and paths that must not appear."""

import ast
import re
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


def test_no_function_is_past_60_lines():
    sizes = [size for path in OWN for size in functions(path)]
    assert [s for s in sizes if s[1] > 60] == []


def modules() -> dict[str, Path]:
    """Dotted name -> file of every module of the product."""
    found = {}
    for path in OWN:
        parts = path.relative_to(ROOT).with_suffix("").parts
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


def imports_of(path: Path, known: dict[str, Path]) -> set[str]:
    """Modules of the product that a file imports anywhere in it."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.ImportFrom) and node.module:
            names = [f"{node.module}.{one.name}" for one in node.names]
            found |= {name if name in known else node.module for name in names}
        elif isinstance(node, ast.Import):
            found |= {one.name for one in node.names}
    return found & known.keys()


def circles(arrows: dict[str, set[str]]) -> list[set[str]]:
    """Groups of names that reach each other, each group once."""
    reach: dict[str, set[str]] = {}
    for start in arrows:
        seen, todo = set(), [start]
        while todo:
            for target in arrows.get(todo.pop(), ()):
                if target not in seen:
                    seen.add(target)
                    todo.append(target)
        reach[start] = seen
    groups = [frozenset(b for b in reach[a] if a in reach.get(b, ())) for a in reach if a in reach[a]]
    return [set(group) for group in dict.fromkeys(groups)]


def room(module: str) -> str:
    """A feature room: `athletes.log`, in the core one deeper."""
    parts = module.split(".")
    return ".".join(parts[: 3 if parts[1:2] == ["core"] else 2])


def test_no_files_and_no_rooms_import_each_other_in_a_circle():
    known = modules()
    arrows = {name: imports_of(path, known) - {name} for name, path in known.items()}
    assert circles(arrows) == []
    rooms: dict[str, set[str]] = {}
    for name, targets in arrows.items():
        rooms.setdefault(room(name), set()).update(room(t) for t in targets if room(t) != room(name))
    assert circles(rooms) == []


def test_a_circle_is_found():
    assert circles({"a": {"b"}, "b": {"c"}, "c": {"a"}, "d": {"a"}}) == [{"a", "b", "c"}]


DUST = 40  # lines below which a module is read faster beside its neighbour
SMALL_ON_PURPOSE = {  # what Django or the server names, or what nothing else stands near
    "config/collector.py",
    "config/wsgi.py",
    "analysis/models.py",
    "analysis/core/styles/build.py",
    "analysis/kinds.py",
    "analysis/text/today.py",
    "analysis/text/tags.py",
    "athletes/models/media.py",
    "athletes/web/context.py",
    "athletes/schema/names.py",
    "athletes/units/efforts.py",
    "athletes/reader/file/places.py",
    "athletes/importing/comparing/known_bodies.py",
    "athletes/importing/moving/cursor.py",
    "athletes/privacy/ledger.py",
    "athletes/accounts/throttle.py",
    "athletes/guardians/services.py",
    "analysis/core/settings/squad.py",
    "analysis/core/estimates/normal.py",
    "analysis/core/training/levels.py",
    "analysis/core/strength/shapes.py",
    "analysis/core/strength/bending.py",
    "analysis/core/records/lifts.py",
}


def test_no_module_is_dust():
    small = {
        str(path.relative_to(ROOT))
        for path in OWN
        if path.name not in ("__init__.py", "apps.py", "urls.py", "club_urls.py")
        and "commands" not in path.parts
        and len(path.read_text().splitlines()) < DUST
    }
    assert small - SMALL_ON_PURPOSE == set()


MOST_IN_A_FOLDER = 12
LARGER_FOR_NOW = {"analysis/core/weak_link": 20, "athletes/accounts": 13,
                  "analysis/meets": 14, "analysis/figures": 16, "analysis/core/records": 16}  # fmt: skip


def test_a_folder_holds_at_most_twelve_files_of_code():
    folders: dict[str, int] = {}
    for path in OWN:
        if path.name != "__init__.py" and "commands" not in path.parts:
            name = str(path.parent.relative_to(ROOT))
            folders[name] = folders.get(name, 0) + 1
    assert {name: n for name, n in folders.items() if n > LARGER_FOR_NOW.get(name, MOST_IN_A_FOLDER)} == {}


def test_the_name_of_a_page_is_unique():
    names = [
        str(path.relative_to(html))
        for top in ("athletes", "analysis")
        for html in (ROOT / top).glob("*/html")
        for path in html.rglob("*")
        if path.is_file()
    ]
    assert len(names) > 100 and len(names) == len(set(names))


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
