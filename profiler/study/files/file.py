"""A study as a `.bowl` file: JSON with sorted keys, an integer schema, numbers as typed.

Reading either gives a whole study or raises BowlFileError with one sentence: which file, where in it, why.
How bytes get safely onto the disk is in `disk`.
"""

import json
import re
from pathlib import Path
from typing import Any, NamedTuple

import msgspec

from profiler.study.files.disk import BowlFileError, Stamp, read_whole, write_whole
from profiler.study.files.upgrades import UPGRADES
from profiler.study.records.study import Study

__all__ = [
    "SCHEMA",
    "SUFFIX",
    "BowlFileError",
    "Opened",
    "decode_study",
    "encode_study",
    "read_stamped",
    "read_study",
    "write_study",
    "write_whole",
]

FORMAT = "bowl profiler study"
SCHEMA = 3
SUFFIX = ".bowl"
LARGEST_INTEGER = 2**53  # beyond it a JSON number is no longer exact everywhere (RFC 8259, section 6)
LONGEST_SENTENCE = 300

MOST = 1000  # of each kind of thing in a study: with as many an edit still shows within 0.1 s
MOST_RUNS = 10_000  # of a trial: more than a year of hourly cycles


class Opened(NamedTuple):
    """A study as its file held it, and what whoever opens the file should be told once."""

    study: Study
    stamp: Stamp  # of the bytes it was read from
    notes: tuple[str, ...]  # what an older file needed to be read today; a sentence or two each


def read_study(path: Path) -> Study:
    """The study in the file. Raises BowlFileError."""
    return read_stamped(path).study


def read_stamped(path: Path) -> Opened:
    """The study in the file with its stamp and notes. Raises BowlFileError."""
    data, stamp = read_whole(path)
    study, notes = decode_noted(data, path.name)
    return Opened(study, stamp, notes)


def decode_study(data: bytes, name: str) -> Study:
    """The study in the bytes of a file called `name`. Raises BowlFileError."""
    return decode_noted(data, name)[0]


def decode_noted(data: bytes, name: str) -> tuple[Study, tuple[str, ...]]:
    """The study in the bytes of a file called `name`, and what to tell of an older file. Raises BowlFileError."""
    try:
        return _study(data, name)
    except BowlFileError as error:
        raise BowlFileError(_one_line(str(error))) from None
    except RecursionError:
        raise BowlFileError(_one_line(f"{name} is not a study file: it is nested too deeply.")) from None


def encode_study(study: Study) -> bytes:
    """The bytes of a study file; ends with a newline. Raises ValueError for what could not be read again."""
    _check_counts(study, "the study")
    _check_names(study, "the study")
    raw = msgspec.to_builtins(study)
    _refuse_unwritable(raw, "study")
    raw |= {"format": FORMAT, "schema": SCHEMA}
    return msgspec.json.format(msgspec.json.encode(raw, order="sorted"), indent=1) + b"\n"


def write_study(study: Study, path: Path, private: bool = False) -> Stamp:
    """Write the study whole or not at all. Raises BowlFileError; the old file is then untouched."""
    try:
        data = encode_study(study)
    except ValueError as error:
        raise BowlFileError(_one_line(f"{path.name} cannot be written: {error}")) from None
    return write_whole(path, data, private)


def _study(data: bytes, name: str) -> tuple[Study, tuple[str, ...]]:
    raw, notes = _upgraded(_object(data, name), name)
    raw.pop("format")
    raw.pop("schema")
    try:
        study = msgspec.convert(raw, Study)
    except msgspec.ValidationError as error:
        raise BowlFileError(f"{name}: {_plain(str(error))}") from None
    _check_counts(study, name)
    _check_names(study, name)
    return study, tuple(_one_line(note) for note in notes)


def _object(data: bytes, name: str) -> dict[str, Any]:
    data = data.removeprefix(b"\xef\xbb\xbf")  # a byte-order mark, as some editors put before UTF-8
    if not data.strip():
        raise BowlFileError(f"{name} is empty.")
    if b"\0" in data[:4]:
        raise BowlFileError(f"{name} is not a study file: it is not written in UTF-8.")
    try:
        raw = msgspec.json.decode(data)
    except (msgspec.DecodeError, UnicodeDecodeError) as error:
        raise BowlFileError(f"{name} is not a study file, or was cut short: {_plain(str(error))}") from None
    if not isinstance(raw, dict) or raw.get("format") != FORMAT:
        raise BowlFileError(f'{name} is not a study of this program: it lacks "format": "{FORMAT}".')
    json.loads(data, object_pairs_hook=lambda pairs: _refuse_twice(pairs, name))
    _refuse_huge(raw, name)
    return raw


