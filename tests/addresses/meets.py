"""Meets."""

from tests.addresses.frame import CLUB_THING, COACH_ONLY, NO_VERB, SEEN, WORK_IN_CLUB, WORKERS_ONLY, row

MEET, ENTRY = {"pk": "meet"}, {"pk": "meet", "entry": "entry"}
ADDRESSES = {
    "meets": row({}, get=WORK_IN_CLUB, post=NO_VERB),
    "meet-new": row({}, get=WORK_IN_CLUB, post=WORK_IN_CLUB),
    "meet": row(MEET, get=CLUB_THING, post=NO_VERB),
    "meet-edit": row(MEET, get=CLUB_THING, post=CLUB_THING),
    "meet-enter": row(MEET, get=CLUB_THING, post=CLUB_THING),
    "meet-board": row(MEET, get=CLUB_THING, post=NO_VERB),
    "meet-state": row(MEET, get=CLUB_THING, post=NO_VERB),
    "meet-entry": row(ENTRY, get=SEEN, post=NO_VERB),
    "meet-entry-edit": row(ENTRY, get=WORKERS_ONLY, post=WORKERS_ONLY),
    "meet-withdraw": row(ENTRY, get=NO_VERB, post=WORKERS_ONLY),
    "meet-plan-keep": row(ENTRY, get=NO_VERB, post=WORKERS_ONLY),
    "meet-attempt": row(ENTRY, get=NO_VERB, post=WORKERS_ONLY),
    "meet-to-log": row(ENTRY, get=NO_VERB, post=COACH_ONLY),
    "athlete-meets": row({"pk": "athlete"}, get=SEEN, post=NO_VERB),
}
