"""docs/running.md names every variable of the environment that the settings read."""

import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]


def test_every_variable_of_the_settings_is_told():
    read = set(re.findall(r'environ\.get\(\s*"(\w+)"', (ROOT / "config/settings.py").read_text()))
    told = (ROOT / "docs/running.md").read_text()
    told = re.sub(r"`_(\w+)`", r"`DJANGO_EMAIL_\1`", told)
    assert len(read) > 12
    assert {name for name in read if f"`{name}`" not in told} == {"DJANGO_EMAIL_BACKEND"}
