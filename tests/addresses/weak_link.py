"""Addresses of weak_link: what each role gets."""

from tests.addresses.frame import Row

ADDRESSES: dict[str, Row] = {}
