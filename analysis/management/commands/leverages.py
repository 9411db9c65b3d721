"""`manage.py leverages`: one body's leverages in each style, as JSON or as a short table; needs no database."""

from __future__ import annotations

import argparse
import json
import math
import sys
from typing import Any, NoReturn

from django.core.management.base import BaseCommand, CommandError, CommandParser

from analysis.core.leverages.report import DEFAULT_SETUPS, leverage_report
from analysis.core.records.bodies import BodyInput, FilledBody
from analysis.core.records.plain import CoreError
from analysis.core.records.pulls import QUANTITY_KEYS, Estimate, LeverageReport, Setup, SetupInput, StyleReport

STYLES = tuple(setup.preset for setup in DEFAULT_SETUPS)
WRONG_ARGUMENT = 2
_ARGUMENT_OF = {
    "sex": "--sex",
    "stature": "--stature",
    "mass": "--mass",
    "load": "--load",
    "stance": "--stance",
    "stance_m": "--stance",
    "turnout_rad": "--turnout",
    "hand_spacing_m": "--hands",
    "hand spacing": "--hands",
    "sole_m": "--sole",
    "start height": "--start",
    "start_height_m": "--start",
    "bar": "--bar",
}
_ROWS = (
    ("knee_flexion_deg", "knee flexion", "deg", 0),
    ("hip_flexion_deg", "hip flexion", "deg", 0),
    ("trunk_angle_deg", "trunk above horizontal", "deg", 0),
    ("hip_bar_distance_m", "hip to bar", "cm", 1),
    ("hip_moment_nm", "hip moment", "N m", 0),
    ("knee_moment_nm", "knee moment, net", "N m", 0),
    ("adductor_moment_nm", "adductor moment", "N m", 0),
    ("trunk_moment_nm", "trunk moment", "N m", 0),
)


class Command(BaseCommand):
    """Prints the leverages of one body; a wrong argument ends with exit code 2 and one line that names it."""

    help = "Leverages of one body in each style, from floor to lockout."
    requires_system_checks: list[str] = []

    def create_parser(self, prog_name: str, subcommand: str, **kwargs: Any) -> CommandParser:
        """The parser, with an error of one line."""
        parser = super().create_parser(prog_name, subcommand, **kwargs)
        parser.error = self._refuse  # type: ignore[method-assign]
        return parser

    def _refuse(self, message: str) -> NoReturn:
        line = " ".join(message.split())
        if not getattr(self, "_called_from_command_line", False):
            raise CommandError(line, returncode=WRONG_ARGUMENT)
        self.stderr.write(line)
        sys.exit(WRONG_ARGUMENT)

    def add_arguments(self, parser: CommandParser) -> None:
        """Body, style, load and form of the output."""
        add = parser.add_argument
        add("--sex", required=True, choices=("m", "f"), help="which reference table fills what is missing")
        add("--stature", required=True, type=_number, help="cm")
        add("--mass", type=_number, help="kg")
        add("--age", type=_number, help="years")
        add("--measurement", action="append", default=[], metavar="KEY=CM", help="any other measurement, in cm")
        add("--style", choices=STYLES, help="only this style; all four when left out")
        add("--stance", type=_number, help="ankle to ankle, m")
        add("--turnout", type=_number, help="degrees")
        add("--hands", type=_number, help="hand spacing, m")
        add("--sole", type=_number, help="shoe sole, m")
        add("--start", type=_number, help="bar centre above the feet's floor at the start, m")
        add("--bar", default="unknown", help="unknown (no bending), stiff, training or flexible")
        add("--load", type=_number, default=200.0, help="kg, bar included")
        add("--draws", type=int, default=200, help="draws of the body behind the ranges")
        add("--json", action="store_true", help="everything, as JSON")

    def handle(self, *args: Any, **options: Any) -> None:
        """Computes and prints."""
        if not 0 <= options["draws"] <= 20_000:
            self._refuse("argument --draws: must be from 0 to 20000")
        try:
            body = BodyInput(options["sex"], self._measured(options), age=options["age"])
            report = leverage_report(body, _asked(options), options["load"], options["draws"])
        except CoreError as error:
            self._refuse(f"argument {_argument(error)}: {error.reason}")
        self._refuse_an_impossible_choice(report, options)
        if options["json"]:
            self.stdout.write(json.dumps(as_json(report), allow_nan=False, indent=1))
        else:
            self.stdout.write(as_table(report))

    def _measured(self, options: dict[str, Any]) -> dict[str, float]:
        measured = {"stature": options["stature"] / 100.0}
        if options["mass"] is not None:
            measured["mass"] = options["mass"]
        for pair in options["measurement"]:
            key, equals, text = pair.partition("=")
            try:
                value = float(text)
            except ValueError:
                value = math.nan
            if not equals or math.isnan(value):
                self._refuse(f"argument --measurement: {pair!r} is not KEY=CM with a number of centimetres")
            if key in measured:
                self._refuse(f"argument --measurement: {key} is given twice")
            measured[key] = value if key == "mass" else value / 100.0
        return measured

    def _refuse_an_impossible_choice(self, report: LeverageReport, options: dict[str, Any]) -> None:
        """A style chosen by name, or changed, must be possible; the defaults may be impossible one by one."""
        changed = options["style"] or any(
            options[key] is not None for key in ("stance", "turnout", "hands", "sole", "start")
        )
        for style in report.styles:
            if style.error and (changed or style.setup is None):
                self._refuse(f"argument {_argument(style.error)}: {style.name}: {style.error.reason}")


