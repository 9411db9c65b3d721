"""Many rows into one table, made ready before the lock and without a model for each."""

import random
import time
import uuid
from collections.abc import Iterable, Iterator
from typing import Any

from django.db import connection, models

Values = dict[str, object]


class Bulk:
    """The table of a model: `ready` turns values into what the database takes, `insert` only writes."""

    def __init__(self, model: type[models.Model]) -> None:
        self.table = model._meta.db_table
        self.fields = {f.name: f for f in model._meta.concrete_fields if not f.primary_key}
        self.defaults: Values = {
            f.name: f.get_default() for f in self.fields.values() if f.has_default() or f.empty_strings_allowed
        }
        self.defaults |= {f.name: None for f in self.fields.values() if f.null}

    def ready(self, rows: Iterable[Values], shared: Values) -> list[list[Any]]:
        """Rows from what is their own and what they share; defaults and shared values are made ready once."""
        usual = {name: self._prepared(name, value) for name, value in (self.defaults | shared).items()}
        whole = (usual | {name: self._prepared(name, value) for name, value in row.items()} for row in rows)
        return [[row[name] for name in self.fields] for row in whole]

    def _prepared(self, name: str, value: object) -> object:
        return self.fields[name].get_db_prep_save(value, connection)

    def insert(self, ready: list[list[Any]]) -> None:
        """Write rows that were made ready, on PostgreSQL as one stream."""
        if not ready:
            return
        columns = ", ".join(connection.ops.quote_name(str(f.column)) for f in self.fields.values())
        into = f"{connection.ops.quote_name(self.table)} ({columns})"
        with connection.cursor() as cursor:
            if connection.vendor == "postgresql":
                with connection.wrap_database_errors, cursor.cursor.copy(f"COPY {into} FROM STDIN") as stream:
                    for row in ready:
                        stream.write_row(row)
                return
            marks = ", ".join(["%s"] * len(self.fields))
            cursor.executemany(f"INSERT INTO {into} VALUES ({marks})", ready)  # noqa: S608


def ordered_uuids() -> Iterator[uuid.UUID]:
    """Ids that grow with time, so that their index only grows at its end (the layout of RFC 9562, version 7)."""
    while True:
        head = (int(time.time() * 1000) << 80) | (0x7 << 76)
        tail = random.getrandbits(12) << 64 | 0x2 << 62
        start = random.getrandbits(40) << 20
        for i in range(1 << 16):
            yield uuid.UUID(int=head | tail | (start + i))
