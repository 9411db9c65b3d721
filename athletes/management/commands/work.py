"""The worker of the queue: takes up what an earlier worker left, then runs tasks until it is stopped."""

import os
import threading
import time
from argparse import ArgumentParser
from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand

from athletes.accounts.mail import revive_mails
from athletes.exporting.prepared import revive_files
from athletes.importing.tasks import revive_all
from athletes.operations.schedule import keep_time

WATCH = 2.0  # seconds between two looks at whether the server is still there


class Command(BaseCommand):
    help = "Run the tasks that wait in the database: imports, mails and files to take away."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--with-parent", action="store_true", help="stop when the process that started this ends")
        parser.add_argument("--interval", type=float, default=1.0, help="seconds between two looks at an empty queue")
        parser.add_argument("--one-of-several", action="store_true", help="another worker may be at work already")

    def handle(self, *args: Any, **options: Any) -> None:
        if options["with_parent"]:
            threading.Thread(target=_stop_without, args=(os.getppid(),), daemon=True).start()
        alone = not options["one_of_several"]
        imports, mails, files = (revive(at_start=alone) for revive in (revive_all, revive_mails, revive_files))
        if imports or mails or files:
            self.stdout.write(f"Taken up again: {imports} imports, {mails} mails, {files} files.")
        keep_time()
        call_command("db_worker", interval=options["interval"], reload=False, startup_delay=False, verbosity=0)


def _stop_without(parent: int) -> None:
    """End this process when its parent has ended: every step may be stopped at any moment."""
    while os.getppid() == parent:
        time.sleep(WATCH)
    os._exit(0)
