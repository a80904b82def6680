"""A study as a `.bowl` file: JSON with sorted keys, an integer schema, numbers as typed.

Reading either gives a whole study or raises BowlFileError with one sentence: which file, where in it, why.
Writing is atomic: the old file stays until the new one is safely on the disk.
"""

import os
import re
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec

from .study import Study

FORMAT = "bowl profiler study"
SCHEMA = 1
SUFFIX = ".bowl"
MOST_BYTES = 64 * 1024 * 1024

# One pure step for each older schema: the decoded object of schema n in, that of schema n + 1 out.
UPGRADES: dict[int, Callable[[dict[str, Any]], dict[str, Any]]] = {}


class BowlFileError(ValueError):
    """A file that cannot be read or written, as one sentence for the designer."""


def read_study(path: Path) -> Study:
    """The study in the file. Raises BowlFileError."""
    try:
        if path.is_dir():
            raise BowlFileError(f"{path.name} is a folder, not a study file.")
        if path.stat().st_size > MOST_BYTES:
            raise BowlFileError(f"{path.name} is larger than 64 MB: it is not a study of this program.")
        data = path.read_bytes()
    except FileNotFoundError:
        raise BowlFileError(f"There is no file {path}.") from None
    except OSError as error:
        raise BowlFileError(f"{path.name} cannot be read: {_reason(error)}.") from None
    return decode_study(data, path.name)


def decode_study(data: bytes, name: str) -> Study:
    """The study in the bytes of a file called `name`. Raises BowlFileError."""
    raw = _upgraded(_object(data, name), name)
    raw.pop("format")
    raw.pop("schema")
    try:
        study = msgspec.convert(raw, Study)
    except msgspec.ValidationError as error:
        raise BowlFileError(f"{name}: {_plain(str(error))}") from None
    _check_names(study, name)
    return study


def encode_study(study: Study) -> bytes:
    """The bytes of a study file; ends with a newline. Raises ValueError on NaN or infinity."""
    raw = msgspec.to_builtins(study)
    _refuse_non_finite(raw, "study")
    raw |= {"format": FORMAT, "schema": SCHEMA}
    return msgspec.json.format(msgspec.json.encode(raw, order="sorted"), indent=1) + b"\n"


def write_study(study: Study, path: Path) -> None:
    """Write the study whole or not at all. Raises BowlFileError; the old file is then untouched."""
    write_whole(path, encode_study(study))


def write_whole(path: Path, data: bytes) -> None:
    """Atomic write: a temporary file beside the target, flushed to disk, then put in its place.

    Links are followed, so that the file they point to changes; the file's mode is kept. A write-protected file stays.
    """
    target = Path(os.path.realpath(path))
    try:
        if target.exists() and not (target.is_file() and os.access(target, os.W_OK)):
            raise BowlFileError(f"{path.name} is write-protected or not a plain file; it is left alone.")
        handle, temporary = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".part", dir=target.parent)
    except OSError as error:
        raise BowlFileError(f"{path.name} cannot be written in {target.parent}: {_reason(error)}.") from None
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(temporary, target.stat().st_mode & 0o7777 if target.exists() else 0o644)
        os.replace(temporary, target)
    except OSError as error:
        Path(temporary).unlink(missing_ok=True)
        raise BowlFileError(f"{path.name} cannot be written: {_reason(error)}.") from None


def _object(data: bytes, name: str) -> dict[str, Any]:
    if not data.strip():
        raise BowlFileError(f"{name} is empty.")
    try:
        raw = msgspec.json.decode(data)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError) as error:
        raise BowlFileError(f"{name} is not a study file, or was cut short: {_plain(str(error))}") from None
    if not isinstance(raw, dict) or raw.get("format") != FORMAT:
        raise BowlFileError(f'{name} is not a study of this program: it lacks "format": "{FORMAT}".')
    return raw


def _upgraded(raw: dict[str, Any], name: str) -> dict[str, Any]:
    schema = raw.get("schema")
    if isinstance(schema, bool) or not isinstance(schema, int) or schema < 1:
        raise BowlFileError(f'{name}: "schema" must be a whole number from 1 to {SCHEMA}, not {schema!r}.')
    if schema > SCHEMA:
        raise BowlFileError(
            f"{name} was written by a newer program (schema {schema}); this one reads up to schema {SCHEMA}."
        )
    for step in range(schema, SCHEMA):
        raw = UPGRADES[step](raw)
    return raw


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


def _refuse_non_finite(value: object, place: str) -> None:
    if isinstance(value, float) and value - value != 0.0:
        raise ValueError(f"{place} is {value}, which is not a number a file can hold.")
    if isinstance(value, dict):
        for key, item in value.items():
            _refuse_non_finite(item, f"{place}.{key}")
    elif isinstance(value, (list, tuple)):
        for index, item in enumerate(value):
            _refuse_non_finite(item, f"{place}[{index}]")


def _plain(message: str) -> str:
    """A decoder's message with its place first and without its symbols."""
    found = re.match(r"(?s)(.*?) - at `\$?\.?(.*)`$", message)
    return f"at {found[2]}: {found[1]}." if found else f"{message.rstrip('.')}."


def _reason(error: OSError) -> str:
    return (error.strerror or str(error)).lower().rstrip(".")
