"""Ways of making water holes: a list the user owns, as JSON in the user's data folder, seeded from the shipped one.

The shipped limits are common practice, no source: a shop that does better writes its own. What a study uses is copied
into its hole plan. A list that cannot be read is told in one sentence, and the shipped one is used.
"""

from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

import msgspec

from profiler.study.records.fields import objections
from profiler.study.records.holes import HoleMaking

NAME = "hole_makings.json"


@dataclass(frozen=True, slots=True)
class HoleMakings:
    """`trouble` says in one sentence why the user's own list is not the one shown."""

    ways: tuple[HoleMaking, ...]
    trouble: str = ""


def shipped_makings() -> tuple[HoleMaking, ...]:
    return _decoded((files("profiler.data") / NAME).read_bytes())


def read_makings(path: Path) -> HoleMakings:
    """The user's list at a path; the shipped one where there is none or it is broken."""
    try:
        return HoleMakings(_decoded(path.read_bytes()))
    except FileNotFoundError:
        return HoleMakings(shipped_makings())
    except (OSError, ValueError, msgspec.MsgspecError) as error:
        return HoleMakings(shipped_makings(), f"{path.name} is not a list of ways to make holes: {error}.")


def _decoded(data: bytes) -> tuple[HoleMaking, ...]:
    ways = msgspec.json.decode(data, type=tuple[HoleMaking, ...])
    if not ways:
        raise ValueError("the list is empty")
    for way in ways:
        for _, _, sentence in objections(way):
            raise ValueError(f"{way.name}: {sentence.rstrip('.')}")
    return ways
