"""How much of a file is read; what is beyond is refused with its place. Loads alone, for the opener of workbooks."""

LONGEST_LINE = 1_000_000
LONGEST_CELL = 20_000
MOST_COLUMNS = 300
MOST_ROWS = 300_000
MOST_LINES_IN_A_CELL = 40
MOST_QUESTIONS = 400  # on one page; the lines beyond wait with their reason, and ask when these are answered
