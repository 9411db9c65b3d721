"""Addresses of the club: people, invitations, bars."""

from tests.addresses.frame import (
    CLUB_THING_DECIDE,
    CLUB_THING_OWN,
    DECIDE_IN_CLUB,
    NO_VERB,
    OK,
    OWN_CLUB,
    WORK_IN_CLUB,
    expect,
    row,
)

ADDRESSES = {
    "club": row({}, get=WORK_IN_CLUB, post=OWN_CLUB),
    # an empty choice names no club, so writing finds nothing
    "choose-club": row({}, get=WORK_IN_CLUB, post=expect()),
    "member-role": row({"pk": "membership"}, get=NO_VERB, post=CLUB_THING_OWN),
    "member-remove": row({"pk": "membership"}, get=NO_VERB, post=CLUB_THING_OWN),
    "leave-club": row({"pk": "club"}, get=NO_VERB, post=expect(owner=OK, coach=OK, other_coach=OK, staff=OK, self=OK)),
    "invite": row({}, get=NO_VERB, post=OWN_CLUB),
    "invitation-withdraw": row({"pk": "invitation"}, get=NO_VERB, post=CLUB_THING_OWN),
    "bar-add": row({}, get=NO_VERB, post=DECIDE_IN_CLUB),
    "bar": row({"pk": "bar"}, get=CLUB_THING_DECIDE, post=CLUB_THING_DECIDE),
    "bar-remove": row({"pk": "bar"}, get=NO_VERB, post=CLUB_THING_DECIDE),
}
