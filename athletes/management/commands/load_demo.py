"""`manage.py load_demo`: two invented clubs, once; `--fresh` builds them anew."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db import transaction
from django.utils import timezone

from athletes.access.client_address import debug_on_localhost
from athletes.demo.build import DEMO_PASSWORD, build_demo, demo_clubs, demo_log_ins, remove_demo
from athletes.demo.tonight import refresh_tonight


class Command(BaseCommand):
    help = "Load two invented clubs and print their log-ins; only in debug on localhost."

    requires_system_checks = []  # --remove must work where athletes.E001 stops everything else

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--remove", action="store_true", help="remove the demo; allowed everywhere")
        parser.add_argument("--fresh", action="store_true", help="remove the demo and build it anew")

    def handle(self, *args: Any, fresh: bool = False, remove: bool = False, **options: Any) -> None:
        if remove:
            remove_demo()
            self.stdout.write("The demo's clubs and log-ins are removed.")
            return
        if not debug_on_localhost():
            raise CommandError(
                "The demo's log-ins have a known password. They are made only with DJANGO_DEBUG=1 and no host other "
                "than localhost in DJANGO_ALLOWED_HOSTS. Nothing was loaded."
            )
        today = timezone.localdate()
        with transaction.atomic():
            if fresh:
                remove_demo()
            if demo_clubs():
                refresh_tonight(demo_clubs(), today)
            else:
                build_demo(today)
        self.print_log_ins()

    def print_log_ins(self) -> None:
        self.stdout.write(f"Demo log-ins, all with the password {DEMO_PASSWORD}")
        for club, role, email in demo_log_ins():
            self.stdout.write(f"  {email:24} {role}, {club}")
