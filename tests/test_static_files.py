"""On a server every static file has a name that changes with its content, and modules import one another by it."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
NAMED = re.compile(r"\.[0-9a-f]{12}\.js$")
IMPORT = re.compile(r'^import [^"]*"(\.[^"]+)"', re.M)


@pytest.fixture(scope="module")
def collected(tmp_path_factory: pytest.TempPathFactory) -> Path:
    var = tmp_path_factory.mktemp("server")
    env = {k: v for k, v in os.environ.items() if not k.startswith(("DJANGO_", "STANCEBOOK_", "DATABASE_"))}
    env |= {"STANCEBOOK_VAR": str(var), "DJANGO_SECRET_KEY": "x" * 60, "DJANGO_ALLOWED_HOSTS": "stancebook.example"}
    command = [sys.executable, "manage.py", "collectstatic", "--noinput", "--verbosity", "0"]
    subprocess.run(command, cwd=ROOT, env=env, check=True, capture_output=True)
    return var / "static"


def test_modules_import_one_another_by_the_names_that_change(collected):
    modules = [p for p in collected.rglob("*.js") if NAMED.search(p.name) and "plotly" not in p.name]
    imports = [(p, found) for p in modules for found in IMPORT.findall(p.read_text(encoding="utf-8"))]
    assert len(imports) > 15
    for module, name in imports:
        assert NAMED.search(name), f"{module.name} imports {name}, which a cache may hold from before"
        assert (module.parent / name).resolve().is_file()


def test_what_a_page_links_stands_compressed_beside_itself(collected):
    plots = [p for p in collected.rglob("plots.*.js") if NAMED.search(p.name)]
    assert plots and all(p.with_name(p.name + ".br").is_file() for p in plots)
