"""Addresses of people: what each role gets."""

from tests.addresses.frame import Row

ADDRESSES: dict[str, Row] = {}
