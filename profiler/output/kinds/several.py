"""Several files of one evaluation, one after another: what fails is told, the others are written all the same."""

import threading
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from profiler.assess import Evaluation
from profiler.output.kinds.by_extension import ExportOptions, Made, export
from profiler.progress import SILENT, Progress


@dataclass(frozen=True, slots=True)
class Target:
    """One file to write, and what it shall hold."""

    path: Path
    kind: str
    options: ExportOptions


@dataclass(frozen=True, slots=True)
class Failure:
    path: Path
    sentence: str


@dataclass(frozen=True, slots=True)
class Outcome:
    """Files that lie there now, files that do not and why, and whether the rest was given up."""

    made: tuple[Made, ...] = ()
    failed: tuple[Failure, ...] = ()
    given_up: bool = False


class _GivenUp(Exception):
    """Whoever asked for the files wants no more of them."""


def write_several(
    targets: Sequence[Target], e: Evaluation, progress: Progress = SILENT, give_up: threading.Event | None = None
) -> Outcome:
    """Write them; each is whole or not there, and an older file stays where a new one fails.

    `give_up`, set from elsewhere, ends it before the next page: what was written till then is told all the same.
    """
    made: list[Made] = []
    failed: list[Failure] = []
    for number, target in enumerate(targets):

        def at(share: float, number: int = number) -> None:
            if give_up is not None and give_up.is_set():
                raise _GivenUp
            progress.at((number + share) / len(targets))

        try:
            at(0.0)
            made += export(target.path, e, replace(target.options, progress=Progress(at)), target.kind)
        except ValueError as reason:
            failed.append(Failure(target.path, str(reason)))
        except _GivenUp:
            return Outcome(tuple(made), tuple(failed), given_up=True)
    return Outcome(tuple(made), tuple(failed))
