"""Which network address a request comes from, for counting tries."""

from ipaddress import IPv6Address, IPv6Network, ip_address

from django.conf import settings
from django.http import HttpRequest
from django.http.request import split_domain_port


def client_address(request: HttpRequest) -> str | None:
    """The visitor's network address, an IPv6 one as its network of 64 bits, since one household has all of that.

    A header anybody can send is believed only where settings.PROXIES says that proxies of our own stand in front:
    each of them adds the address it saw to the end of X-Forwarded-For, so ours are counted from the end.
    """
    return narrowed(forwarded(request) or request.META.get("REMOTE_ADDR", ""))


def forwarded(request: HttpRequest) -> str:
    """What the outermost of our own proxies saw; empty when there is none, or when the header is not theirs."""
    told = [part.strip() for part in request.META.get("HTTP_X_FORWARDED_FOR", "").split(",")]
    if not settings.PROXIES or len(told) < settings.PROXIES:
        return ""
    seen = told[-settings.PROXIES]
    return seen if narrowed(seen) else ""


def narrowed(text: str) -> str | None:
    try:
        address = ip_address(text)
    except ValueError:
        return None
    if isinstance(address, IPv6Address):
        if address.ipv4_mapped:
            return str(address.ipv4_mapped)
        return str(IPv6Network((int(address), 64), strict=False).network_address)
    return str(address)


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
