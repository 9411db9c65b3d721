"""Squad review, misses, numbers of the trade."""

from tests.addresses.frame import COACH_ONLY, DECIDE_IN_CLUB, NO_VERB, WORK_IN_CLUB, row

ADDRESSES = {
    "squad": row({}, get=WORK_IN_CLUB, post=NO_VERB),
    "squad-table": row({}, get=WORK_IN_CLUB, post=NO_VERB),
    "wall-aside": row({"pk": "athlete"}, get=NO_VERB, post=COACH_ONLY),
    "wall-back": row({"pk": "athlete"}, get=NO_VERB, post=COACH_ONLY),
    "misses": row({}, get=WORK_IN_CLUB, post=NO_VERB),
    "club-settings": row({}, get=DECIDE_IN_CLUB, post=DECIDE_IN_CLUB),
    "athlete-settings": row({"pk": "athlete"}, get=COACH_ONLY, post=COACH_ONLY),
}
