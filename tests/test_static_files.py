"""On a server every static file has a name that changes with its content, and modules import one another by it."""

import os
import re
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
NAMED = re.compile(r"\.[0-9a-f]{12}\.js$")
IMPORT = re.compile(r'^import [^"]*"(\.[^"]+)"', re.M)


@pytest.fixture(scope="module")
def collected(tmp_path_factory: pytest.TempPathFactory) -> Path:
    var = tmp_path_factory.mktemp("server")
    env = {k: v for k, v in os.environ.items() if not k.startswith(("DJANGO_", "STANCEBOOK_", "DATABASE_"))}
    env |= {
        "STANCEBOOK_VAR": str(var),
        "DJANGO_SECRET_KEY": "abcdef" * 10,
        "DJANGO_ALLOWED_HOSTS": "stancebook.example",
    }
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


def test_the_plotting_script_is_that_of_the_installed_package_and_kept_for_good(collected):
    (script,) = [p for p in (collected / "plotly").glob("plotly.min.*.js") if NAMED.search(p.name)]
    installed = Path(find_spec("plotly").submodule_search_locations[0]) / "package_data" / "plotly.min.js"
    assert script.read_bytes() == installed.read_bytes()
    packed = script.with_name(script.name + ".br")
    assert packed.stat().st_size < 0.25 * script.stat().st_size


def test_the_page_knows_every_style_element_that_the_plotting_script_would_insert():
    """An upgrade may bring another name; the content security policy then refuses the element with a complaint."""
    installed = Path(find_spec("plotly").submodule_search_locations[0]) / "package_data" / "plotly.min.js"
    script = installed.read_text(encoding="utf-8")
    places = [m.start() for m in re.finditer(re.escape('createElement("style")'), script)]
    own = next(p for p in (ROOT / "analysis").rglob("plots.js")).read_text(encoding="utf-8")
    known = re.findall(r'_SHEET = "([^"]+)"', own)
    assert len(places) == len(known) == 2
    for place in places:
        before = script[place - 400 : place]
        assert any(name in before or name.removesuffix("global") in before for name in known)


def test_no_script_of_another_project_is_kept_with_our_own():
    names = subprocess.run(["git", "ls-files", "*.js"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    sizes = {name: (ROOT / name).stat().st_size for name in names.split() if (ROOT / name).is_file()}
    assert sizes and {name for name, size in sizes.items() if ".min." in name or size > 60_000} == set()


def test_the_plotting_script_is_sent_compressed_and_kept_for_good(collected):
    program = (
        "import django; django.setup()\n"
        "from django.templatetags.static import static\n"
        "from django.test import Client\n"
        "asked = {'HTTP_HOST': 'stancebook.example', 'HTTP_ACCEPT_ENCODING': 'br', 'secure': True}\n"
        "answer = Client().get(static('plotly/plotly.min.js'), **asked)\n"
        "print(answer.status_code, answer['Content-Encoding'], answer['Cache-Control'])"
    )
    env = {k: v for k, v in os.environ.items() if not k.startswith(("DJANGO_", "STANCEBOOK_", "DATABASE_"))}
    env |= {"STANCEBOOK_VAR": str(collected.parent), "DJANGO_SECRET_KEY": "abcdef" * 10}
    env |= {"DJANGO_ALLOWED_HOSTS": "stancebook.example", "DJANGO_SETTINGS_MODULE": "config.settings"}
    ran = subprocess.run([sys.executable, "-c", program], cwd=ROOT, env=env, capture_output=True, text=True)
    assert ran.stdout.split(maxsplit=2)[:2] == ["200", "br"], ran.stderr
    assert "immutable" in ran.stdout
