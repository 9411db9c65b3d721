"""What may be set beside what: the key of a comparable kind, its plain words, and grouping by it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import fields, replace
from functools import lru_cache
from itertools import pairwise

from analysis.core.records.estimates import ComparableKind
from analysis.core.records.lifts import PullTags, SetRecord
from analysis.core.records.plain import UnknownKey

HEIGHT_STEP_M = 0.005  # heights and diameters are logged to about this
PULLS = ("deadlift",)
SQUATS = ("squat", "front-squat")
_DEFAULTS = PullTags()
_NAMES = tuple(f.name for f in fields(PullTags))
_PULL_ONLY = ("style", "start", "start_offset_m", "disc_diameter_m", "grip", "straps", "dead_stop")
_WORDS = {
    "lift": "lift",
    "style": "style",
    "shape": "back shape",
    "bar": "bar",
    "start": "start height",
    "start_offset_m": "height of the start",
    "disc_diameter_m": "disc diameter",
    "grip": "grip",
    "straps": "straps",
    "belt": "belt",
    "suit": "suit",
    "dead_stop": "dead stop",
    "paused": "pause",
    "depth_verified": "squat depth",
}


def kind_of(tags: PullTags, pooled: Iterable[str] = ()) -> ComparableKind:
    """The comparable kind of a set; tags named in `pooled` are set aside and the label says so.

    Heights and diameters are rounded to 5 mm. Straps make the grip irrelevant only if "grip" is pooled:
    nothing is merged silently. Raises UnknownKey for a tag that does not exist.
    """
    return _kind_of(tags, tuple(pooled))


@lru_cache(maxsize=4096)  # a log of thousands of sets has a few dozen kinds
def _kind_of(tags: PullTags, pooled: tuple[str, ...]) -> ComparableKind:
    names = tuple(sorted(set(pooled)))
    for name in names:
        if name not in _WORDS:
            raise UnknownKey("tag", f"there is no tag called {name!r}")
    changes: dict[str, object] = {name: getattr(_DEFAULTS, name) for name in names}
    for name in _irrelevant(tags.lift):
        changes[name] = getattr(_DEFAULTS, name)
    for name in ("start_offset_m", "disc_diameter_m"):
        if name not in changes:
            changes[name] = _rounded(getattr(tags, name))
    return ComparableKind(replace(tags, **changes), names)  # type: ignore[arg-type]


def _irrelevant(lift: str) -> tuple[str, ...]:
    """Tags that say nothing about this lift."""
    if lift in PULLS:
        return ("depth_verified",)
    return _PULL_ONLY if lift in SQUATS else ("depth_verified",)


def _rounded(metres: float) -> float:
    """Metres to the nearest 5 mm, without negative zero."""
    return round(round(metres / HEIGHT_STEP_M) * HEIGHT_STEP_M, 4) + 0.0


def kind_key(kind: ComparableKind) -> str:
    """A stable text that two kinds share exactly when they are the same kind."""
    values = "|".join(f"{getattr(kind.tags, name)}" for name in _NAMES)
    return f"{values}|any:{','.join(kind.pooled)}"


def differences(first: ComparableKind, second: ComparableKind) -> tuple[str, ...]:
    """The names of the tags in which two kinds differ, in the order of the record."""
    return tuple(n for n in _NAMES if getattr(first.tags, n) != getattr(second.tags, n))


def difference_words(first: ComparableKind, second: ComparableKind) -> tuple[str, ...]:
    """The same in trade words, each with both values: "bar (stiff, flexible)"."""
    return tuple(f"{_WORDS[n]} ({_value(first.tags, n)}, {_value(second.tags, n)})" for n in differences(first, second))


def group_sets(sets: Iterable[SetRecord], pooled: Iterable[str] = ()) -> dict[ComparableKind, tuple[SetRecord, ...]]:
    """Sets by comparable kind, each group in the order given."""
    pooled = tuple(pooled)
    groups: dict[ComparableKind, list[SetRecord]] = {}
    lists: dict[int, list[SetRecord]] = {}  # the tags of a log are few objects, and finding one by value is slow
    for one in sets:
        rows = lists.get(id(one.tags))
        if rows is None:
            rows = lists[id(one.tags)] = groups.setdefault(kind_of(one.tags, pooled), [])
        rows.append(one)
    return {kind: tuple(group) for kind, group in groups.items()}


def places_by_tags(sets: Sequence[SetRecord]) -> dict[PullTags, list[int]]:
    """Where in a sequence the sets of each tags stand."""
    found: dict[PullTags, list[int]] = {}
    lists: dict[int, list[int]] = {}  # by identity, as above
    for place, one in enumerate(sets):
        places = lists.get(id(one.tags))
        if places is None:
            places = lists[id(one.tags)] = found.setdefault(one.tags, [])
        places.append(place)
    return found


def tags_among(sets: Iterable[SetRecord]) -> list[PullTags]:
    """The different tags of some sets, in the order met."""
    return list(dict.fromkeys({id(one.tags): one.tags for one in sets}.values()))


def label(kind: ComparableKind) -> str:
    """The kind in plain words: "sumo, floor, stiff bar, mixed grip, no straps"."""
    tags = kind.tags
    if tags.lift in PULLS:
        return ", ".join(_pull_words(kind))
    words = [tags.lift.replace("-", " ")]
    if tags.lift in SQUATS:
        words.append("depth seen" if tags.depth_verified else "depth not verified")
    return ", ".join([*words, *_extra_words(tags)])


def _pull_words(kind: ComparableKind) -> list[str]:
    tags, pooled = kind.tags, set(kind.pooled)
    words = [
        "any style" if "style" in pooled else tags.style.replace("-", " ") or "style not noted",
        "any start height" if "start" in pooled else _start(tags),
        "any bar" if "bar" in pooled else _value(tags, "bar"),
        "any grip" if "grip" in pooled else _value(tags, "grip"),
        "with or without straps" if "straps" in pooled else "straps" if tags.straps else "no straps",
    ]
    if tags.shape != "unseen":
        words.append(_value(tags, "shape"))
    if "shape" in pooled:
        words.append("any back shape")
    if not tags.dead_stop:
        words.append("touch-and-go")
    if tags.disc_diameter_m != _DEFAULTS.disc_diameter_m:
        words.append(f"{tags.disc_diameter_m * 100:g} cm discs")
    return words + _extra_words(tags)


def _extra_words(tags: PullTags) -> list[str]:
    """Kit and pause, only where present."""
    return [word for word in ("belt", "suit", "paused") if getattr(tags, word)]


def _start(tags: PullTags) -> str:
    """Floor, or block and deficit with the height in cm."""
    if tags.start == "floor" and not tags.start_offset_m:
        return "floor"
    return f"{tags.start} {tags.start_offset_m * 100:+g} cm"


def _value(tags: PullTags, name: str) -> str:
    """One tag's value in trade words."""
    value: object = getattr(tags, name)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value * 100:g} cm"
    return _term(name, str(value))


def _term(name: str, value: str) -> str:
    """A vocabulary term in trade words."""
    plain = value.replace("-", " ") or "not noted"
    if name == "bar":
        return _bar(value)
    if name == "grip":
        return "grip not noted" if value == "unknown" else f"{plain} grip"
    if name == "shape":
        return {"flat": "back flat", "unseen": "back not seen"}.get(value, f"{plain} the pull")
    return plain


def _bar(bar: str) -> str:
    """A bar in trade words."""
    odd = {"unknown": "bar not noted", "squat-bar": "squat bar", "other": "other bar"}
    odd |= {"hex-low": "hex bar, low handles", "hex-high": "hex bar, high handles"}
    return odd.get(bar, f"{bar} bar")


def held(kinds: Iterable[ComparableKind]) -> tuple[str, ...]:
    """The tags, in words, on which all the kinds agree: what a figure of them holds constant."""
    listed = list(kinds)
    differing = {n for a, b in pairwise(listed) for n in differences(a, b)}
    return tuple(_WORDS[n] for n in _NAMES if n not in differing and not any(n in k.pooled for k in listed))
