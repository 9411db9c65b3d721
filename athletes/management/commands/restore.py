"""Take a backup back into an empty place, or only try whether it could be."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from athletes.operations.archive import BackupError
from athletes.operations.backup import restore_backup, try_backup


class Command(BaseCommand):
    help = "Fill the empty database and storage of the settings from a backup and erase again whoever was erased."
    requires_system_checks: list[str] = []  # the database is empty still

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("backup", type=Path, help="the file that `backup` wrote")
        parser.add_argument(
            "--verify", action="store_true", help="only restore into a temporary place, compare, and remove it again"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            done = (try_backup if options["verify"] else restore_backup)(options["backup"])
        except (BackupError, OSError) as wrong:
            raise CommandError(str(wrong)) from wrong
        if options["verify"]:
            self.stdout.write(f"Can be restored: {done.rows} rows and {done.files} stored files, all as backed up.")
        else:
            self.stdout.write(f"Restored {done.rows} rows and {done.files} stored files; erased again: {done.erased}")
