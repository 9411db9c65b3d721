"""What holds for every answer: headers, how long a body may be, a sign-in first, no copies, never an empty page."""

import logging
from collections.abc import Callable
from typing import Any

from django.conf import settings
from django.contrib.auth.middleware import LoginRequiredMiddleware
from django.contrib.sessions.exceptions import SessionInterrupted
from django.contrib.sessions.middleware import SessionMiddleware
from django.core.exceptions import DisallowedHost
from django.core.handlers.exception import response_for_exception
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.middleware.gzip import GZipMiddleware
from django.middleware.security import SecurityMiddleware
from django.shortcuts import redirect

from athletes.access.audit import write_refused
from athletes.access.permissions import GuardianNeeded
from athletes.accounts import saved_form as held
from athletes.web import errors

Answer = Callable[[HttpRequest], HttpResponse]
logger = logging.getLogger(__name__)
DRAINED = 64 * 1024 * 1024


class StrictHeadersMiddleware:
    """Stands outside the rest, so that a refused host, too, is answered with every header."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response
        self.security = SecurityMiddleware(get_response)

    def __call__(self, request: HttpRequest) -> HttpResponse:
        try:
            request.get_host()
        except DisallowedHost as refused:
            response = response_for_exception(request, refused)
        else:
            response = self.get_response(request)
        response.headers.setdefault("Permissions-Policy", "camera=(), microphone=(), geolocation=()")
        return self.security.process_response(request, response)


class CompressMiddleware(GZipMiddleware):
    """Compresses text; pictures and archives are compressed already. docs/security.md weighs it against BREACH."""

    TEXT = ("text/", "application/json", "application/manifest+json", "image/svg+xml")

    def process_response(self, request: HttpRequest, response: HttpResponseBase) -> HttpResponseBase:
        kind = response.headers.get("Content-Type", "")
        return super().process_response(request, response) if kind.startswith(self.TEXT) else response


class ReadingSessionMiddleware(SessionMiddleware):
    """A page that only reads is shown although what its visit would have kept in the session could not be written."""

    def process_response(self, request: HttpRequest, response: HttpResponse) -> HttpResponse:
        try:
            return super().process_response(request, response)
        except SessionInterrupted:
            if request.method not in ("GET", "HEAD"):
                raise
            return response


class BodyLimitMiddleware:
    """Refuses a body that is too long before any of it is kept; views that watch their own length say so."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_view(self, request: HttpRequest, view: Callable, args: tuple, kwargs: dict) -> HttpResponse | None:
        length = announced(request)
        if length <= settings.BODY_MAX_BYTES or getattr(view, "watches_its_length", False):
            return None
        if length <= DRAINED:
            drain(request)
        return errors.too_large(request)


def announced(request: HttpRequest) -> int:
    text = request.META.get("CONTENT_LENGTH") or "0"
    return int(text) if text.isascii() and text.isdecimal() else 0


def drain(request: HttpRequest) -> None:
    """Read what is still coming and forget it: browsers show an answer only after they have sent everything."""
    try:
        while request.read(1 << 16):
            pass
    except OSError:  # the visitor went away
        return


class SignInFirstMiddleware(LoginRequiredMiddleware):
    """Strangers go to the sign-in first; what a form sent after its session was over goes there with them."""

    # Django promises a redirect; ours may be the page of the sign-in itself.
    def handle_no_permission(self, request: HttpRequest, view_func: Callable[..., Any]) -> HttpResponse:  # type: ignore[override]
        kept = None if getattr(view_func, "csrf_exempt", False) else held.held_from(request)
        return held.sign_in_page(request, kept) if kept else super().handle_no_permission(request, view_func)


class PrivatePagesMiddleware:
    """Answers that name a person are never kept by a cache."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        if request.user.is_authenticated or response.status_code >= 400:
            response.headers.setdefault("Cache-Control", "private, no-store")
        return response


class KnownErrorsMiddleware:
    """Two errors with an answer of their own: a change the database did not take, a minor without a guardian."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        if isinstance(error, GuardianNeeded):
            return redirect("guardian-needed")
        if not write_refused(error):
            return None
        logger.error("The database takes no writes", exc_info=error)
        return errors.not_written(request)


class WordsForErrorsMiddleware:
    """An error that would be an empty page gets one of ours; status and headers stay."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        bare = response.status_code >= 400 and not response.streaming and not response.content
        return errors.with_words(request, response) if bare and request.accepts("text/html") else response
