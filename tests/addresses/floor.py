"""Addresses of the floor: the board, the plans, and what the board's scripts talk to."""

from tests.addresses.frame import NO_VERB, PUBLIC, SEEN, WORK_IN_CLUB, WORKERS_ONLY, row

ADDRESSES = {
    "tonight": row({}, get=WORK_IN_CLUB, post=WORK_IN_CLUB),
    "tonight-print": row({}, get=WORK_IN_CLUB, post=NO_VERB),
    "plan": row({"pk": "athlete"}, get=SEEN, post=WORKERS_ONLY),
    "plan-print": row({"pk": "athlete"}, get=SEEN, post=NO_VERB),
    "floor-state": row({}, get=WORK_IN_CLUB, post=NO_VERB),
    "floor-token": row({}, get=WORK_IN_CLUB, post=NO_VERB),
    "floor-entries": row({}, get=NO_VERB, post=WORK_IN_CLUB),
    "service-worker": row({}, get=PUBLIC, post=NO_VERB),
}
