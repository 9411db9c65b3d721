"""Throw away what is past its days."""

from typing import Any

from django.core.management.base import BaseCommand

from athletes.privacy.retention import prune


class Command(BaseCommand):
    help = "Throw away what is kept no longer than settings.RETENTION_DAYS says; run it once a day."

    def handle(self, *args: Any, **options: Any) -> None:
        for kind, count in prune().items():
            self.stdout.write(f"{kind}: {count}")
