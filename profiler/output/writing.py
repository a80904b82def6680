"""Files of an evaluation: one, or several one after another. A file is written whole or not at all.

What cannot be made is told, the others are written all the same; a file that fails leaves the older one as it was.
"""

import threading
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from profiler.assess import Evaluation
from profiler.output import outputs
from profiler.output.record.option import Held, Request
from profiler.output.record.output import Made, Output, Preview, sheet_files
from profiler.progress import SILENT, Progress

AS_USUAL = Request()


@dataclass(frozen=True, slots=True)
class Target:
    """One file to write, and what it shall hold."""

    path: Path
    kind: str
    request: Request


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


def output_for(path: Path, kind: str = "") -> Output:
    """The output a file of this name holds. Raises ValueError with a sentence where there is none."""
    suffix = path.suffix.lower()
    held = {o.key: o for o in outputs.outputs_of(suffix)}
    if not held:
        raise ValueError(f"{path.name} ends in none of {' '.join(outputs.suffixes())}.")
    if kind and kind not in held:
        raise ValueError(f"A {suffix} file cannot hold a {kind}; it holds {' or '.join(held)}.")
    return held[kind] if kind else next(iter(held.values()))


def export(path: Path, e: Evaluation, request: Request = AS_USUAL, kind: str = "") -> list[Made]:
    """Write one file, or one per sheet where the format holds a single sheet.

    Raises ValueError with a sentence where it cannot be made, BowlFileError where the path cannot be written.
    """
    output = output_for(path, kind)
    request = _set(request, {output.file_type.key: path.suffix.lower()})
    if (objection := output.objection(e, request)) is not None:
        raise ValueError(objection)
    first, *others = output.make(path, e, request)
    return [replace(first, findings=(*first.findings, *output.findings(e, request))), *others]


def preview(kind: str, e: Evaluation, request: Request = AS_USUAL) -> Preview:
    """The sheets or the table of an output, before any file is written. Raises ValueError with a sentence."""
    output = outputs.output(kind)
    if (objection := output.objection(e, request)) is not None:
        raise ValueError(objection)
    return output.preview(e, request)


def files_of(path: Path, kind: str, sheets: int) -> list[Path]:
    """Every file that an output of so many sheets will make under this name."""
    alone = path.suffix.lower() in outputs.output(kind).sheet_each
    return sheet_files(path, sheets if alone else 1)


def all_targets(folder: Path, stem: str, request: Request) -> list[Target]:
    """What a shop, a checker and a spreadsheet want, under one name."""
    return [
        Target(folder / f"{stem}-{copy.word}{copy.suffix}", o.key, _set(request, copy.values))
        for o in outputs.OUTPUTS
        for copy in o.copies
    ]


def _set(request: Request, values: Mapping[str, Held]) -> Request:
    return replace(request, values={**request.values, **values})


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
            made += export(target.path, e, replace(target.request, progress=Progress(at)), target.kind)
        except ValueError as reason:
            failed.append(Failure(target.path, str(reason)))
        except _GivenUp:
            return Outcome(tuple(made), tuple(failed), given_up=True)
    return Outcome(tuple(made), tuple(failed))
