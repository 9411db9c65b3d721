"""Refusals at start-up."""

import re
from collections.abc import Sequence
from typing import Any

from django.conf import settings
from django.core.checks import CheckMessage, Error, Tags, register
from django.db import DatabaseError, connections
from django.db.utils import ConnectionHandler

from athletes.access.client_address import debug_on_localhost
from athletes.privacy.erasure import still_here


@register(Tags.security)
def no_demo_log_ins_abroad(**kwargs: Any) -> list[CheckMessage]:
    """E001: demo log-ins have a known password and may exist only in debug on localhost."""
    if debug_on_localhost():
        return []
    return [
        Error(
            "Demo log-ins with a known password are in this database.",
            hint="Remove them with manage.py load_demo --remove, or use another database.",
            id="athletes.E001",
        )
        for alias in connections
        if holds_demo_users(connections, alias)
    ]


def holds_demo_users(handler: ConnectionHandler, alias: str) -> bool:
    """Whether the database has demo log-ins; one that is not migrated or not reachable has none to open."""
    try:
        with handler[alias].cursor() as cursor:
            cursor.execute("SELECT 1 FROM athletes_user WHERE is_demo = %s LIMIT 1", [True])
            return cursor.fetchone() is not None
    except DatabaseError:
        return False


@register(Tags.security)
def mailed_links_have_an_address(**kwargs: Any) -> list[CheckMessage]:
    """E003: where any host name is answered, a request could make mailed links lead elsewhere."""
    if settings.SITE_ADDRESS and not re.fullmatch(r"https?://[^/\s]+", settings.SITE_ADDRESS):
        return [
            Error("STANCEBOOK_ADDRESS is no address.", hint="Such as https://stancebook.example", id="athletes.E004")
        ]
    told = settings.DEBUG or settings.SITE_ADDRESS or not any(h[:1] in "*." for h in settings.ALLOWED_HOSTS)
    hint = "Set STANCEBOOK_ADDRESS, such as https://stancebook.example, or name the hosts one by one."
    said = "Links in mails would begin with whatever host a request names."
    return [] if told else [Error(said, hint=hint, id="athletes.E003")]


@register(Tags.database)
def nobody_erased_is_back(databases: Sequence[str] | None = None, **kwargs: Any) -> list[CheckMessage]:
    """E002: a restored backup has brought back somebody who was erased."""
    if not databases or "default" not in databases:
        return []
    try:
        count = still_here()
    except DatabaseError:  # not migrated yet: nobody is in it
        return []
    hint = "Run manage.py apply_erasures."
    return (
        [Error(f"{count} who were erased are in this database again.", hint=hint, id="athletes.E002")] if count else []
    )
