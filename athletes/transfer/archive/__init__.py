"""Everything about one athlete in one file, out of one club and into another."""

from .reader import Copy, read_copy
from .taking import take_copy
from .writer import write_copy

__all__ = ["Copy", "read_copy", "take_copy", "write_copy"]
