"""Addresses of the lift log."""

from tests.addresses.frame import COACH_AND_SELF, NO_VERB, SEEN, row

ROW = {"pk": "athlete", "set": "set"}
ADDRESSES = {
    "lifts": row({"pk": "athlete"}, get=SEEN, post=NO_VERB),
    "lift-new": row({"pk": "athlete"}, get=SEEN, post=SEEN),
    "lift-correct": row(ROW, get=SEEN, post=SEEN),
    "lift-undo": row(ROW, get=NO_VERB, post=SEEN),
    "lift-slowest": row(ROW, get=NO_VERB, post=SEEN),
    "lift-put-back": row({"pk": "athlete", "entry": "taken_back"}, get=NO_VERB, post=SEEN),
    # soreness, sleep and body mass are between coach and athlete
    "day-note": row({"pk": "athlete", "iso": "=2026-11-20"}, get=COACH_AND_SELF, post=COACH_AND_SELF),
}
