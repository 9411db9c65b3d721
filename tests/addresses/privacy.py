"""Addresses of privacy: who looked, what changed, consent, erasure, pictures."""

from tests.addresses.frame import COACH_AND_SELF, COACH_ONLY, NO_VERB, PUBLIC, SEEN, row

ATHLETE = {"pk": "athlete"}
PICTURE = {"pk": "athlete", "uid": "picture"}

ADDRESSES = {
    "privacy": row({}, get=PUBLIC, post=NO_VERB),
    "looks": row(ATHLETE, get=COACH_AND_SELF, post=NO_VERB),
    "audit": row(ATHLETE, get=COACH_AND_SELF, post=NO_VERB),
    "erase": row(ATHLETE, get=COACH_AND_SELF, post=COACH_AND_SELF),
    "consent": row(ATHLETE, get=COACH_AND_SELF, post=COACH_ONLY),
    "consent-withdraw": row({"pk": "athlete", "consent": "consent"}, get=NO_VERB, post=COACH_ONLY),
    "hide-mass": row(ATHLETE, get=NO_VERB, post=COACH_AND_SELF),
    "pictures": row(ATHLETE, get=SEEN, post=SEEN),
    "pictures-remove": row(ATHLETE, get=NO_VERB, post=COACH_AND_SELF),
    "picture": row(PICTURE, get=SEEN, post=SEEN),
    "picture-file": row(PICTURE, get=SEEN, post=NO_VERB),
    "picture-remove": row(PICTURE, get=NO_VERB, post=COACH_AND_SELF),
}
