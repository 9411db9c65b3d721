"""What stands beside the numbers of a written set: effort, share of a max, plates, made or missed, kit, words."""

import re
from dataclasses import replace

from athletes.reader.cells import lifts
from athletes.reader.cells import set_words as words
from athletes.reader.cells.effort import NUM, RANGE, Effort, is_rpe, read_effort
from athletes.reader.cells.set_numbers import LOAD_ABOVE, SetText
from athletes.reader.notes import ASK, GUESS, Note

UNIT = words.UNIT
EFFORTS = (rf"@?\s*rpe\s*:?\s*{RANGE}", rf"rir\s*:?\s*{RANGE}", rf"{RANGE}\s*rir", rf"{NUM}\s*rpe")
MISSED_AFTER = re.compile(rf"(.*?)(?:\s*x)?[\s(\[]*(?:{words.MISS}|{words.MISS_LETTER})[)\]\s.!]*", re.I)
MISSED_BEFORE = re.compile(rf"(?:{words.MISS}|f(?=\s))[\s:]*(\d.*)", re.I)
SAID_AFTER = re.compile(rf"(.*\d.*?)[\s(\[,:-]*(?:(?P<made>{words.MADE})|(?P<no>{words.NO_LIFT}))[)\]\s.!]*", re.I)
SAID_BEFORE = re.compile(rf"(?:(?P<made>{words.MADE})|(?P<no>{words.NO_LIFT}))[\s:]+(\d.*)", re.I)
SETS_OF_REPS = re.compile(
    rf"(?<![\d.,])(\d{{1,2}})\s*(?:{words.SETS})\s*(?:{words.OF})?\s*(\d{{1,2}})\s*(?:{words.REPS})?(?=x|[^\w.,]|[.,]?$)",
    re.I,
)
REPS_SAID = re.compile(rf"(?<![\d.,])x?(\d{{1,2}})\s*(?:{words.REPS})(?!\w)", re.I)
NO_WORD = re.compile(rf"(?:{UNIT}|[x@f:+/=&-])", re.I)
NUMBERISH = re.compile(rf"(?:[\d.,']++|[OoIl|](?=[\dOoIl|.,])|(?<=\d)[OoIl|]|{UNIT}|[x@f:+/=&-])++", re.I)
JOINING = re.compile(words.worded(words.JOINING), re.I)


def beside_the_numbers(part: str) -> tuple[str, SetText]:
    """The numbers of a part that are load, sets and reps, and everything else it says."""
    rest, found = _without_effort(re.sub(r"[!*]+(?=\s|$)", "", part), SetText())
    rest, found = _without_plates(rest, found)
    rest, found = _without_counts(rest, found)
    rest, found = without_marks(rest, found)
    return _without_words(rest, found)


def _cut(part: str, hit: re.Match[str]) -> str:
    return f"{part[: hit.start()]} {part[hit.end() :]}".strip()


def _without_effort(part: str, found: SetText) -> tuple[str, SetText]:
    for pattern in EFFORTS:
        hit = re.search(rf"(?<![\w]){pattern}", part, re.I)
        if hit:
            effort = read_effort(hit[0])
            return _cut(part, hit), replace(found, effort=effort, notes=found.notes + effort.notes)
    hit = re.search(rf"@?\s*\(?\s*({NUM})\s*%\s*\)?", part)
    if hit:
        return _cut(part, hit), replace(found, percent=hit[0].strip("@ ()"))
    hit = re.search(rf"@\s*{RANGE}(\+*)(?!\s*(?:{UNIT})(?!\w)|\s*%|[\dx]|\s+x)", part, re.I)
    if hit and is_rpe(float(hit[1].replace(",", "."))):
        effort = read_effort(hit[0])
        note = Note(GUESS, f"“{hit[0].strip()}” read as RPE", "at-number", "file")
        return _cut(part, hit), replace(found, effort=effort, notes=(*found.notes, note))
    hit = re.search(r"(?:\s|^)(easy|hard|grinder|\++)\s*$", part, re.I)
    if hit and part[: hit.start()].strip():
        return _cut(part, hit), replace(found, effort=Effort(hit[1]))
    return part, found


def _without_plates(part: str, found: SetText) -> tuple[str, SetText]:
    hit = re.search(
        rf"({NUM})\s*(?:pl|plates?|scheiben|disques|discos)(?=x|\b)(?:\s*\+\s*({NUM})(?!\s*x))?", part, re.I
    )
    if not hit:
        return part, found
    plates = (float(hit[1].replace(",", ".")), float((hit[2] or "0").replace(",", ".")))
    note = Note(ASK, f"“{hit[0].strip()}”: what do the bar and one plate weigh here?", "plates", "file")
    rest = part[: hit.start()] + part[hit.end() :]
    return rest.strip(" x"), replace(found, plates=plates, load_typed=hit[0].strip()[:20], notes=(*found.notes, note))


