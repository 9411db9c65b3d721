"""Compute every stored profile that is old, so that the first visitor of a day does not wait."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand

from analysis.store.profiles import KINDS, refresh, sees_health, sees_none, stored_profiles, today_in
from athletes.models import Athlete, Club


class Command(BaseCommand):
    help = "Compute stored profiles that are old: nightly from cron, or after a change of settings."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--kind", choices=sorted(KINDS), action="append", help="only this kind; may be repeated")

    def handle(self, *args: Any, **options: Any) -> None:
        for club in Club.objects.all():
            athletes, day = Athlete.objects.filter(club=club, active=True), today_in(club)
            for kind in options["kind"] or KINDS:
                count = 0
                for reader in (sees_health, sees_none):
                    profiles = stored_profiles(athletes, kind, day, reader)
                    old = [p for p in profiles if p.updating]
                    count += len(refresh(old, kind, day, seconds=float("inf")))
                self.stdout.write(f"{club}: {count} of kind {kind} computed")
