"""Counting how often something was asked, so that mails cannot be sent to somebody without end."""

import hashlib

from django.core.cache import cache


def too_often(what: str, subject: str, limit: int, seconds: int) -> bool:
    """Count one more request about `subject`; True once it has been asked more than `limit` times in `seconds`."""
    key = f"often-{what}-{hashlib.sha256(subject.encode()).hexdigest()}"
    cache.add(key, 0, seconds)
    return cache.incr(key) > limit
