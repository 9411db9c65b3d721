"""What was worked out last, kept in memory up to a number of sets; the least used goes first."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Hashable
from threading import Lock
from typing import Generic, TypeVar

K = TypeVar("K", bound=Hashable)
V = TypeVar("V")


class LRUCache(Generic[K, V]):
    """A small store for one process. Who reads it must see for himself whether what is kept still holds."""

    def __init__(self, most: int) -> None:
        self.most = most
        self._held: OrderedDict[K, tuple[V, int]] = OrderedDict()
        self._weight = 0
        self._lock = Lock()

    def get(self, key: K) -> V | None:
        """What is kept under a key, or None."""
        with self._lock:
            if key not in self._held:
                return None
            self._held.move_to_end(key)
            return self._held[key][0]

    def keep(self, key: K, value: V, weight: int) -> None:
        """Keep a value in place of the one before; what was not used for longest makes room."""
        with self._lock:
            self._weight += weight - self._held.pop(key, (None, 0))[1]
            self._held[key] = (value, weight)
            while self._weight > self.most and len(self._held) > 1:
                self._weight -= self._held.popitem(last=False)[1][1]

    def clear(self) -> None:
        """Forget everything."""
        with self._lock:
            self._held.clear()
            self._weight = 0
