"""Text tables of any usual make: how a file is written, and its records one by one."""

from athletes.reader.file.encodings import ENCODINGS, detect_encoding
from athletes.reader.file.format import SEPARATORS, FileFormat, detect_format
from athletes.reader.file.records import Record, records

__all__ = ["ENCODINGS", "SEPARATORS", "FileFormat", "Record", "detect_encoding", "detect_format", "records"]
