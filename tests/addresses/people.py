"""Addresses of people: the list, who somebody is, measuring, health."""

from tests.addresses.frame import (
    COACH_AND_SELF,
    COACH_ONLY,
    DECIDE_IN_CLUB,
    NO_VERB,
    SEEN,
    SIGNED_IN,
    WORK_IN_CLUB,
    WORKERS_ONLY,
    row,
)

ATHLETE = {"pk": "athlete"}

ADDRESSES = {
    "people": row({}, get=WORK_IN_CLUB, post=NO_VERB),
    "start": row({}, get=DECIDE_IN_CLUB, post=NO_VERB),
    "roster": row({}, get=DECIDE_IN_CLUB, post=DECIDE_IN_CLUB),
    "athlete-new": row({}, get=WORK_IN_CLUB, post=WORK_IN_CLUB),
    "profile": row(ATHLETE, get=SEEN, post=NO_VERB),
    "athlete-edit": row(ATHLETE, get=COACH_ONLY, post=COACH_ONLY),
    "first-meeting": row(ATHLETE, get=SEEN, post=WORKERS_ONLY),
    "build": row(ATHLETE, get=SEEN, post=NO_VERB),
    "measure": row(ATHLETE, get=WORKERS_ONLY, post=WORKERS_ONLY),
    "measure-edit": row({"pk": "athlete", "visit": "visit"}, get=WORKERS_ONLY, post=WORKERS_ONLY),
    "posture": row(ATHLETE, get=SEEN, post=WORKERS_ONLY),
    "posture-edit": row({"pk": "athlete", "entry": "posture"}, get=WORKERS_ONLY, post=WORKERS_ONLY),
    "health-notes": row(ATHLETE, get=COACH_AND_SELF, post=COACH_AND_SELF),
    "how-to-measure": row({}, get=SIGNED_IN, post=NO_VERB),
}
