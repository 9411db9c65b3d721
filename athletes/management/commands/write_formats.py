"""Write the tables of docs/formats.md anew from the schema."""

from typing import Any

from django.core.management.base import BaseCommand

from athletes.exporting.formats import PAGE, page_with_tables


class Command(BaseCommand):
    help = "Write the tables of docs/formats.md anew from the descriptions of fields and measurements."

    def handle(self, *args: Any, **options: Any) -> None:
        PAGE.write_text(page_with_tables(PAGE.read_text()))
        self.stdout.write(f"{PAGE.name} written")
