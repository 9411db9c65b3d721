"""What a role gets from an address: the words of the table in this folder."""

from dataclasses import dataclass, field

OK = "ok"
SIGN_IN = "sign-in"
ROLES = ("anonymous", "owner", "coach", "other_coach", "staff", "self", "other_owner", "superuser")


def expect(**answers: object) -> dict[str, object]:
    """The answer to each role on its own club's thing; roles that are not named are strangers and get 404."""
    unknown = set(answers) - set(ROLES)
    assert not unknown, unknown
    return {role: answers.get(role, SIGN_IN if role == "anonymous" else 404) for role in ROLES}


SEEN = expect(owner=OK, coach=OK, other_coach=OK, staff=OK, self=OK)
WORKERS_ONLY = SEEN | {"self": 403}
COACH_AND_SELF = SEEN | {"other_coach": 403, "staff": 403}
COACH_ONLY = COACH_AND_SELF | {"self": 403}
WORK_IN_CLUB = expect(owner=OK, coach=OK, other_coach=OK, staff=OK, other_owner=OK)
DECIDE_IN_CLUB = WORK_IN_CLUB | {"staff": 403}
OWN_CLUB = DECIDE_IN_CLUB | {"coach": 403, "other_coach": 403}
# a thing of the club that is not an athlete's: athletes and strangers do not see that it exists
CLUB_THING = expect(owner=OK, coach=OK, other_coach=OK, staff=OK)
CLUB_THING_DECIDE = CLUB_THING | {"staff": 403}
CLUB_THING_OWN = CLUB_THING_DECIDE | {"coach": 403, "other_coach": 403}
SIGNED_IN = dict.fromkeys(ROLES, OK) | {"anonymous": SIGN_IN}
PUBLIC = dict.fromkeys(ROLES, OK)
NO_VERB = dict.fromkeys(ROLES, 405)
NOBODY = expect()
PUBLIC_NOTHING = dict.fromkeys(ROLES, 404)  # an open address whose sample leads nowhere


@dataclass(frozen=True)
class Row:
    """One address: which sample stands for each part of it, and what each role gets for reading and for writing."""

    args: dict[str, str]
    get: dict[str, object]
    post: dict[str, object]
    query: str = ""
    body: dict[str, str] = field(default_factory=dict)


def row(
    args: dict[str, str],
    get: dict[str, object],
    post: dict[str, object],
    query: str = "",
    body: dict[str, str] | None = None,
) -> Row:
    return Row(args, get, post, query, body or {})


def strangers(answers: dict[str, object]) -> dict[str, object]:
    """The same row asked about the other club's thing: nobody of ours finds it, its own owner does."""
    if answers in (NO_VERB, PUBLIC, SIGNED_IN, PUBLIC_NOTHING):
        return answers
    return expect(anonymous=answers["anonymous"], other_owner=answers["owner"])
