"""One line of a file into the sets it holds, or into the reason why not."""

from .reading import Carry, RowReading, read_row

__all__ = ["Carry", "RowReading", "read_row"]
