"""One line of a file into the sets it holds, or into the reason why not."""

from athletes.reader.rows.carry import Carry, for_the_lines_below
from athletes.reader.rows.reading import RowReading, read_row

__all__ = ["Carry", "RowReading", "for_the_lines_below", "read_row"]
