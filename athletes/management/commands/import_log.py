"""Bring a log in from the command line, or go on with an import that a page began."""

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.files.uploadedfile import UploadedFile
from django.core.management.base import BaseCommand, CommandError

from athletes.importing.files.upload import begin
from athletes.importing.moving.outcome import sums
from athletes.importing.moving.taking import take_in
from athletes.importing.tasks import advance, is_busy
from athletes.models import Athlete, Club, ImportBatch, User
from athletes.reader.notes import Refused


class Command(BaseCommand):
    help = "Read a log for a club and show what would come in; with --take the clear lines are taken in."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", nargs="?", help="CSV or XLSX file")
        parser.add_argument("--club", help="the club's name or number")
        parser.add_argument("--by", help="e-mail address of the person who brings it in")
        parser.add_argument("--athlete", help="number of the athlete, for a file that names nobody")
        parser.add_argument("--batch", type=int, help="go on with this import instead of reading a file")
        parser.add_argument("--take", action="store_true", help="take in the lines that need no answer")

    def handle(self, *args: Any, **options: Any) -> None:
        batch = self._there(options["batch"]) if options["batch"] else self._new(options)
        batch = self._run(batch)
        if options["take"] and batch.status == ImportBatch.Status.READY:
            why_not = take_in(batch)
            if why_not:
                raise CommandError(why_not)
            batch = self._run(batch)
        if batch.status == ImportBatch.Status.REFUSED:
            raise CommandError(batch.reason)
        self._tell(batch)

    def _there(self, pk: int) -> ImportBatch:
        batch = ImportBatch.objects.filter(pk=pk).first()
        if batch is None:
            raise CommandError(f"There is no import {pk}.")
        return batch

    def _new(self, options: dict[str, Any]) -> ImportBatch:
        if not options["file"] or not options["club"]:
            raise CommandError("Name a file and a club, or an import with --batch.")
        club = self._club(str(options["club"]))
        by = User.objects.filter(email__iexact=options["by"]).first() if options["by"] else None
        if options["by"] and by is None:
            raise CommandError(f"Nobody has the address {options['by']}.")
        athlete = Athlete.objects.filter(club=club, pk=options["athlete"]).first() if options["athlete"] else None
        path = Path(str(options["file"]))
        if not path.is_file():
            raise CommandError(f"There is no file {path}.")
        try:
            with path.open("rb") as file:
                return begin(
                    club,
                    by,
                    UploadedFile(file, name=path.name, size=path.stat().st_size),
                    settings.IMPORT_MAX_BYTES,
                    athlete,
                )
        except Refused as problem:
            raise CommandError(str(problem)) from None

    def _club(self, said: str) -> Club:
        found = Club.objects.filter(pk=int(said)) if said.isdigit() else Club.objects.filter(name=said)
        if len(found) != 1:
            raise CommandError(f"{len(found)} clubs are called {said}." if found else f"There is no club {said}.")
        return found[0]

    def _run(self, batch: ImportBatch) -> ImportBatch:
        while True:
            batch = advance(batch.pk, seconds=5.0)
            if not is_busy(batch):
                return batch
            self.stderr.write(f"{batch.get_status_display()}: {batch.rows_read} of {batch.rows_total} lines read")

    def _tell(self, batch: ImportBatch) -> None:
        counts = sums(batch)
        self.stdout.write(
            f"Import {batch.pk}, {batch.get_status_display()}: {counts['rows']} lines = {counts['taken']} taken "
            f"+ {counts['fixed']} fixed + {counts['skipped']} skipped"
        )
        for row in batch.rows.exclude(status="ok").order_by("number")[:20]:
            self.stdout.write(f"  line {row.number}: {row.get_status_display()}: {row.reason}")
