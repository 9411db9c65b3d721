"""The files of docs/deploy: units a service manager takes, a container file without lint, commands that exist."""

import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.management import get_commands

FOLDER = Path(__file__).resolve().parent.parent / "docs" / "deploy"
UNITS = sorted(FOLDER.glob("*.service")) + sorted(FOLDER.glob("*.timer"))
HARDENED = ("NoNewPrivileges=yes", "PrivateTmp=yes", "ProtectSystem=strict", "ProtectHome=yes", "User=stancebook")


def lines(path: Path, key: str) -> list[str]:
    """The values of a key of a unit, in order."""
    return re.findall(rf"^{key}=(.*)$", path.read_text(), re.M)


@pytest.mark.parametrize("path", [p for p in UNITS if p.suffix == ".service"], ids=lambda path: path.name)
def test_a_service_runs_a_command_that_exists_as_nobody_special(path):
    text = path.read_text()
    assert all(line in text for line in HARDENED)
    started = lines(path, "ExecStart") + lines(path, "ExecStartPre")
    named = {name for line in started for name in re.findall(r"-m django (\w+)", line)}
    assert named <= get_commands().keys() and (named or "config.wsgi" in text)
    for line in started:
        shlex.split(line)


def test_every_timer_starts_a_service_that_is_there():
    for path in UNITS:
        if path.suffix == ".timer":
            assert path.with_suffix(".service") in UNITS and lines(path, "OnCalendar")


@pytest.mark.skipif(shutil.which("systemd-analyze") is None, reason="the service manager's own check is not installed")
def test_the_service_manager_takes_every_unit(tmp_path):
    for path in UNITS:  # the programs are not installed here, and nobody of that name lives here
        text = re.sub(r"^(Exec\w+)=\S+", r"\1=/bin/true", path.read_text(), flags=re.M)
        (tmp_path / path.name).write_text(text.replace("User=stancebook", "User=root"))
    done = subprocess.run(
        ["systemd-analyze", "verify", "--man=no", *(str(tmp_path / path.name) for path in UNITS)],
        capture_output=True, text=True,
    )  # fmt: skip
    assert [line for line in done.stderr.splitlines() if "stancebook" in line] == []


def test_the_container_file_is_without_lint():
    hadolint = Path(sys.executable).with_name("hadolint")
    done = subprocess.run([hadolint, FOLDER / "Containerfile"], capture_output=True, text=True)
    assert done.returncode == 0, done.stdout


def test_the_container_file_runs_the_steps_that_are_tried():
    text = (FOLDER / "Containerfile").read_text()
    assert "/src/docs/deploy/build.sh /opt/stancebook /src" in text and "USER 990" in text
    makefile = (FOLDER.parents[1] / "Makefile").read_text()
    assert "docs/deploy/build.sh" in makefile
