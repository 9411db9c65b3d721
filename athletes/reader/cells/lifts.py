"""The reader of lift names: which lift, style, start, bar and kit a name stands for."""

import re
from functools import lru_cache
from typing import NamedTuple

from athletes.reader.cells import lift_words as words
from athletes.reader.cells.numbers import tidy
from athletes.reader.notes import ASK, GUESS, SKIP, Note, Notes

LONGEST = 300  # letters of a lift's name or a kit list
CM_PER_INCH = 2.54  # exact: International Yard and Pound Agreement, 1959
ESTIMATE = re.compile(
    r"\b(?:e1rm|est\.?|estimated|calc\.?|calculated|projected|theoretical|gesch[aä]tzt|estim[eé])\b|1rm", re.I
)
ESTIMATED = re.compile(
    r"[\s,;:=~(\[]*(?<!\w)(?:e1rm|(?:est|calc|gesch[aä]tzt|estim[eé])\w*\.?(?:\s*1rm)?|1rm)\s*[:=~]?\s*"
    r"\d+(?:[.,]\d+)?\s*(?:kgs?|lbs?)?\s*[)\]]?",
    re.I,
)
DEADLIFT = re.compile(rf"(?<![\w])(?:{words.DEADLIFT})(?![\w])", re.I)
RAISED = re.compile(r"\b(?:blocks?|d[eé]ficits?|pins?|rack|mats?)\b", re.I)
HEIGHT = re.compile(words.LENGTH, re.I)
TABLES = {
    "start": words.compiled(words.STARTS),
    "bar": words.compiled(words.BARS),
    "lift": words.compiled(words.LIFTS),
    "style": words.compiled(words.STYLES),
    "kit": words.compiled(words.KIT),
}


class LiftName(NamedTuple):
    """Columns of a set that the name settles, and the typed name where it says more than the columns can."""

    tags: tuple[tuple[str, object], ...] = ()
    notes: Notes = ()
    known: bool = True


@lru_cache(maxsize=5_000)
def read_lift(text: str) -> LiftName:
    """What a lift's name says; a name with words nobody knows is asked about, never guessed."""
    typed = tidy(text[: LONGEST + 1])
    if len(typed) > LONGEST:
        return _unknown(typed)
    if ESTIMATE.search(typed):
        return LiftName(notes=(Note(SKIP, f"“{typed[:40]}”: an estimate is not a lift"),))
    rest, tags, notes = _take_all(typed.casefold())
    if "start" in tags and "start_cm" not in tags:
        rest = _late_height(rest, tags, notes)
    if "lift" not in tags:
        rest, found = DEADLIFT.subn(" ", rest)
        if not found and not ({"start", "style", "bar_kind"} & tags.keys()):
            return _unknown(typed)
        tags["lift"] = "deadlift"
    left = [w for w in re.findall(r"[^\s,;()\[\]+&/–-]+", rest) if w not in words.FILLER and w.strip(".:'\"")]
    if left:
        return _unknown(typed)
    return LiftName(_columns(tags, typed), tuple(notes))


@lru_cache(maxsize=5_000)
def read_kit(text: str) -> tuple[dict[str, object], str]:
    """Kit, grip and bar named in a note or a kit column, and what is left of the text."""
    rest, tags, _ = _take_all(tidy(text[:LONGEST]).casefold(), ("bar", "kit"))
    rest += text[LONGEST:]
    left = " ".join(w for w in rest.split() if w.strip(",.;:+&()/") and w not in words.FILLER)
    return {
        k: v for k, v in tags.items() if k in ("straps", "belt", "suit", "grip", "bar_kind", "dead_stop", "paused")
    }, left


def without_estimate(text: str) -> str:
    """The text without the part that gives an estimated max."""
    return ESTIMATED.sub(" ", text[:LONGEST]).strip(" ,;:")


def names_a_lift(text: str) -> bool:
    """Whether a text names a lift, a style, a start or a bar, which change what a set is compared with."""
    folded = tidy(text[:LONGEST]).casefold()
    tables = (TABLES[kind] for kind in ("start", "bar", "lift", "style"))
    return bool(DEADLIFT.search(folded)) or any(pattern.search(folded) for table in tables for pattern, _ in table)


@lru_cache(maxsize=5_000)
def read_start(text: str) -> dict[str, object]:
    """The block, pins or deficit a note names; empty for none and for words that may mean anything."""
    folded = tidy(text[:LONGEST]).casefold()
    rest, tags, _ = _take_all(folded, ("start",)) if RAISED.search(folded) else ("", {}, [])
    if tags.get("start") in (None, "floor"):
        return {}
    if "start_cm" not in tags:
        _late_height(rest, tags, [])
    return tags


def _unknown(typed: str) -> LiftName:
    note = Note(ASK, f"which lift is “{typed[:60]}”?", "lift", typed.casefold()[:110])
    return LiftName(notes=(note,), known=False)


def _take_all(
    rest: str, kinds: tuple[str, ...] = ("start", "bar", "lift", "style", "kit")
) -> tuple[str, dict, list[Note]]:
    tags: dict[str, object] = {}
    notes: list[Note] = []
    for kind in kinds:
        for pattern, sets in TABLES[kind]:
            found = pattern.search(rest)
            if not found or (kind != "kit" and sets.keys() & tags.keys()):
                continue
            rest = f"{rest[: found.start()]} {rest[found.end() :]}"
            if not (kind == "kit" and sets.keys() & tags.keys()):
                tags.update(_settled(found, sets))
            notes += _asked(found, sets)
    return rest, tags, notes


def _late_height(rest: str, tags: dict[str, object], notes: list[Note]) -> str:
    """A height that stands apart from the word block or deficit: "deficit dl 5 cm"."""
    found = HEIGHT.search(rest)
    if not found:
        return rest
    tags |= _settled(found, {})
    notes[:] = [note for note in notes if "no height" not in note.reason]
    return f"{rest[: found.start()]} {rest[found.end() :]}"


def _settled(found: re.Match[str], sets: dict[str, object]) -> dict[str, object]:
    tags = {k: v for k, v in sets.items() if k not in ("no_height", "ask_bar")}
    groups = found.groupdict()
    height = groups.get("height") or groups.get("height2")
    if height:
        mark = groups.get("length_unit") or groups.get("length_unit2") or ""
        inches = mark[0] in "\"'”″i"
        number = float(height.replace(",", "."))
        tags |= {"start_typed": height, "start_unit": "in" if inches else "cm"}
        tags["start_cm"] = number * CM_PER_INCH if inches else number / 10 if mark == "mm" else number
        if mark == "mm":
            tags["start_typed"] = f"{number / 10:g}"
    return tags


def _asked(found: re.Match[str], sets: dict[str, object]) -> list[Note]:
    if sets.get("no_height"):
        said = (
            f"“{found[0].strip()}” has no height: kept as a {sets['start']} of unknown height, apart from "
            f"the floor best"
        )
        return [Note(GUESS, said)]
    if "ask_bar" in sets:
        word = str(sets["ask_bar"]) if sets["ask_bar"] != "as typed" else found[0].strip()
        return [Note(GUESS, f"which bar is “{found[0].strip()}”? kept as not noted until answered", "bar", word)]
    return []


def _columns(tags: dict[str, object], typed: str) -> tuple[tuple[str, object], ...]:
    if tags.pop("called", None):
        tags["note"] = typed
    if tags.get("lift") != "deadlift":
        tags.pop("style", None)
    return tuple(tags.items())
