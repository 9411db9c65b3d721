"""Today: the taps of a day, and the page after a miss."""

from tests.addresses.frame import NO_VERB, SEEN, row

PAIR = {"pk": "athlete", "set": "set"}
# The sample set is of another day, so that its page and its undo are nobody's.
GONE = SEEN | dict.fromkeys(("owner", "coach", "other_coach", "staff", "self"), 404)

ADDRESSES = {
    "today-log": row({"pk": "athlete"}, get=NO_VERB, post=SEEN),
    "today-undo": row(PAIR, get=NO_VERB, post=GONE),
    "today-missed": row(PAIR, get=GONE, post=GONE),
}
