"""Text tables of any usual make: how a file is written, and its records one by one."""

from .encodings import ENCODINGS, detect_encoding
from .format import SEPARATORS, FileFormat, detect_format
from .records import Record, records

__all__ = ["ENCODINGS", "SEPARATORS", "FileFormat", "Record", "detect_encoding", "detect_format", "records"]
