"""How one field of a record is described, and how its description is read back from the record's annotations.

A record is a frozen dataclass whose fields are `Annotated[type, Field(...)]`. Forms, import and export columns, the
phone's lists of options, database checks and docs/formats.md derive from it.
"""

from __future__ import annotations

import datetime
import functools
import types
from collections.abc import Callable, Iterator, Mapping
from dataclasses import MISSING, dataclass, fields
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from athletes.schema.units import Unit
from athletes.schema.vocabulary import Privacy, Term

Values = Mapping[str, Any]
Kind = Literal["term", "flag", "number", "count", "text", "day", "load", "effort", "height", "key"]


@dataclass(frozen=True, slots=True)
class Rule:
    """When a field may be filled in: `allows(values of the set)`, and the message when it is filled in all the same.

    The rule is not judged while the field it `needs` is missing from the values.
    """

    needs: str
    allows: Callable[[Values], bool]
    message: str


@dataclass(frozen=True, slots=True)
class Field:
    """The description of one field; amounts have the unit of the database column.

    `columns` are the headings under which an import recognises it, first the one that the export writes.
    `typed` names the columns that keep what a person typed beside the canonical value. `column` names the database
    column and `file` the mapping of a file's column where they are called otherwise than the field.
    """

    label: str
    columns: str = ""
    term: type[Term] | None = None
    group: str = ""
    unit: Unit | None = None
    low: float | None = None
    high: float | None = None
    max_length: int | None = None
    blank: str = ""
    help: str = ""
    only_when: Rule | None = None
    private: frozenset[Privacy] = frozenset()
    typed: tuple[str, ...] = ()
    column: str = ""
    file: str = ""
    kind: Kind | None = None


@dataclass(frozen=True, slots=True)
class FieldSpec:
    """A field with the name, term and default read from the annotation of its record."""

    name: str
    field: Field
    kind: Kind
    term: type[Term] | None
    required: bool
    default: Any

    @property
    def column(self) -> str:
        """The database column that holds the canonical value."""
        return self.field.column or self.name

    @property
    def file(self) -> str:
        """The name under which a file's column is mapped to this field."""
        return self.field.file or self.column

    @property
    def limits(self) -> tuple[float, float]:
        """Least and greatest value in the unit of the column; TypeError where the description has none."""
        if self.field.low is None or self.field.high is None:
            raise TypeError(f"{self.name} has no limits")
        return self.field.low, self.field.high

    @property
    def heading(self) -> str:
        """The heading of the export."""
        return self.headings[0].replace("-", " ") if self.headings else self.name.replace("_", " ")

    @property
    def headings(self) -> list[str]:
        """Every heading under which an import recognises the field."""
        return self.field.columns.split()


@functools.cache
def specs(record: type) -> dict[str, FieldSpec]:
    """The described fields of a record by name, in its order; those without a description are left out."""
    hints = get_type_hints(record, include_extras=True)
    found = {}
    for one in fields(record):
        hint = hints[one.name]
        if get_origin(hint) is not Annotated:
            continue
        inner, *extras = get_args(hint)
        description = next((extra for extra in extras if isinstance(extra, Field)), None)
        if description is None:
            continue
        default = None if one.default is MISSING else one.default
        found[one.name] = FieldSpec(
            one.name,
            description,
            description.kind or ("term" if description.term else _kind_of(inner, one.name)),
            description.term,
            one.default is MISSING,
            default,
        )
    return found


def group(record: type, name: str) -> Iterator[FieldSpec]:
    """The fields of one group, in the order of the record."""
    return (spec for spec in specs(record).values() if spec.field.group == name)


def _kind_of(inner: Any, name: str) -> Kind:
    """The kind of value that a type stands for; TypeError for a type that no derivation knows."""
    kinds: dict[Any, Kind] = {bool: "flag", int: "count", float: "number", str: "text", datetime.date: "day"}
    parts = get_args(inner) if get_origin(inner) in (Union, types.UnionType) else (inner,)
    for part in parts:
        if part in kinds:
            return kinds[part]
    raise TypeError(f"{name}: no kind of field for {inner!r}")