def _upgraded(raw: dict[str, Any], name: str) -> tuple[dict[str, Any], tuple[str, ...]]:
    schema = raw.get("schema")
    if isinstance(schema, bool) or not isinstance(schema, int) or schema < 1:
        raise BowlFileError(f'{name}: "schema" must be a whole number from 1 to {SCHEMA}, not {schema!r}.')
    if schema > SCHEMA:
        raise BowlFileError(
            f"{name} was written by a newer program (schema {schema}); this one reads up to schema {SCHEMA}."
        )
    notes: tuple[str, ...] = ()
    for step in range(schema, SCHEMA):
        raw, told = UPGRADES[step](raw)
        notes += told
    return raw, notes


def _check_names(study: Study, name: str) -> None:
    for word, group in (("design", study.designs), ("duty", study.duties)):
        if not group:
            raise BowlFileError(f"{name} holds no {word}; a study needs at least one.")
        names = [item.name for item in group]
        twice = next((n for n in names if names.count(n) > 1), None)
        if twice is not None:
            raise BowlFileError(f'{name} holds two {word} entries called "{twice}"; names must differ.')
    for design in study.designs:
        if len(design.wall.knots) < 2:
            raise BowlFileError(f'{name}: design "{design.name}" needs at least two knots.')
    trials = [trial.name for trial in study.trials]
    twice = next((n for n in trials if trials.count(n) > 1), None)
    if twice is not None:
        raise BowlFileError(f'{name} holds two trials called "{twice}"; names must differ.')


def _check_counts(study: Study, name: str) -> None:
    """Far more of anything than a bowl has use for would only make every answer slow."""
    counts = [("designs", len(study.designs)), ("duties", len(study.duties)), ("seat points", len(study.machine.seat))]
    for design in study.designs:
        rule, of = design.grooves, f' in design "{design.name}"'
        counts += [(f"knots{of}", len(design.wall.knots)), (f"groove heights{of}", len(rule.heights_mm))]
        counts += [(f"single grooves{of}", len(rule.changes)), (f"single rings{of}", len(design.holes.changes))]
    counts += [(f'size classes in duty "{duty.name}"', len(duty.size_classes)) for duty in study.duties]
    counts += [("profiles", len(study.profiles))]
    counts += [(f'points in profile "{profile.name}"', len(profile.points)) for profile in study.profiles]
    for trial in study.trials:
        if len(trial.runs) > MOST_RUNS:
            raise BowlFileError(f'{name}: trial "{trial.name}" holds {len(trial.runs)} runs; {MOST_RUNS} is the most.')
    counts += [("trials", len(study.trials))]
    for what, count in counts:
        if count > MOST:
            raise BowlFileError(f"{name} holds {count} {what}; {MOST} is the most that can be worked with.")


def _refuse_twice(pairs: list[tuple[str, object]], name: str) -> None:
    """JSON lets a key stand twice and readers take the last: here nothing is dropped unsaid."""
    seen: set[str] = set()
    for key, _ in pairs:
        if key in seen:
            raise BowlFileError(f'{name} holds "{key}" twice in one record; which one counts cannot be known.')
        seen.add(key)


def _refuse_huge(raw: object, name: str) -> None:
    waiting = [raw]
    while waiting:
        value = waiting.pop()
        if isinstance(value, int) and abs(value) > LARGEST_INTEGER:
            raise BowlFileError(f"{name} holds the whole number {value}, larger than 2^53 and any number in a study.")
        if isinstance(value, (dict, list)):
            waiting += value.values() if isinstance(value, dict) else value


def _refuse_unwritable(value: object, place: str) -> None:
    if isinstance(value, float) and value - value != 0.0:
        raise ValueError(f"{place} is {value}, which is not a number a file can hold.")
    if isinstance(value, str) and not value.isascii() and any("\ud800" <= c <= "\udfff" for c in value):
        raise ValueError(f"{place} holds a broken character, which a file cannot hold.")
    if isinstance(value, dict):
        for key, item in value.items():
            _refuse_unwritable(item, f"{place}.{key}")
    elif isinstance(value, (list, tuple)):
        for index, item in enumerate(value):
            _refuse_unwritable(item, f"{place}[{index}]")


def _plain(message: str) -> str:
    """A decoder's message with its place first and without its symbols."""
    found = re.match(r"(?s)(.*?) - at `\$?\.?(.*)`$", message)
    if found is None or "..." in found[2]:
        return f"{(found[1] if found else message).rstrip('.')}."
    return f"at {found[2]}: {found[1]}."


def _one_line(sentence: str) -> str:
    """The sentence without what names and values in a file may bring along: line breaks, controls, endless length."""
    start = sentence[: LONGEST_SENTENCE + 1]
    plain = "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in start)
    return plain if len(plain) <= LONGEST_SENTENCE else f"{plain[: LONGEST_SENTENCE - 2]}…."
