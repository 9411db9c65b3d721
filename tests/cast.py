"""Named, invented people of two clubs, so that a test reads as a sentence."""

from dataclasses import dataclass, field
from datetime import date

from athletes.models import Athlete, Club, Membership, User
from athletes.models.choices import Role, Sex, Standing

PASSWORD = "chalk-and-plates-7"


@dataclass
class Cast:
    """Two clubs; `ona` owns Quarry Hall, `cato` coaches it, `bea` coaches another squad there, `stan` is staff,
    `ada` lifts there and has a log-in, `ivo` is 15 and `petra` lifts without a log-in; `olga` owns Harbour Rack."""

    quarry: Club
    harbour: Club
    users: dict[str, User] = field(default_factory=dict)
    athletes: dict[str, Athlete] = field(default_factory=dict)

    def __getattr__(self, name: str) -> User:
        try:
            return self.users[name]
        except KeyError:
            raise AttributeError(name) from None


def person(name: str, **extra: object) -> User:
    return User.objects.create_user(
        username=name, email=f"{name}@example.test", password=PASSWORD, first_name=name.title(), **extra
    )


def make_cast() -> Cast:
    quarry = Club.objects.create(name="Quarry Hall")
    harbour = Club.objects.create(name="Harbour Rack")
    cast = Cast(quarry, harbour)
    for name in ("ona", "cato", "bea", "stan", "ada", "olga", "hugo", "nils"):
        cast.users[name] = person(name)
    for club, name, role in [
        (quarry, "ona", Role.OWNER),
        (quarry, "cato", Role.COACH),
        (quarry, "bea", Role.COACH),
        (quarry, "stan", Role.STAFF),
        (quarry, "ada", Role.ATHLETE),
        (harbour, "olga", Role.OWNER),
        (harbour, "hugo", Role.ATHLETE),
    ]:
        Membership.objects.create(club=club, user=cast.users[name], role=role)
    make = Athlete.objects.create
    cast.athletes["ada"] = make(
        club=quarry,
        user=cast.ada,
        coach=cast.cato,
        name="Ada Fell",
        sex=Sex.FEMALE,
        born=date(1996, 4, 2),
        standing=Standing.TRAINED,
    )
    cast.athletes["petra"] = make(
        club=quarry,
        coach=cast.bea,
        name="Petra Moss",
        sex=Sex.FEMALE,
        born=date(1988, 9, 9),
        standing=Standing.TRAINED,
    )
    cast.athletes["ivo"] = make(
        club=quarry,
        coach=cast.cato,
        name="Ivo Reed",
        sex=Sex.MALE,
        born=date(2011, 6, 1),
        standing=Standing.UNDER_18,
    )
    cast.athletes["hugo"] = make(
        club=harbour,
        user=cast.hugo,
        coach=cast.olga,
        name="Hugo Vale",
        sex=Sex.MALE,
        born=date(1991, 1, 5),
        standing=Standing.TRAINED,
    )
    return cast
