"""Addresses of privacy: who looked, what changed, consent, erasure, pictures."""

from tests.addresses.frame import COACH_AND_SELF, COACH_ONLY, NO_VERB, PUBLIC, PUBLIC_NOTHING, SEEN, SIGNED_IN, row

ATHLETE = {"pk": "athlete"}
PICTURE = {"pk": "athlete", "uid": "picture"}

ADDRESSES = {
    "privacy": row({}, get=PUBLIC, post=NO_VERB),
    "looks": row(ATHLETE, get=COACH_AND_SELF, post=NO_VERB),
    "audit": row(ATHLETE, get=COACH_AND_SELF, post=NO_VERB),
    "erase": row(ATHLETE, get=COACH_AND_SELF, post=COACH_AND_SELF),
    "consent": row(ATHLETE, get=COACH_AND_SELF, post=COACH_ONLY),
    "consent-withdraw": row({"pk": "athlete", "consent": "consent"}, get=NO_VERB, post=COACH_ONLY),
    "guardian-link": row(ATHLETE, get=NO_VERB, post=COACH_ONLY),
    "guardian-needed": row({}, get=SIGNED_IN, post=NO_VERB),
    "guardian": row({"token": "=invented"}, get=PUBLIC_NOTHING, post=PUBLIC_NOTHING),
    "guardian-withdraw": row({"token": "=invented"}, get=NO_VERB, post=PUBLIC_NOTHING),
    "hide-mass": row(ATHLETE, get=NO_VERB, post=COACH_AND_SELF),
    "pictures": row(ATHLETE, get=SEEN, post=SEEN),
    "pictures-remove": row(ATHLETE, get=NO_VERB, post=COACH_AND_SELF),
    "picture": row(PICTURE, get=SEEN, post=SEEN),
    "picture-file": row(PICTURE, get=SEEN, post=NO_VERB),
    "picture-remove": row(PICTURE, get=NO_VERB, post=COACH_AND_SELF),
}
