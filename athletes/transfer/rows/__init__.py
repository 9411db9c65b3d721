"""One line of a file into the sets it holds, or into the reason why not."""

from .carry import Carry, for_the_lines_below
from .reading import RowReading, read_row

__all__ = ["Carry", "RowReading", "for_the_lines_below", "read_row"]
