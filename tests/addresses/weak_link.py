"""Weak link and comparison of styles."""

from tests.addresses.frame import COACH_ONLY, NO_VERB, SEEN, row

ADDRESSES = {
    "weak-link": row({"pk": "athlete"}, get=SEEN, post=NO_VERB),
    "styles": row({"pk": "athlete"}, get=SEEN, post=COACH_ONLY),
}
