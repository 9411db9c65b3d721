"""Demo log-ins have known passwords, so they live only in debug, on the machine itself."""

from django.conf import settings
from django.http import HttpRequest
from django.http.request import split_domain_port

OWN_MACHINE = {"localhost", "127.0.0.1", "[::1]", "::1", ""}


def debug_on_localhost() -> bool:
    """Whether the settings are those of somebody's own machine: debug, and every allowed host is local."""
    hosts = {split_domain_port(host)[0] or host for host in settings.ALLOWED_HOSTS}
    return settings.DEBUG and hosts <= OWN_MACHINE


def demo_may_sign_in(request: HttpRequest | None) -> bool:
    """Whether a demo log-in may be used for this request: debug, and asked from and at the machine itself."""
    if not settings.DEBUG or request is None:
        return False
    asked_at = split_domain_port(request.get_host())[0]
    return asked_at in OWN_MACHINE and request.META.get("REMOTE_ADDR", "") in {"127.0.0.1", "::1"}
