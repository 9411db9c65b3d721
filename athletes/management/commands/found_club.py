"""Begin a club on a server that has none: the club's name, and a link with which its first owner comes in."""

from argparse import ArgumentParser
from typing import Any
from zoneinfo import available_timezones

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError
from django.core.validators import validate_email

from athletes.models import Club
from athletes.people.of_club import found_club

WRONG_ARGUMENT = 2


class Command(BaseCommand):
    help = "Begin a club and print the link with which its first owner comes in (once, within some days)."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("name", help="what the club is called")
        parser.add_argument("email", help="e-mail address of its first owner")
        parser.add_argument("--timezone", default="UTC", help="time zone of its evenings, such as Europe/London")

    def handle(self, *args: Any, **options: str) -> None:
        name, email = " ".join(options["name"].split()), options["email"].strip().lower()
        self._check(name, email, options["timezone"])
        row, token = found_club(name, options["timezone"], email)
        address = settings.SITE_ADDRESS or "https://(address of your server)"
        self.stdout.write(f"{name} is founded. Its owner {email} comes in here, once, until {row.expires:%d %B %Y}:")
        self.stdout.write(f"{address}/join/{token}/")

    def _check(self, name: str, email: str, timezone: str) -> None:
        most = Club._meta.get_field("name").max_length or 0
        if not 0 < len(name) <= most:
            raise CommandError(f"name: between 1 and {most} letters, please", returncode=WRONG_ARGUMENT)
        if Club.objects.filter(name__iexact=name).exists():
            raise CommandError(f"name: there is a club called {name} already", returncode=WRONG_ARGUMENT)
        try:
            validate_email(email)
        except ValidationError as error:
            raise CommandError(f"email: {email!r} is no e-mail address", returncode=WRONG_ARGUMENT) from error
        if timezone not in available_timezones():
            raise CommandError(f"--timezone: {timezone!r} is no time zone", returncode=WRONG_ARGUMENT)
