"""What an output is: one record, from which the terminal, the Drawing page, the export dialog and the lists are made.

A module makes its record; the table in `outputs` lists it. Nothing else has to know of a new one.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from profiler.assess import Evaluation, Finding
from profiler.assess.findings.kinds import Kind
from profiler.output.record.option import Choice, Group, Held, Offer, Option, Request
from profiler.pictures.sheet.items import Sheet
from profiler.study import Design

NO_SHAPE = "there is no section as the design stands."


@dataclass(frozen=True, slots=True)
class Made:
    """A file that lies there now: in a few words what it is, and what was found on the way."""

    path: Path
    words: str = ""
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class TableShown:
    """A table as its file will hold it: cell for cell, and in `about` what stands above it."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    about: str = ""


Preview = tuple[Sheet, ...] | TableShown


@dataclass(frozen=True, slots=True)
class Copy:
    """A file that "Write all" writes: the last word of its name, its type, and what it sets by itself."""

    word: str
    suffix: str
    values: Mapping[str, Held] = field(default_factory=dict)


def sheet_files(path: Path, count: int) -> list[Path]:
    """Where so many sheets lie that have a file each: the first under the name asked for, then name-2, name-3."""
    return [path, *(path.with_name(f"{path.stem}-{number}{path.suffix}") for number in range(2, count + 1))]


def file_type(key: str, suffixes: Sequence[str]) -> Choice[str]:
    """The option that says as which type an output is written; the file's name says it in the terminal."""
    offers = tuple(Offer(suffix, suffix[1:].upper()) for suffix in suffixes)
    return Choice(f"{key}_type", "File type", "What the button below writes", offers, in_terminal=False)


def _no_findings(e: Evaluation, request: Request) -> tuple[Finding, ...]:
    return ()


def _never(request: Request) -> bool:
    return False


def _no_hints(design: Design) -> dict[str, str]:
    return {}


@dataclass(frozen=True, slots=True)
class Output:
    """One kind of file, or of files, about a design.

    `make` writes it and `preview` shows it, both raising ValueError with a sentence where they cannot; they need a
    shape unless `without_shape` says otherwise, and are not asked where one of the findings `barred_by` stands.
    """

    key: str
    title: str
    says: str  # without the full stop
    suffixes: tuple[str, ...]  # the usual one first
    make: Callable[[Path, Evaluation, Request], list[Made]]
    preview: Callable[[Evaluation, Request], Preview]
    groups: tuple[Group, ...] = ()
    findings: Callable[[Evaluation, Request], tuple[Finding, ...]] = _no_findings  # about this output alone
    without_shape: Callable[[Request], bool] = _never
    barred_by: tuple[Kind, ...] = ()
    hints: Callable[[Design], Mapping[str, str]] = _no_hints  # what the program puts into texts left empty
    tabled: bool = False  # shown as a table
    leaf: str = "sheet"
    sheet_each: tuple[str, ...] = ()  # types that hold one sheet a file: further ones lie beside the first
    full_size_only: bool = False  # not to be printed smaller
    bare_name: bool = False  # the file is proposed without the key in its name
    at_once: tuple[Choice[str], ...] = ()  # asked by the export dialog itself: all else is then as usual
    as_usual: str = ""  # and what that means, as a sentence
    in_folder: tuple[Copy, ...] | None = None  # what "Write all" writes; None: the usual type under the key

    @property
    def options(self) -> tuple[Option, ...]:
        return tuple(option for group in self.groups for option in group.options)

    @property
    def file_type(self) -> Choice[str]:
        return file_type(self.key, self.suffixes)

    @property
    def copies(self) -> tuple[Copy, ...]:
        return (Copy(self.key, self.suffixes[0]),) if self.in_folder is None else self.in_folder

    def objection(self, e: Evaluation, request: Request) -> str | None:
        """Why there is nothing to write of this evaluation, as a sentence; None where there is."""
        if e.shape is None and not self.without_shape(request):
            return NO_SHAPE
        bar = next((f for f in e.findings if f.kind in self.barred_by), None)
        return None if bar is None else f"no {self.title.lower()} can be made: {bar.text}"
