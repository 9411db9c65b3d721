"""The service worker, served from the root so that it may keep the board, with the list of files it keeps."""

import hashlib
import json
from functools import lru_cache
from pathlib import Path

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.contrib.staticfiles import finders
from django.http import HttpRequest, HttpResponse
from django.templatetags.static import static
from django.views.decorators.http import require_safe

KEPT = [
    "web/base.css",
    "web/tokens.css",
    "floor/floor.css",
    "web/icon.svg",
    "web/drafts.js",
    "web/nav.js",
    "meets/meet.css",
    *(f"meets/{name}.js" for name in ("board", "card", "main", "replan", "rules")),
    *(
        f"floor/{name}.js"
        for name in ("board", "main", "panel", "queue", "sync", "clock", "plates", "leaving", "lock", "locked")
    ),
]


@login_not_required
@require_safe
def service_worker(request: HttpRequest) -> HttpResponse:
    script = worker_script() if not settings.DEBUG else worker_script.__wrapped__()
    answer = HttpResponse(script, content_type="text/javascript; charset=utf-8")
    answer["Cache-Control"] = "no-cache"
    answer["Service-Worker-Allowed"] = "/"
    return answer


@lru_cache(maxsize=1)
def worker_script() -> str:
    """The script with the addresses it keeps; the version changes with any of the files."""
    files = [Path(found) for name in [*KEPT, "floor/sw.js"] if (found := finders.find(name))]
    version = hashlib.sha256(b"".join(path.read_bytes() for path in files)).hexdigest()[:16]
    addresses = sorted(static(name) for name in KEPT)
    head = f"const VERSION = {json.dumps(version)};\nconst KEPT = {json.dumps(addresses)};\n"
    return head + files[-1].read_text()
