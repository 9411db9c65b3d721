"""Copy the database of the settings into one file and back, while people go on working."""

import os
import sqlite3
import subprocess
import uuid
from collections.abc import Iterator, Mapping
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

import psycopg
from django.db import connections
from psycopg import sql

from athletes.operations.archive import BackupError

WAIT = 30  # seconds SQLite waits for a writer


def database_settings() -> Mapping[str, Any]:
    return connections["default"].settings_dict


def vendor() -> str:
    """ "sqlite" or "postgresql"."""
    return connections["default"].vendor


def copy_out(target: Path) -> dict[str, int]:
    """Write the database to `target`, as it stood at one moment; rows by table in that copy."""
    return _sqlite_out(target) if vendor() == "sqlite" else _postgres_out(target)


def copy_in(source: Path, database: Mapping[str, Any]) -> dict[str, int]:
    """Fill an empty database from a copy; rows by table afterwards. BackupError when it is not empty."""
    return _sqlite_in(source, database) if vendor() == "sqlite" else _postgres_in(source, database)


@contextmanager
def empty_database(folder: Path) -> Iterator[Mapping[str, Any]]:
    """Settings of an empty database beside the one in use, gone afterwards."""
    if vendor() == "sqlite":
        yield {**database_settings(), "NAME": folder / "trial.sqlite3"}
        return
    name = f"stancebook_trial_{uuid.uuid4().hex[:12]}"
    _run_postgres(["createdb", name], database_settings())
    try:
        yield {**database_settings(), "NAME": name}
    finally:
        _run_postgres(["dropdb", "--force", name], database_settings())


def _sqlite_out(target: Path) -> dict[str, int]:
    """SQLite's own online backup: a copy of the file would miss what still stands in the log beside it."""
    with closing(_sqlite(database_settings()["NAME"])) as source, closing(sqlite3.connect(target)) as copy:
        source.backup(copy)
        copy.execute("PRAGMA journal_mode=DELETE")  # one file without a log beside it
        if (said := copy.execute("PRAGMA integrity_check").fetchone()[0]) != "ok":
            raise BackupError(f"The database is damaged: {said}")
        return _sqlite_rows(copy)


def _sqlite_in(source: Path, database: Mapping[str, Any]) -> dict[str, int]:
    path = Path(database["NAME"])
    path.parent.mkdir(parents=True, exist_ok=True)
    with closing(_sqlite(path)) as target:
        if _sqlite_rows(target):
            raise BackupError(f"{path} is not empty. Restore into a new place; nothing was changed.")
        with closing(sqlite3.connect(source)) as copy:
            copy.backup(target)
        return _sqlite_rows(target)


def _sqlite(path: str | Path) -> sqlite3.Connection:
    return sqlite3.connect(path, timeout=WAIT)


def _sqlite_rows(link: sqlite3.Connection) -> dict[str, int]:
    listed = link.execute(
        "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name"
    )
    names = [name for (name,) in listed]
    # names of our own tables, which no parameter can stand for
    return {name: link.execute(f'SELECT COUNT(*) FROM "{name}"').fetchone()[0] for name in names}  # noqa: S608


def _postgres_out(target: Path) -> dict[str, int]:
    """pg_dump on an exported snapshot, so that the counts are those of the very rows in the dump."""
    with _postgres(database_settings()) as link, link.cursor() as cursor:
        cursor.execute("BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY")
        cursor.execute("SELECT pg_export_snapshot()")
        snapshot = cursor.fetchone()[0]
        _run_postgres(
            ["pg_dump", "--format=custom", "--no-owner", f"--snapshot={snapshot}", f"--file={target}"],
            database_settings(), named=True,
        )  # fmt: skip
        rows = _postgres_rows(cursor)
        cursor.execute("COMMIT")
    return rows


def _postgres_in(source: Path, database: Mapping[str, Any]) -> dict[str, int]:
    with _postgres(database) as link, link.cursor() as cursor:
        if _postgres_rows(cursor):
            raise BackupError(f"Database {database['NAME']} is not empty. Restore into a new one; nothing was changed.")
    _run_postgres(
        [
            "pg_restore",
            "--no-owner",
            "--exit-on-error",
            "--single-transaction",
            f"--dbname={database['NAME']}",
            str(source),
        ],
        database,
    )
    with _postgres(database) as link, link.cursor() as cursor:
        return _postgres_rows(cursor)


def _postgres_rows(cursor: Any) -> dict[str, int]:
    cursor.execute("SELECT tablename FROM pg_tables WHERE schemaname = 'public' ORDER BY tablename")
    rows = {}
    for (name,) in cursor.fetchall():
        cursor.execute(sql.SQL("SELECT COUNT(*) FROM {}").format(sql.Identifier(name)))
        rows[name] = cursor.fetchone()[0]
    return rows


def _postgres(database: Mapping[str, Any]) -> Any:
    return psycopg.connect(
        host=database["HOST"] or None, port=database["PORT"] or None, user=database["USER"] or None,
        password=database["PASSWORD"] or None, dbname=database["NAME"], autocommit=True,
    )  # fmt: skip


def _run_postgres(command: list[str], database: Mapping[str, Any], named: bool = False) -> None:
    """Run one of PostgreSQL's own commands; the password goes by the environment, which other users cannot read."""
    given = {"PGHOST": "HOST", "PGPORT": "PORT", "PGUSER": "USER", "PGPASSWORD": "PASSWORD"}
    env = os.environ | {name: str(database[key]) for name, key in given.items() if database[key]}
    if named:
        env["PGDATABASE"] = str(database["NAME"])
    try:
        done = subprocess.run(command, env=env, capture_output=True, text=True, check=False)  # noqa: S603
    except FileNotFoundError:
        raise BackupError(f"{command[0]} is not installed; it comes with PostgreSQL's client programs.") from None
    if done.returncode != 0:
        raise BackupError(f"{command[0]}: {done.stderr.strip() or done.returncode}")
