"""Reading a training log from a text table, without Django: `read(source, context)` gives its lines one by one.

The pages of an import and commands use the same function. A workbook is turned into a text table first
(`athletes.reader.file.sheet`).
"""

from athletes.reader.table import Context, Line, Table, read

__all__ = ["Context", "Line", "Table", "read"]
