"""Columns that are lined up with spaces, as in a printed list."""

MOST = 60
NARROWEST = 2


def cuts_of(head: list[str]) -> list[int]:
    """Where the columns begin: after gaps of two spaces and more that every line has; empty when there are none."""
    lines = [line.rstrip() for line in head if "  " in line.strip()]
    if len(lines) < 2 or any("\t" in line for line in lines):
        return []
    width = max(map(len, lines))
    empty = [all(i >= len(line) or line[i] == " " for line in lines) for i in range(width)]
    cuts = [i for i in range(NARROWEST, width) if not empty[i] and all(empty[i - NARROWEST : i])]
    return cuts if cuts and len(cuts) <= MOST else []


def cells_of(line: str, cuts: list[int]) -> list[str]:
    """The cells of a line; a line that does not keep to the columns stays one cell."""
    line = line.rstrip("\r\n")
    if any(len(line) > cut and line[cut - 1] != " " for cut in cuts):
        return [line]
    ends = [*cuts[1:], len(line)] if cuts else []
    return [line[: cuts[0]].strip(), *(line[a:b].strip() for a, b in zip(cuts, ends, strict=True))]
