"""The core must load where Django and plotly are not installed."""

import subprocess
import sys

ALONE = """
import sys
for absent in ("django", "plotly", "athletes.models", "config", "scipy", "pandas"):
    sys.modules[absent] = None
import importlib, pkgutil
top = importlib.import_module("analysis.core")
for found in pkgutil.walk_packages(top.__path__, top.__name__ + "."):
    importlib.import_module(found.name)
print("loaded")
"""


def test_every_core_module_loads_without_django_or_plotly():
    done = subprocess.run([sys.executable, "-c", ALONE], capture_output=True, text=True, timeout=60)
    assert done.stdout.strip() == "loaded", done.stderr
