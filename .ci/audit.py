"""Compares the fixed versions of constraints.txt with the published advisories; 1 when one of them is concerned.

Where the advisories cannot be reached nothing can be said about the versions: a sentence says so and the exit is 0.
"""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

COMMAND = [
    Path(sys.executable).with_name("pip-audit"),
    *("--requirement", "constraints.txt", "--disable-pip", "--no-deps"),
    *("--format", "json", "--progress-spinner", "off"),
]
UNREACHABLE = ("ConnectionError", "Connection refused", "Max retries exceeded", "resolve", "timed out", "ServiceError")


def main() -> int:
    run = subprocess.run(COMMAND, capture_output=True, text=True)  # noqa: S603 - a fixed command of our own environment
    try:
        found = json.loads(run.stdout)["dependencies"]
    except (ValueError, KeyError):
        if any(word in run.stderr for word in UNREACHABLE):
            print("Audit: the advisories could not be reached from here, so NO package was checked.")
            return 0
        sys.stderr.write(run.stderr)
        return run.returncode or 1
    return verdict(found)


def verdict(found: list[dict[str, Any]]) -> int:
    """Print what was found, package by package; 1 when an advisory names one of them."""
    if all("skip_reason" in package for package in found):
        print(f"Audit: no advisories are offered here for any of {len(found)} packages, so NO package was checked.")
        return 0
    concerned = [package for package in found if package.get("vulns")]
    for package in concerned:
        names = ", ".join(entry["id"] for entry in package["vulns"])
        print(f"{package['name']} {package.get('version', '')}: {names}")
    for package in (p for p in found if "skip_reason" in p):
        print(f"{package['name']}: not checked, {package['skip_reason']}")
    print(f"Audit: {len(found)} packages, {len(concerned)} with a published advisory.")
    return 1 if concerned else 0


if __name__ == "__main__":
    sys.exit(main())
