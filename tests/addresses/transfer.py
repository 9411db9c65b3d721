"""Addresses of what comes in and goes out: imports, exports, a copy, the hand-over."""

from tests.addresses.frame import (
    CLUB_THING,
    COACH_AND_SELF,
    DECIDE_IN_CLUB,
    NO_VERB,
    OK,
    WORK_IN_CLUB,
    WORKERS_ONLY,
    expect,
    row,
)

BATCH = {"pk": "batch"}
ATHLETE = {"pk": "athlete"}
FILE = {"uid": "file"}
ASKER_ONLY = expect(owner=OK)

ADDRESSES = {
    "imports": row({}, get=WORK_IN_CLUB, post=NO_VERB),
    "import-new": row({}, get=NO_VERB, post=WORK_IN_CLUB),
    "archive-import": row({}, get=DECIDE_IN_CLUB, post=DECIDE_IN_CLUB),
    "import": row(BATCH, get=CLUB_THING, post=NO_VERB),
    "import-step": row(BATCH, get=NO_VERB, post=CLUB_THING),
    "import-answers": row(BATCH, get=NO_VERB, post=CLUB_THING),
    "import-make": row(BATCH, get=NO_VERB, post=CLUB_THING),
    "import-columns": row(BATCH, get=NO_VERB, post=CLUB_THING),
    "import-choices": row(BATCH, get=NO_VERB, post=CLUB_THING),
    "import-line": row({"pk": "batch", "number": "=1"}, get=CLUB_THING, post=CLUB_THING),
    "import-take": row(BATCH, get=NO_VERB, post=CLUB_THING),
    "import-undo": row(BATCH, get=NO_VERB, post=CLUB_THING),
    "import-drop": row(BATCH, get=NO_VERB, post=CLUB_THING),
    "exports": row({}, get=DECIDE_IN_CLUB, post=NO_VERB),
    "export-squad": row({}, get=NO_VERB, post=DECIDE_IN_CLUB),
    "export-athlete": row(ATHLETE, get=COACH_AND_SELF, post=COACH_AND_SELF),
    "prepared-file": row(FILE, get=ASKER_ONLY, post=NO_VERB),
    "take-file": row(FILE, get=ASKER_ONLY, post=NO_VERB),
    "hand-over": row(ATHLETE, get=WORKERS_ONLY, post=NO_VERB),
}
