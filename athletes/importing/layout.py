"""Whole sets laid out beside the log in small commits, so that the move itself has nothing left to work out."""

import random
import time
import uuid
from collections.abc import Iterator
from datetime import date

from django.db import transaction
from django.utils import timezone

from athletes.importing.claim import claim_step
from athletes.importing.measures_in import clear_measures, lay_measures
from athletes.importing.outcome import rows_to_take, sets_to_take
from athletes.models import ImportBatch, StagedSet
from athletes.models.bulk import Bulk, Values

CHUNK = 1_000
LAID_OUT = Bulk(StagedSet)
PLACES = 40  # sets of one line keep their order below the next line's


def prepare(batch: ImportBatch, until: float) -> None:
    """Lay out whole sets, a few hundred lines a commit."""
    moment = timezone.now()
    same = {"author": batch.author_id, "batch": batch.pk, "created": moment, "changed": moment}
    while True:
        after = int(batch.options["prepared"])
        rows = list(rows_to_take(batch).filter(number__gt=after)[:CHUNK].values_list("number", "parsed", "choice"))
        staged = [
            values_of(found, number * PLACES + i)
            for number, parsed, choice in rows
            for i, found in enumerate(sets_to_take(parsed, choice))
        ]
        ready = LAID_OUT.ready(staged, same)
        with transaction.atomic():
            now = claim_step(batch)
            if now is None:
                return
            if not after:
                StagedSet.objects.filter(batch=now)._raw_delete(using=now._state.db)
                clear_measures(now)
            LAID_OUT.insert(ready)
            measures = lay_measures(now, {number: parsed for number, parsed, _ in rows})
            now.options |= told(now.options, staged) | {"prepared": rows[-1][0] if rows else after}
            now.options["measures"] = int(str(now.options.get("measures", 0))) + measures
            if len(rows) < CHUNK:
                now.options["phase"] = "move"
            now.save(update_fields=["options"])
        batch = now
        if len(rows) < CHUNK or time.monotonic() > until:
            return


def told(options: Values, staged: list[Values]) -> Values:
    """What the move asks about all that is laid out: how many sets, whose, and from which day to which."""
    days = [*list(options.get("days", [])), *(str(row["day"]) for row in staged)]
    athletes = {*list(options.get("athletes", [])), *(row["athlete"] for row in staged)}
    return {
        "sets": int(str(options["sets"])) + len(staged),
        "athletes": sorted(athletes),
        "days": [min(days), max(days)] if days else [],
    }


def ordered_uid() -> Iterator[uuid.UUID]:
    """Ids that grow with time, so that their index only ever grows at its end (the layout of RFC 9562, version 7)."""
    while True:
        head = (int(time.time() * 1000) << 80) | (0x7 << 76)
        tail = random.getrandbits(12) << 64 | 0x2 << 62
        start = random.getrandbits(40) << 20
        for i in range(1 << 16):
            yield uuid.UUID(int=head | tail | (start + i))


UIDS = ordered_uid()


def values_of(found: Values, order: int) -> Values:
    """What is a set's own of a staged line's set: the defaults and what all sets of an import share come later."""
    own = {name: value for name, value in found.items() if LAID_OUT.defaults.get(name) != value}
    return {"order": order} | own | {"uid": next(UIDS), "day": date.fromisoformat(str(found["day"]))}
