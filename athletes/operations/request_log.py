"""One line of JSON for every request and every warning, without personal data.

A request is named by a random number, which the answer carries in `X-Request-ID` as well, and by the pattern of its
address (`athletes/<int:pk>/`), never by the address itself. An error is told by its kind and the places it went
through; its own text is left out, because a database quotes the row it refuses.
"""

import json
import logging
import re
import time
import traceback
from collections.abc import Callable
from contextvars import ContextVar
from datetime import UTC, datetime
from uuid import uuid4

from django.conf import settings
from django.http import HttpRequest, HttpResponse

logger = logging.getLogger("stancebook.requests")
current: ContextVar[str] = ContextVar("request_id", default="")
GIVEN = re.compile(r"[A-Za-z0-9-]{8,64}")  # what a proxy of one's own may hand on as a request's number


class RequestLogMiddleware:
    """Gives each request its number, says it in the answer and logs one line when the answer is ready."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        number = request_number(request)
        token, begin = current.set(number), time.perf_counter()
        try:
            response = self.get_response(request)
            response.headers["X-Request-ID"] = number
            logger.info("request", extra={"line": line_of(request, response, time.perf_counter() - begin)})
        finally:
            current.reset(token)
        return response


def request_number(request: HttpRequest) -> str:
    """The number a proxy of one's own gave, else a new one; without own proxies (setting) no header is believed."""
    given = request.headers.get("X-Request-ID", "") if settings.PROXIES else ""
    return given if GIVEN.fullmatch(given) else uuid4().hex


def line_of(request: HttpRequest, response: HttpResponse, seconds: float) -> dict[str, object]:
    """What the log says of one request: method, pattern of the address, status, milliseconds, bytes."""
    match = request.resolver_match
    size = None if response.streaming else len(response.content)
    return {
        "method": request.method if request.method in ("GET", "HEAD", "POST", "OPTIONS") else "other",
        "route": match.route if match else "",
        "status": response.status_code,
        "ms": round(seconds * 1000, 1),
        "bytes": size,
    }


class JsonLines(logging.Formatter):
    """A record as one line of JSON: time (UTC), level, logger, number of the request, its line or the text."""

    def format(self, record: logging.LogRecord) -> str:
        told: dict[str, object] = {
            "time": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname.lower(),
            "logger": record.name,
            "request": current.get(),
        }
        line = getattr(record, "line", None)
        told |= line if isinstance(line, dict) else {"text": self.text_of(record)}
        if record.exc_info and record.exc_info[1] is not None:
            told |= error_of(record.exc_info[1])
        return json.dumps(told, ensure_ascii=False)

    @staticmethod
    def text_of(record: logging.LogRecord) -> str:
        """The words of a record; of Django's own about a request without the address, which it names last."""
        if record.name.startswith(("django.request", "django.security")) and isinstance(record.args, tuple):
            return str(record.msg) % (*record.args[:-1], "-") if record.args else str(record.msg)
        return record.getMessage()


def error_of(error: BaseException) -> dict[str, object]:
    """Kind of an error and of what led to it, and the places it went through, outermost first."""
    kinds: list[str] = []
    links: BaseException | None = error
    while links is not None and len(kinds) < 5:
        kinds.append(type(links).__name__)
        links = links.__cause__ or links.__context__
    frames = traceback.extract_tb(error.__traceback__)
    return {"error": kinds, "places": [f"{frame.filename}:{frame.lineno} {frame.name}" for frame in frames]}
