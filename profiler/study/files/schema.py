"""The `.bowl` format told from the types themselves: as JSON Schema for programs, and member by member for people.

Bounds stand in the schema as annotations (`x-lowest`, `x-highest`), not as limits: values outside them load and become
findings. What is refused beyond the types is told in words.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from functools import cache
from typing import get_args, get_origin, get_type_hints

import msgspec

from profiler.study.files.file import FORMAT, MOST, MOST_RUNS, SCHEMA
from profiler.study.records.fields import Field, members_of
from profiler.study.records.record import Record
from profiler.study.records.study import Study

DIALECT = "https://json-schema.org/draft/2020-12/schema"
RULES = (
    f'A study is one JSON object (RFC 8259) in UTF-8, with "format": "{FORMAT}" and "schema": {SCHEMA}.',
    "A member that is left out has its default; one that is not listed here is refused by name, and so is a name that "
    "stands twice in one object, a number that is not finite, and a whole number beyond 2^53.",
    "A study holds at least one design and one duty, a wall curve at least two knots. Names of designs, of duties and "
    f"of trials differ among themselves. No list holds more than {MOST} records, no trial more than {MOST_RUNS} runs.",
    "Values outside the bounds load: each becomes a finding, nothing is corrected.",
    "Keys are written in alphabetical order. A file of a newer schema is refused; one of an older schema is read.",
)

_ENVELOPE = {
    "format": {"const": FORMAT, "description": "By which a study is known."},
    "schema": {"const": SCHEMA, "description": "Of the format; a whole number."},
}
_WORDS = {float: "number", int: "whole number", bool: "true or false", str: "text"}


@dataclass(frozen=True, slots=True)
class Member:
    """A line of the format's description. `span` are the bounds, empty where there are none."""

    name: str
    kind: str
    unit: str
    span: str
    default: str
    label: str
    help: str


@dataclass(frozen=True, slots=True)
class Section:
    """A kind of record: where it stands in the file, what it is, its members."""

    name: str
    places: tuple[str, ...]
    about: str
    members: tuple[Member, ...]


def json_schema() -> dict[str, object]:
    """JSON Schema (draft 2020-12) of a study file, made by msgspec from the types."""
    made = msgspec.json.schema(Study)
    kinds: dict[str, dict[str, object]] = made["$defs"]
    for kind in kinds.values():
        if "description" in kind:
            kind["description"] = _about(str(kind["description"]))
    study = kinds["Study"]
    own, required = study["properties"], study["required"]
    assert isinstance(own, dict) and isinstance(required, list)
    study["properties"], study["required"] = _ENVELOPE | own, [*_ENVELOPE, *required]
    head = {"$schema": DIALECT, "title": "Study file of Bowl Profiler (.bowl)", "description": " ".join(RULES)}
    return head | made


@cache
def sections() -> tuple[Section, ...]:
    """Every kind of record that a study holds, the study first, each with all places it stands at."""
    places: dict[type[msgspec.Struct], list[str]] = {}
    for kind, place in _records(Study, ""):
        places.setdefault(kind, []).append(place)
    return tuple(
        Section(kind.__name__, tuple(found), _about(kind.__doc__ or ""), tuple(_members(kind)))
        for kind, found in places.items()
    )


def _records(kind: type[msgspec.Struct], place: str) -> Iterator[tuple[type[msgspec.Struct], str]]:
    """The kind and every kind below it, each where it stands; a list's records as `knots[]`."""
    yield kind, place
    hints = get_type_hints(kind)
    for name in kind.__struct_fields__:
        for part in (hints[name], *get_args(hints[name])):
            if isinstance(part, type) and issubclass(part, msgspec.Struct):
                listed = "[]" if get_origin(hints[name]) is tuple else ""
                yield from _records(part, f"{place}.{name}{listed}".removeprefix("."))


def _members(kind: type[msgspec.Struct]) -> Iterator[Member]:
    hints = get_type_hints(kind)
    if not issubclass(kind, Record):  # words shared with statistics: texts, each with a title and a description
        for name, hint in get_type_hints(kind, include_extras=True).items():
            meta = next(part for part in get_args(hint) if isinstance(part, msgspec.Meta))
            yield Member(name, "text", "", "", _default(kind, name), meta.title or "", meta.description or "")
        return
    for name, field in members_of(kind).items():
        words = _kind_words(field, hints[name])
        span = f"{field.low:g} to {field.high:g}" if field.is_number else ""
        yield Member(name, words, field.unit, span, _default(kind, name), field.label, field.help)


def _kind_words(field: Field[object], hint: object) -> str:
    """What a member may hold, in words of JSON."""
    empty = " or null" if field.may_be_none else ""
    if field.kind is tuple:
        held = get_args(hint)[0]
        return f"list of {held.__name__}" if held not in _WORDS else f"list of {_WORDS[held]}s"
    if issubclass(field.kind, Enum):
        return f"one of {', '.join(f'“{option}”' for option in field.options)}"
    return _WORDS.get(field.kind, field.kind.__name__) + empty


def _default(kind: type[msgspec.Struct], name: str) -> str:
    """As JSON; “needed” where the member cannot be left out."""
    names, defaults = kind.__struct_fields__, kind.__struct_defaults__
    place = names.index(name) - (len(names) - len(defaults))
    if place < 0:
        return "needed"
    value = defaults[place]
    return "its own defaults" if isinstance(value, Record) else msgspec.json.encode(value).decode()


def _about(text: str) -> str:
    """What a docstring says of the record itself, in JSON's words; further paragraphs are for programmers."""
    return " ".join(text.split("\n\n")[0].split()).replace("None", "null")