def _number(text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is not a number") from None
    if not math.isfinite(value):
        raise argparse.ArgumentTypeError(f"{text!r} is not a finite number")
    return value


def _asked(options: dict[str, Any]) -> list[SetupInput]:
    styles = [options["style"]] if options["style"] else STYLES
    turnout = options["turnout"]
    return [
        SetupInput(
            preset=style,
            stance_m=options["stance"],
            turnout_rad=None if turnout is None else math.radians(turnout),
            hand_spacing_m=options["hands"],
            sole_m=options["sole"],
            start_height_m=options["start"],
            bar=options["bar"],
        )
        for style in styles
    ]


def _argument(error: CoreError) -> str:
    return _ARGUMENT_OF.get(error.quantity, f"--measurement {error.quantity}")


def _estimate(estimate: Estimate) -> dict[str, float]:
    return {"value": estimate.value, "low": estimate.low, "high": estimate.high}


def _body_json(body: FilledBody) -> dict[str, Any]:
    def lengths(found: Any) -> dict[str, Any]:
        return {one.key: {"value": one.value, "sd": one.sd, "origin": one.origin} for one in found}

    return {
        "sex": body.sex,
        "age": body.age,
        "links_m": lengths(body.links),
        "measurements": lengths(body.measurements),
        "units": "m; mass kg",
        "warnings": list(body.warnings),
    }


def _settings(setup: Setup) -> dict[str, Any]:
    return {
        "stance_m": setup.stance_m,
        "turnout_deg": math.degrees(setup.turnout_rad),
        "hand_spacing_m": setup.hand_spacing_m,
        "spinal_flexion_deg": math.degrees(setup.spinal_flexion_rad),
        "sole_m": setup.sole_m,
        "start_height_m": setup.start_height_m,
        "disc_diameter_m": setup.disc_diameter_m,
        "bar": setup.bar,
    }


def _style_json(style: StyleReport, push: float) -> dict[str, Any]:
    if style.setup is None or style.error or style.lockout_height_m is None or style.range_of_motion_m is None:
        return {"settings": _settings(style.setup) if style.setup else {}, "error": str(style.error)}

    def estimates(found: Any) -> dict[str, dict[str, float]]:
        return {key: _estimate(found[key]) for key in QUANTITY_KEYS}

    heights = range(len(style.pull["z_m"]))
    return {
        "settings": {**_settings(style.setup), "push": push},
        "lift_off": estimates(style.lift_off),
        "knee": estimates(style.knee) if style.knee else None,
        "lockout": estimates(style.lockout),
        "pull": [{key: float(style.pull[key][at]) for key in QUANTITY_KEYS} for at in heights],
        "lockout_height_m": style.lockout_height_m.value,
        "range_of_motion_m": style.range_of_motion_m.value,
        "lockout_height_range_m": _estimate(style.lockout_height_m),
        "range_of_motion_range_m": _estimate(style.range_of_motion_m),
        "bar_rise_m": style.bar_rise_m,
        "warnings": list(style.warnings),
    }


def as_json(report: LeverageReport) -> dict[str, Any]:
    """The report as the dictionary the command prints; values and ranges in the unit that ends each key."""
    return {
        "body": _body_json(report.body),
        "load_kg": report.load_kg,
        "styles": {style.name: _style_json(style, report.push) for style in report.styles},
        "warnings": list(report.warnings),
    }


def as_table(report: LeverageReport) -> str:
    """Lift-off side by side, one row a quantity, with the central 80 % in brackets."""
    lines = [f"{'at lift-off, ' + format(report.load_kg, 'g') + ' kg':<24}"]
    lines[0] += "".join(f"{style.name:>22}" for style in report.styles)
    for key, label, unit, digits in _ROWS:
        cells = "".join(f"{_cell(style, key, unit, digits):>22}" for style in report.styles)
        lines.append(f"{label + ', ' + unit:<24}{cells}")
    distance = "".join(f"{_distance(style):>22}" for style in report.styles)
    lines.append(f"{'range of motion, cm':<24}{distance}")
    lines.extend(f"{style.name}: {style.error.reason}" for style in report.styles if style.error)
    lines.extend(report.warnings)
    lines.append(
        "Brackets: central 80 % of bodies and habits that fit what is known. Statics only, not medical advice."
    )
    return "\n".join(lines)


def _cell(style: StyleReport, key: str, unit: str, digits: int) -> str:
    if key not in style.lift_off:
        return "-"
    return _ranged(style.lift_off[key], 100.0 if unit == "cm" else 1.0, digits)


def _distance(style: StyleReport) -> str:
    return _ranged(style.range_of_motion_m, 100.0, 1) if style.range_of_motion_m else "-"


def _ranged(found: Estimate, scale: float, digits: int) -> str:
    value, low, high = (f"{part * scale:.{digits}f}" for part in (found.value, found.low, found.high))
    return f"{value} ({low}-{high})"
