"""The database triggers that move an athlete's revision whenever an input of a profile changes.

Row triggers on SQLite; statement triggers with transition tables on PostgreSQL, where a row trigger would rewrite the
same revision row once for every imported set. They only ever update: a deleted athlete takes its revision along.
They are dropped before and laid again after every `migrate`, because SQLite rebuilds an altered table without its
triggers and refuses to rename a table that a trigger still mentions.
"""

from dataclasses import dataclass

from django.db import connections, transaction


@dataclass(frozen=True)
class Watched:
    """A table and the query that names the athletes of a set of its rows, `{rows}` standing for them."""

    table: str
    athletes: str = "SELECT athlete_id FROM {rows}"


WATCHED = [
    *(
        Watched(f"athletes_{name}")
        for name in (
            "liftset",
            "trainingday",
            "measuringvisit",
            "firstmeeting",
            "stylerecord",
            "healthnote",
            "trial",
            "decision",
            "meetentry",
            "picture",
            "posture",
        )
    ),
    Watched("athletes_athlete", "SELECT id FROM {rows}"),
    Watched("athletes_club", "SELECT a.id FROM athletes_athlete a JOIN {rows} r ON a.club_id = r.id"),
    Watched("athletes_bar", "SELECT a.id FROM athletes_athlete a JOIN {rows} r ON a.club_id = r.club_id"),
    Watched(
        "athletes_measurement",
        "SELECT v.athlete_id FROM athletes_measuringvisit v JOIN {rows} r ON v.id = r.visit_id",
    ),
    Watched("athletes_meet", "SELECT e.athlete_id FROM athletes_meetentry e JOIN {rows} r ON e.meet_id = r.id"),
    Watched(
        "athletes_settingoverride",
        "SELECT a.id FROM athletes_athlete a JOIN {rows} r"
        " ON a.id = r.athlete_id OR (r.athlete_id IS NULL AND a.club_id = r.club_id)",
    ),
]
EVENTS = {"INSERT": "NEW", "UPDATE": "NEW", "DELETE": "OLD"}
BUMP = "UPDATE athletes_revision SET number = number + 1 WHERE athlete_id IN ({athletes})"
HAS = {
    "athletes_athlete": ("id",),
    "athletes_club": ("id",),
    "athletes_bar": ("club_id",),
    "athletes_measurement": ("visit_id",),
    "athletes_meet": ("id",),
    "athletes_settingoverride": ("athlete_id", "club_id"),
}


def sqlite_triggers() -> dict[str, tuple[str, str]]:
    """Trigger name -> its table and the statement that makes it, for SQLite."""
    made = {
        "revision_starts": (
            "athletes_athlete",
            "CREATE TRIGGER revision_starts AFTER INSERT ON athletes_athlete BEGIN "
            "INSERT OR IGNORE INTO athletes_revision (athlete_id, number) VALUES (NEW.id, 0); END",
        )
    }
    for watched in WATCHED:
        for event, side in EVENTS.items():
            columns = ", ".join(f"{side}.{c} AS {c}" for c in HAS.get(watched.table, ("athlete_id",)))
            bump = BUMP.format(athletes=watched.athletes.format(rows=f"(SELECT {columns})"))
            name = f"revision_{watched.table}_{event.lower()}"
            made[name] = (
                watched.table,
                f"CREATE TRIGGER {name} AFTER {event} ON {watched.table} BEGIN {bump}; END",
            )
    return made


def postgres_functions() -> list[str]:
    """The functions that PostgreSQL's triggers call."""
    body = (
        "CREATE OR REPLACE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN {does}; RETURN NULL; END $$"
    )
    starts = "INSERT INTO athletes_revision (athlete_id, number) SELECT id, 0 FROM changed ON CONFLICT DO NOTHING"
    made = [body.format(name="revision_starts", does=starts)]
    for watched in WATCHED:
        bump = BUMP.format(athletes=watched.athletes.format(rows="changed"))
        made.append(body.format(name=f"revision_{watched.table}", does=bump))
    return made


def postgres_triggers() -> dict[str, tuple[str, str]]:
    """Trigger name -> its table and the statement that makes it, for PostgreSQL; names sort the first one first."""
    each = "FOR EACH STATEMENT EXECUTE FUNCTION"
    made = {
        "revision_a_starts": (
            "athletes_athlete",
            "CREATE TRIGGER revision_a_starts AFTER INSERT ON athletes_athlete "
            f"REFERENCING NEW TABLE AS changed {each} revision_starts()",
        )
    }
    for watched in WATCHED:
        for event, side in EVENTS.items():
            name = f"revision_{watched.table}_{event.lower()}"
            made[name] = (
                watched.table,
                f"CREATE TRIGGER {name} AFTER {event} ON {watched.table} "
                f"REFERENCING {side} TABLE AS changed {each} revision_{watched.table}()",
            )
    return made


LAID = {
    "sqlite": "SELECT name, tbl_name FROM sqlite_master WHERE type = 'trigger' AND name LIKE 'revision!_%' ESCAPE '!'",
    "postgresql": "SELECT tgname, tgrelid::regclass::text FROM pg_trigger WHERE tgname LIKE 'revision!_%' ESCAPE '!'",
}


def drop_triggers(using: str = "default", **_: object) -> None:
    """Take the triggers away before tables are altered."""
    with connections[using].cursor() as cursor:
        vendor = connections[using].vendor
        cursor.execute(LAID[vendor])
        for name, table in cursor.fetchall():
            on = f" ON {table}" if vendor == "postgresql" else ""
            cursor.execute(f"DROP TRIGGER {name}{on}")


def lay_triggers(using: str = "default", **_: object) -> None:
    """Lay every trigger that is missing, and give a revision to athletes that have none."""
    connection = connections[using]
    tables = set(connection.introspection.table_names())
    if not {w.table for w in WATCHED} | {"athletes_revision"} <= tables:
        return
    wanted = sqlite_triggers() if connection.vendor == "sqlite" else postgres_triggers()
    with transaction.atomic(using), connection.cursor() as cursor:
        cursor.execute(LAID[connection.vendor])
        missing = wanted.keys() - {name for name, _ in cursor.fetchall()}
        if missing and connection.vendor == "postgresql":
            for statement in postgres_functions():
                cursor.execute(statement)
        for name in sorted(missing):
            cursor.execute(wanted[name][1])
        if missing:
            cursor.execute(
                "INSERT INTO athletes_revision (athlete_id, number) SELECT id, 0 FROM athletes_athlete"
                " WHERE id NOT IN (SELECT athlete_id FROM athletes_revision)"
            )