def _without_counts(part: str, found: SetText) -> tuple[str, SetText]:
    """Sets and reps that are called so leave nothing to guess."""
    hit = SETS_OF_REPS.search(part)
    if hit:
        return _cut(part, hit).strip(" x"), replace(found, count=int(hit[1]), reps=int(hit[2]), single=True)
    hit = REPS_SAID.search(part)
    if hit:
        rest = _cut(part, hit).strip()
        times = re.fullmatch(rf"(\d{{1,2}})\s*(?:{words.SETS}|x)?\s*x?(.*)", rest, re.I)
        if re.search(rf"\d\s*(?:{words.SETS})", rest, re.I) and times:
            return times[2].strip(" x"), replace(found, count=int(times[1]), reps=int(hit[1]), single=True)
        return rest, replace(found, reps=int(hit[1]), single=True)
    return part, found


def without_marks(part: str, found: SetText) -> tuple[str, SetText]:
    """Take out what says that a rep was missed or a lift was good, and keep how many were made."""
    hit = re.search(rf"(\d+)\s*\+\s*(?:{words.MISS}|{words.MISS_LETTER})$", part, re.I)
    if hit:
        made = int(hit[1])
        return f"{part[: hit.start()]}{made + 1}", replace(found, made=made, missed=True)
    hit = re.search(r"(\d+)\s*\((\d+)\)$", part)
    if hit and int(hit[2]) <= int(hit[1]) <= LOAD_ABOVE:
        note = Note(GUESS, f"“{hit[0]}” read as {hit[2]} made of {hit[1]} tried")
        missed = int(hit[2]) < int(hit[1])
        rest = f"{part[: hit.start()]}{hit[1]}"
        return rest, replace(found, made=int(hit[2]), missed=missed, notes=(*found.notes, note))
    return _missed(part, found) or _said(part, found) or _crossed(part, found)


def _missed(part: str, found: SetText) -> tuple[str, SetText] | None:
    hit = MISSED_AFTER.fullmatch(part)
    if hit and (not hit[1] or hit[1][-1].isdigit() or hit[1][-1] in " gGsSbB#kKгГ)"):
        return hit[1].strip(), replace(found, missed=True)
    hit = MISSED_BEFORE.fullmatch(part)
    return (hit[1], replace(found, missed=True)) if hit else None


def _said(part: str, found: SetText) -> tuple[str, SetText] | None:
    hit, at = SAID_AFTER.fullmatch(part), 1
    if hit and hit[1][-1:].isalpha() and not re.search(rf"\d\s*(?:{UNIT})$", hit[1], re.I):
        hit = None
    if hit is None:
        hit, at = SAID_BEFORE.fullmatch(part), 3
    return (hit[at].strip(), replace(found, result="no-lift" if hit["no"] else "made")) if hit else None


def _crossed(part: str, found: SetText) -> tuple[str, SetText]:
    """A cross before a load is a miss; before a small number it only says "times"."""
    hit = re.fullmatch(rf"x\s*(({NUM})\s*({UNIT})?.*)", part, re.I)
    if hit:
        load = bool(hit[3]) or float(hit[2].replace(",", ".")) > LOAD_ABOVE
        return hit[1], replace(found, missed=True) if load else found
    hit = re.fullmatch(r"(\d.*?)\s*x", part, re.I)
    if hit:
        note = Note(ASK, f"“{part}” may be a miss, or “{part}1” cut short", "cut-off", "file")
        return hit[1], replace(found, notes=(*found.notes, note), note="cut-off")
    hit = re.fullmatch(rf"({NUM}\s*(?:{UNIT})?)\s*-", part, re.I)
    if hit:
        note = Note(ASK, f"“{part}” ends with a dash: a miss, or only a dash?", "dash", "file")
        return hit[1], replace(found, notes=(*found.notes, note), note="dash")
    return part, found


def _without_words(part: str, found: SetText) -> tuple[str, SetText]:
    """Kit named beside the numbers, and words that say nothing about which set it was, which become its note."""
    pieces = [p for p in re.split(r"[\s,;()\[\]]+", JOINING.sub(" ", part)) if p]
    typed = [p.strip(".!:*") for p in pieces if not _is_number(p) and p.strip("!*") not in ("", "+", "&", "-")]
    numbers = _without_plus(pieces)
    if not typed:
        return part, found
    tags, left = lifts.read_kit(" ".join(typed))
    said = " ".join(typed)
    if not words.HARMLESS.fullmatch(left) or not any(c.isdigit() for c in part) or lifts.names_a_lift(said):
        return part, found
    if words.A_BAR.search(said):
        return part, found
    kept = said if left.strip() or not tags else ""
    note = Note(GUESS, f"“{said[:40]}” {'kept as a note' if kept else 'read as kit'}")
    return " ".join(numbers), replace(found, tags=tuple(tags.items()), words=kept, notes=(*found.notes, note))


def _without_plus(pieces: list[str]) -> list[str]:
    """The numbers among the pieces; a plus that only leads over to a word is no number's sign."""
    kept = []
    for at, piece in enumerate(pieces):
        leads = piece in ("+", "&", "-") and at + 1 < len(pieces) and not _is_number(pieces[at + 1])
        if _is_number(piece) and not leads:
            kept.append(piece)
    return kept


def _is_number(word: str) -> bool:
    """Whether a word is a number with its unit, or several joined by signs."""
    if not any(c.isdigit() for c in word):
        return NO_WORD.fullmatch(word) is not None
    return NUMBERISH.fullmatch(word) is not None
