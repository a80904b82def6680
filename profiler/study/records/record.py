"""What all records of a study share: where they stand in it, and how each looks with one member or one row changed.

A record has a say in its own changes: a knot stays between its neighbours, the source of a typed strength is the
designer. Whoever sets a value, by whatever way, meets the same rules, since they stand with the record.
"""

from dataclasses import dataclass
from typing import ClassVar, Self

from msgspec import Struct
from msgspec.structs import replace

LONGEST_NAME = 200  # letters of a name that is typed: more no list, tab or title block shows


@dataclass(frozen=True, slots=True)
class Rows:
    """A step into a list of records; `key` says which of them, None where that is not said yet."""

    name: str
    key: int | None = None


Step = str | Rows


@dataclass(frozen=True, slots=True)
class Place:
    """The steps from a study to the records of a kind, and what an edit of a number there is called."""

    steps: tuple[Step, ...] = ()
    undo: str = "Change {}"


class Record(Struct, frozen=True, forbid_unknown_fields=True):
    """A frozen value of a study. Kinds that stand at several places (a material) have no place of their own."""

    PLACE: ClassVar[Place] = Place()

    def having(self, name: str, value: object) -> Self:
        """The record with one member changed; itself where that changes nothing.

        Raises ValueError, one sentence, where the record refuses it. Bounds are no reason to refuse: a value outside
        becomes a finding.
        """
        held = getattr(self, name)
        return self if type(held) is type(value) and held == value else replace(self, **{name: value})

    def row(self, name: str, key: int) -> "Record":
        """One record of a list."""
        found: Record = getattr(self, name)[key]
        return found

    def having_row(self, name: str, key: int, row: "Record") -> Self:
        """The record with one record of a list changed. Raises ValueError as `having` does."""
        rows = getattr(self, name)
        return self.having(name, (*rows[:key], row, *rows[key + 1 :]))


class Departure(Record, frozen=True):
    """One of many that departs from a rule; a member at its default follows the rule."""

    place: int

    @property
    def is_nothing(self) -> bool:
        return self == type(self)(self.place)


class Rule(Record, frozen=True):
    """A rule for many, and a list of those that depart from it: no entry for one that follows it."""

    DEPARTURE: ClassVar[type[Departure]] = Departure

    def row(self, name: str, key: int) -> Record:
        return next((c for c in getattr(self, name) if c.place == key), self.DEPARTURE(key))

    def having_row(self, name: str, key: int, row: Record) -> Self:
        others = [c for c in getattr(self, name) if c.place != key]
        kept = others if isinstance(row, Departure) and row.is_nothing else [*others, row]
        return self.having(name, tuple(sorted(kept, key=lambda c: c.place)))
