"""`manage.py weak_points`: what the log says about one athlete's weak link, from the database or from a plain file."""

from __future__ import annotations

import argparse
import json
import sys
from datetime import date
from pathlib import Path
from typing import Any, NoReturn
from uuid import UUID

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import DatabaseError
from django.utils import timezone

from analysis.core.records.lifts import LifterRecord
from analysis.core.records.messages import Private
from analysis.core.records.plain import CoreError, to_plain
from analysis.core.records.weak_link import WeakLinkReport
from analysis.core.settings import DEFAULTS, Settings
from analysis.core.weak_link import weak_link_report
from analysis.store.bridge import lifter_record
from analysis.store.club_numbers import numbers_for
from analysis.store.file_log import COLUMNS, read_file_log
from analysis.text.say import Reader, say
from athletes.models import Athlete

WRONG_ARGUMENT = 2
EVERYTHING = Reader(allowed=frozenset(Private))


class Command(BaseCommand):
    """Prints the weak-link reading; a wrong argument ends with exit code 2 and one line that names it."""

    help = "Weak link of one athlete: chances, ranges, what was left out and the next best test." + COLUMNS

    def create_parser(self, prog_name: str, subcommand: str, **kwargs: Any) -> CommandParser:
        """The parser, with the columns of a plain file kept as written in the help."""
        kwargs.setdefault("formatter_class", argparse.RawDescriptionHelpFormatter)
        return super().create_parser(prog_name, subcommand, **kwargs)

    def add_arguments(self, parser: CommandParser) -> None:
        """Athlete or file, date and form of the output."""
        parser.add_argument("athlete", nargs="?", help="number or uid of an athlete in the database")
        parser.add_argument("--from-csv", metavar="FILE", help="read a log from a file instead; needs no database")
        parser.add_argument("--as-of", metavar="DATE", help="YYYY-MM-DD; today, or the last date of a file")
        parser.add_argument("--json", action="store_true", help="everything, as JSON")

    def handle(self, *args: Any, **options: Any) -> None:
        """Reads, computes and prints."""
        if bool(options["athlete"]) == bool(options["from_csv"]):
            self._refuse("give either an athlete or --from-csv FILE")
        skipped: tuple[str, ...] = ()
        settings = DEFAULTS
        if options["from_csv"]:
            lifter, as_of, skipped = self._file(options)
        else:
            lifter, as_of, settings = self._athlete(options)
        report = weak_link_report(lifter, as_of, settings)
        if options["json"]:
            plain = {**to_plain(report), "skipped_lines": list(skipped)}
            self.stdout.write(json.dumps(plain, allow_nan=False, indent=1))
        else:
            self.stdout.write("\n".join([*as_lines(report), *(f"left out: {line}" for line in skipped)]))

    def _refuse(self, message: str) -> NoReturn:
        line = " ".join(message.split())
        if not getattr(self, "_called_from_command_line", False):
            raise CommandError(line, returncode=WRONG_ARGUMENT)
        self.stderr.write(line)
        sys.exit(WRONG_ARGUMENT)

    def _as_of(self, options: dict[str, Any], otherwise: date) -> date:
        if not options["as_of"]:
            return otherwise
        try:
            return date.fromisoformat(options["as_of"])
        except ValueError:
            self._refuse(f"argument --as-of: {options['as_of']!r} is not a date such as 2026-03-04")

    def _file(self, options: dict[str, Any]) -> tuple[LifterRecord, date, tuple[str, ...]]:
        path = Path(options["from_csv"])
        try:
            log = read_file_log(path, timezone.localdate())
        except OSError as error:
            self._refuse(f"argument --from-csv: {path}: {error.strerror}")
        except UnicodeDecodeError:
            self._refuse(f"argument --from-csv: {path} is not UTF-8 text")
        except CoreError as error:
            self._refuse(f"argument --from-csv: {error.quantity}: {error.reason}")
        return log.lifter, self._as_of(options, log.as_of), log.skipped

    def _athlete(self, options: dict[str, Any]) -> tuple[LifterRecord, date, Settings]:
        try:
            athlete = find_athlete(options["athlete"])
        except DatabaseError as error:
            self._refuse(f"the database cannot be read ({error}); `manage.py migrate` lays its tables")
        if athlete is None:
            self._refuse(f"argument athlete: there is no athlete {options['athlete']!r}")
        as_of = self._as_of(options, timezone.localdate())
        return lifter_record(athlete, as_of), as_of, numbers_for(athlete)


def find_athlete(text: str) -> Athlete | None:
    """The athlete of that number or uid."""
    if text.isdigit():
        return Athlete.objects.filter(pk=int(text)).first()
    try:
        return Athlete.objects.filter(uid=UUID(text)).first()
    except ValueError:
        return None


def as_lines(report: WeakLinkReport) -> list[str]:
    """The report as short plain lines."""
    lines = [f"{report.as_of.isoformat()}  {say(report.headline, EVERYTHING)}"]
    for style in report.styles:
        chances = ", ".join(c.words for c in sorted(style.chances, key=lambda c: -c.chance))
        lines.append(f"{style.style}: {chances}")
        lines.append(
            f"  best {style.best_kg:.0f} kg ({style.low_kg:.0f}-{style.high_kg:.0f}, 8 in 10); sticks at "
            f"{style.sticking_share:.0%} of the pull ({style.sticking_position.replace('-', ' ')})"
        )
        gains = ", ".join(f"{gain.link} {gain.kg:+.1f} kg" for gain in style.gains)
        lines.append(f"  5 % more strength: {gains}")
    lines += [say(f.text, EVERYTHING) for f in (*report.classical, *report.findings)]
    if report.next_test is not None:
        test = report.next_test
        lines.append(f"Next best test, for the coach: {test.text}, {test.low_kg:.0f}-{test.high_kg:.0f} kg")
    elif report.no_test_reason:
        lines.append(say(report.no_test_reason, EVERYTHING))
    return [*lines, *report.cautions, report.honesty]
