"""Signed-in browsers: remember each one, end one, end all."""

from importlib import import_module

from django.conf import settings
from django.http import HttpRequest

from athletes.models import SignInSession, User


def begin_session(request: HttpRequest, user: User) -> SignInSession:
    """Remember the browser that has just signed in; call it after `login`."""
    row, _ = SignInSession.objects.update_or_create(
        session_key=request.session.session_key,
        defaults={"user": user, "agent": browser_words(request.headers.get("User-Agent", ""))},
    )
    return row


def keep_session(request: HttpRequest, old_key: str | None) -> None:
    """Follow a session whose key was changed under it, as a change of password does."""
    SignInSession.objects.filter(session_key=old_key).update(session_key=request.session.session_key)


def end_session(row: SignInSession) -> None:
    """Sign that browser out."""
    import_module(settings.SESSION_ENGINE).SessionStore(row.session_key).delete()
    row.delete()


def end_sessions(user: User, keep: str | None = None) -> int:
    """Sign the user out of every browser, or of every other one when `keep` is the session key to keep."""
    rows = list(user.sign_ins.exclude(session_key=keep))
    for row in rows:
        end_session(row)
    return len(rows)


BROWSERS = (("Firefox/", "Firefox"), ("Edg/", "Edge"), ("Chrome/", "Chrome"), ("Safari/", "Safari"))
SYSTEMS = (
    ("iPhone", "iPhone"),
    ("iPad", "iPad"),
    ("Android", "Android"),
    ("Windows", "Windows"),
    ("Mac OS X", "macOS"),
    ("Linux", "Linux"),
)


def browser_words(agent: str) -> str:
    """A browser's long name in three words; only these are kept."""
    browser = next((word for mark, word in BROWSERS if mark in agent), "a browser")
    system = next((word for mark, word in SYSTEMS if mark in agent), "")
    return f"{browser} on {system}" if system else browser
