"""The drills a shop has: a list the user owns, as JSON in the user's data folder, seeded from the shipped one.

A list that cannot be read is told in one sentence, and the shipped one is used.
"""

from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

import msgspec

from profiler.study.files.disk import BowlFileError, read_small
from profiler.study.records.holes import HOLE_DIAMETER

NAME = "drills.json"
MOST = 1000


@dataclass(frozen=True, slots=True)
class Drills:
    """Diameters in mm, increasing; `trouble` says in one sentence why the user's own list is not the one shown."""

    diameters_mm: tuple[float, ...]
    trouble: str = ""


def shipped_drills() -> tuple[float, ...]:
    """Common metric twist drills from 0.3 to 10 mm; common practice, no source."""
    return _decoded((files("profiler.data") / NAME).read_bytes())


def read_drills(path: Path) -> Drills:
    """The user's list at a path; the shipped one where there is none or it is broken."""
    try:
        data = read_small(path, "a list of drills")
        return Drills(shipped_drills() if data is None else _decoded(data))
    except BowlFileError as error:
        return Drills(shipped_drills(), str(error))
    except (ValueError, msgspec.MsgspecError, RecursionError) as error:
        return Drills(shipped_drills(), f"{path.name} is not a list of drill diameters in mm: {error}.")


def _decoded(data: bytes) -> tuple[float, ...]:
    return _checked(msgspec.json.decode(data, type=tuple[float, ...]))


def _checked(diameters: tuple[float, ...]) -> tuple[float, ...]:
    if not diameters:
        raise ValueError("the list is empty")
    if len(diameters) > MOST:
        raise ValueError(f"it holds {len(diameters)} diameters; {MOST} is the most that can be chosen from")
    for value in diameters:
        if (objection := HOLE_DIAMETER.objection(value)) is not None:
            raise ValueError(objection.rstrip("."))
    return tuple(sorted(set(diameters)))
