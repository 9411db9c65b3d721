"""The development server with a worker beside it; the worker ends with the server, however that ends."""

import os
import subprocess
import sys
from argparse import ArgumentParser
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand
from django.utils.autoreload import DJANGO_AUTORELOAD_ENV


class Command(BaseCommand):
    help = "Run the development server and the worker of the queue together."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("address", nargs="?", default="localhost:8000")

    def handle(self, *args: Any, **options: Any) -> None:
        if os.environ.get(DJANGO_AUTORELOAD_ENV) == "true":  # started by the reloader: the parent has the worker
            call_command("runserver", options["address"])
            return
        command = [sys.executable, "manage.py", "work", "--with-parent"]
        worker = subprocess.Popen(command, cwd=settings.BASE_DIR, stdin=subprocess.DEVNULL)  # noqa: S603
        try:
            call_command("runserver", options["address"])
        finally:
            worker.terminate()
            worker.wait(timeout=10)
