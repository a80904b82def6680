"""The drills a shop has: a list the user owns, as JSON in the user's data folder, seeded from the shipped one.

A list that cannot be read is told in one sentence, and the shipped one is used.
"""

from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

import msgspec

from profiler.study.records.holes import HOLE_DIAMETER

NAME = "drills.json"


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
        return Drills(_decoded(path.read_bytes()))
    except FileNotFoundError:
        return Drills(shipped_drills())
    except (OSError, ValueError, msgspec.MsgspecError) as error:
        return Drills(shipped_drills(), f"{path.name} is not a list of drill diameters in mm: {error}.")


def _decoded(data: bytes) -> tuple[float, ...]:
    return _checked(msgspec.json.decode(data, type=tuple[float, ...]))


def _checked(diameters: tuple[float, ...]) -> tuple[float, ...]:
    if not diameters:
        raise ValueError("the list is empty")
    for value in diameters:
        if (objection := HOLE_DIAMETER.objection(value)) is not None:
            raise ValueError(objection.rstrip("."))
    return tuple(sorted(set(diameters)))
