"""Why a whole file is turned away, said with line and column where there are any."""


class Refused(Exception):
    """The file cannot be read as a log; the message says what and where."""
