"""Style trials."""

from tests.addresses.frame import COACH_ONLY, NO_VERB, SEEN, WORK_IN_CLUB, row

TRIAL = {"pk": "athlete", "trial": "trial"}
ADDRESSES = {
    "squad-trials": row({}, get=WORK_IN_CLUB, post=NO_VERB),
    "trial": row({"pk": "athlete"}, get=SEEN, post=NO_VERB),
    "trial-plan": row({"pk": "athlete"}, get=COACH_ONLY, post=COACH_ONLY),
    "test-day": row({"pk": "athlete"}, get=SEEN, post=COACH_ONLY),
    "style-history": row({"pk": "athlete"}, get=SEEN, post=NO_VERB),
    "trial-earlier": row(TRIAL, get=SEEN, post=NO_VERB),
    "trial-tap": row(TRIAL, get=NO_VERB, post=SEEN),
    "trial-decide": row(TRIAL, get=NO_VERB, post=COACH_ONLY),
}
