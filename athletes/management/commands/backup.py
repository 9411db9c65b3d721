"""Back up the database, the stored files and the ledger of erasures into one file."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from athletes.operations.archive import BackupError
from athletes.operations.backup import keep_newest, make_backup


class Command(BaseCommand):
    help = "Write a backup into a folder while people go on working; nothing is left behind when it fails."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("folder", type=Path, help="where backups are kept, on another disk than the database")
        parser.add_argument("--keep", type=int, metavar="N", help="delete all but the newest N backups of the folder")

    def handle(self, *args: Any, **options: Any) -> None:
        keep = options["keep"]
        if keep is not None and keep < 1:
            raise CommandError("--keep wants 1 or more.")
        try:
            made = make_backup(options["folder"])
        except (BackupError, OSError) as wrong:
            raise CommandError(f"No backup was made. {wrong}") from wrong
        self.stdout.write(f"{made} ({made.stat().st_size / 1e6:.1f} MB)")
        for old in keep_newest(options["folder"], keep) if keep else []:
            self.stdout.write(f"deleted {old.name}")
