"""Lists the user owns, of materials and of machines: JSON in the user's data folder, seeded from the shipped ones.

Everything is asked of a path. A list that cannot be read is told in one sentence and the shipped one shown instead;
nothing is then written over it. What a study uses is copied into the study: no list is needed to open one.
"""

from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path
from typing import Generic, TypeVar

import msgspec

from profiler.study.files.disk import BowlFileError, read_small, reason, write_whole
from profiler.study.files.file import SCHEMA
from profiler.study.files.upgrades import UPGRADES
from profiler.study.records.fields import objections
from profiler.study.records.machine import Machine
from profiler.study.records.materials import Material
from profiler.study.records.record import LONGEST_NAME, Record

Item = TypeVar("Item", Machine, Material)
Kind = type[Machine] | type[Material]  # of which there are lists


@dataclass(frozen=True, slots=True)
class OwnedList(Generic[Item]):
    """Records with different names; `trouble` says in one sentence why the user's own list is not the one shown."""

    kind: type[Item]
    items: tuple[Item, ...]
    trouble: str = ""

    def named(self, name: str) -> Item | None:
        return next((item for item in self.items if item.name == name), None)


def file_name(kind: Kind) -> str:
    """Name of the list's file, in the user's folder and among the shipped data."""
    return _NAMES[kind]


def shipped(kind: type[Item]) -> tuple[Item, ...]:
    """The list that comes with the program."""
    return _decoded(kind, (files("profiler.data") / file_name(kind)).read_bytes())


def read_list(kind: type[Item], path: Path) -> OwnedList[Item]:
    """The user's list at a path; the shipped one where there is none or it is broken."""
    try:
        data = read_small(path, "a list")
        return OwnedList(kind, shipped(kind) if data is None else _decoded(kind, data))
    except BowlFileError as error:
        return OwnedList(kind, shipped(kind), _trouble(path, str(error).rstrip(".")))
    except (ValueError, msgspec.MsgspecError, RecursionError) as error:
        return OwnedList(kind, shipped(kind), _trouble(path, " ".join(str(error).split())[:_LONGEST].rstrip(".")))


def add(path: Path, record: Item) -> OwnedList[Item]:
    """Put a record into the user's list, in place of one of the same name. Gives the list as it then is.

    Raises BowlFileError, with nothing changed, where the list cannot be read or written or could not hold the record.
    """
    now: OwnedList[Item] = read_list(type(record), path)
    items = tuple(record if item.name == record.name else item for item in now.items)
    new: tuple[Item, ...] = () if now.named(record.name) is not None else (record,)
    return _write(path, now, items + new)


def remove(path: Path, kind: type[Item], name: str) -> OwnedList[Item]:
    """Take the record of that name out of the user's list. Raises BowlFileError as `add` does."""
    now = read_list(kind, path)
    return _write(path, now, tuple(item for item in now.items if item.name != name))


_NAMES: dict[Kind, str] = {Machine: "machines.json", Material: "materials.json"}
_LONGEST = 200
BARE = 2  # of the study's schema when lists did not say of which they are
MOST = 1000  # entries of a list to choose from


def _write(path: Path, now: OwnedList[Item], items: tuple[Item, ...]) -> OwnedList[Item]:
    if now.trouble:
        raise BowlFileError(f"{now.trouble} Nothing is written over it: repair or remove it first.")
    try:
        _check(items)
        path.parent.mkdir(parents=True, exist_ok=True)
        whole = {"schema": SCHEMA, "items": items}
        data = msgspec.json.format(msgspec.json.encode(whole, order="sorted"), indent=1) + b"\n"
    except ValueError as error:
        raise BowlFileError(f"{path.name} was not changed: {error}.") from None
    except OSError as error:
        raise BowlFileError(f"{path.name} cannot be written: {reason(error)}.") from None
    write_whole(path, data)
    return OwnedList(now.kind, items)


def _decoded(kind: type[Item], data: bytes) -> tuple[Item, ...]:
    raw = msgspec.json.decode(data)
    schema, listed = _unfolded(raw)
    if kind is Machine and isinstance(listed, list):
        listed = [_of_today(item, schema) for item in listed]
    items: tuple[Item, ...] = tuple(msgspec.convert(listed, list[kind]))  # type: ignore[valid-type]
    _check(items)
    return items


def _unfolded(raw: object) -> tuple[int, object]:
    """The schema and the entries. Raises ValueError for another object, and for a list of a newer program."""
    if not isinstance(raw, dict):
        return BARE, raw
    schema = raw.get("schema")
    if set(raw) != {"schema", "items"} or not isinstance(schema, int):
        raise ValueError("it is not a list")
    if not BARE <= schema <= SCHEMA:
        raise ValueError(f"it is of schema {schema}; this program reads up to schema {SCHEMA}")
    return schema, raw["items"]


def _of_today(machine: object, schema: int) -> object:
    """A machine brought up by the steps of the study it could have stood in."""
    for step in range(schema, SCHEMA):
        machine = UPGRADES[step]({"machine": machine}).raw["machine"]
    return machine


def _check(items: tuple[Machine, ...] | tuple[Material, ...]) -> None:
    """Raises ValueError for a list that could not be chosen from."""
    if not items:
        raise ValueError("the list is empty")
    if len(items) > MOST:
        raise ValueError(f"the list holds {len(items)} entries; {MOST} is the most that can be chosen from")
    names = [item.name for item in items]
    for name in names:
        if len(name) > LONGEST_NAME:
            raise ValueError(f"the name “{name[:40]}…” has {len(name)} letters; {LONGEST_NAME} is the most")
    if not all(name.strip() for name in names):
        raise ValueError("an entry has no name")
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise ValueError(f'two entries are called "{twice}"')
    for item in items:
        parts: list[Record] = [item]
        if isinstance(item, Machine):
            parts += [*item.seat, *([item.shell_material] if item.shell_material else [])]
        for part in parts:
            for _, _, sentence in objections(part):
                raise ValueError(f"{item.name}: {sentence[:-1]}")


def _trouble(path: Path, why: str) -> str:
    return f"{path.name} is not a list this program can use ({why}); the shipped list is shown instead."
