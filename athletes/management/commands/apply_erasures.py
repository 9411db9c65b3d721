"""Erase again whoever was erased and came back with a backup."""

from typing import Any

from django.core.management.base import BaseCommand

from athletes.privacy.erasure import apply_erasures


class Command(BaseCommand):
    help = "Erase again whoever the list of erasures names; run it after every restored backup."

    def handle(self, *args: Any, **options: Any) -> None:
        found = apply_erasures()
        if found or options["verbosity"] > 1:
            self.stdout.write(f"Erased again: {found}")
