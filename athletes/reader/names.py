"""Whose row is it: a name in a file against the people of the club; anything short of the same name is asked about."""

import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import NamedTuple

from athletes.reader.cells.numbers import tidy
from athletes.reader.notes import ASK, GUESS, SKIP, Note, Notes, settled
from athletes.schema.names import name_key, plain, repaired

LEAVE_OUT = "leave-out"


class Person(NamedTuple):
    pk: int
    name: str
    weight_unit: str


class Match(NamedTuple):
    pk: int | None
    notes: Notes = ()


@dataclass(frozen=True)
class People:
    """The athletes of a club by the key of their name."""

    persons: tuple[Person, ...]
    by_key: dict[str, list[Person]] = field(default_factory=dict)

    @classmethod
    def of(cls, persons: Iterable[Person]) -> "People":
        listed = tuple(persons)
        by_key: dict[str, list[Person]] = {}
        for person in listed:
            by_key.setdefault(name_key(person.name), []).append(person)
        return cls(listed, by_key)

    def unit_of(self, pk: int) -> str:
        """The unit the lifter is used to."""
        return next((p.weight_unit for p in self.persons if p.pk == pk), "kg")

    def match(self, typed: str, answers: dict[str, object]) -> Match:
        """The one athlete of exactly this name, else what was answered about it, else a question."""
        name = tidy(typed)
        key = name_key(name)
        said = answers.get(f"name|{key[:110]}")
        if said == LEAVE_OUT:
            return Match(None, (Note(SKIP, f"{name}: left out, as answered", "name", key[:110]),))
        if said is not None:
            return self._answered(int(str(said)), name)
        same = self.by_key.get(key, [])
        if len(same) == 1:
            return Match(same[0].pk, self._composed(typed, same[0]))
        why = f"two people here are called {name}" if same else f"nobody here is called “{name[:60]}”"
        return Match(None, (Note(ASK, why, "name", key[:110]),))

    def _answered(self, pk: int, name: str) -> Match:
        if any(person.pk == pk for person in self.persons):
            return Match(pk, settled("name", name_key(name)[:110]))
        return Match(
            None, (Note(ASK, f"the person answered for “{name}” is not here any more", "name", name_key(name)[:110]),)
        )

    def _composed(self, typed: str, person: Person) -> Notes:
        stored, given = tidy(person.name), " ".join(typed.split())
        if unicodedata.is_normalized("NFC", given) == unicodedata.is_normalized("NFC", stored):
            return ()
        return (Note(GUESS, f"{person.name}: the same name with its accents written another way"),)

    def like(self, key: str) -> list[Person]:
        """People a name may mean, the likeliest first: repaired letters, order of words, accents, initials."""
        same = self.by_key.get(key, []) or self.by_key.get(name_key(repaired(key)), [])
        wanted = plain(repaired(key))
        likely = [p for p in self.persons if plain(p.name) == wanted]
        words = wanted.split()
        initials = [p for p in self.persons if words and _initials_fit(words, plain(p.name).split())]
        found = {p.pk: p for p in [*same, *likely, *initials]}
        return list(found.values())


def _initials_fit(words: list[str], name: list[str]) -> bool:
    """Whether every word is a word of the name or the start of one of the others ("a smith", "al s")."""
    left = list(name)
    for word in sorted(words, key=len, reverse=True):
        hit = next((part for part in left if part == word), None) or next(
            (part for part in left if part.startswith(word)), None
        )
        if hit is None:
            return False
        left.remove(hit)
    return True
