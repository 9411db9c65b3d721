"""Everything about one athlete in one file, out of one club and into another."""

from athletes.exporting.archive_reader import Copy, read_copy
from athletes.exporting.archive_taking import take_copy
from athletes.exporting.archive_writer import write_copy

__all__ = ["Copy", "read_copy", "take_copy", "write_copy"]
