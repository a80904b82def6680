"""What keeps a row from being taken: named by its line, told together by its kind, each kind with a way on."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from profiler.numbers import counted


class Kind(StrEnum):
    """What is wrong; the words head the group."""

    NUMBER = "not a number"
    LIMIT = "above what the laboratory measures"
    BOUNDS = "cannot be"
    UNIT = "a unit that is not known"
    DATE = "not a date"
    WORD = "neither yes nor no"
    DESIGN = "no design named"
    NAME = "a run named twice"
    WIDTH = "more cells than headings"
    COLUMN = "a column that is not understood"


@dataclass(frozen=True, slots=True)
class WayOn:
    """What can be done: with the file, and by an answer, which a terminal gives as an option."""

    words: str
    option: str = ""


_PASSED = "--as “HEADING=nothing”"
WAY_ON = {
    Kind.NUMBER: WayOn("correct the cell, or take the word as not recorded", '--empty "WORD"'),
    Kind.LIMIT: WayOn("have it measured with a wider range, or take it as not recorded", '--empty "WORD"'),
    Kind.BOUNDS: WayOn("correct the cell, or name another unit", "--as “HEADING=MEANING, UNIT”"),
    Kind.UNIT: WayOn("write the unit as the column has it"),
    Kind.DATE: WayOn("correct the cell, name the order of dates, or pass the column over", f"--dates, {_PASSED}"),
    Kind.WORD: WayOn("write yes or no, or pass the column over", _PASSED),
    Kind.DESIGN: WayOn("write the design of the bowl into the row, or take the row out"),
    Kind.NAME: WayOn("number the runs anew, or take the numbers for pairs", "--as “run=nothing”, --as “run=block”"),
    Kind.WIDTH: WayOn("give every column a heading"),
    Kind.COLUMN: WayOn("name the unit in the heading, or what the column means", "--as “HEADING=MEANING, UNIT”"),
}


@dataclass(frozen=True, slots=True)
class Problem:
    """What keeps a row from being taken, or a column from being understood (line of the headings)."""

    line: int
    heading: str
    text: str
    kind: Kind = Kind.NUMBER
    cell: str = ""  # as typed, where one cell is the problem

    @property
    def sentence(self) -> str:
        return f"line {self.line}, {self.heading or 'row'}: {self.text}"


@dataclass(frozen=True, slots=True)
class ProblemGroup:
    """Problems of one kind under one heading."""

    kind: Kind
    heading: str
    problems: tuple[Problem, ...]

    @property
    def told(self) -> str:
        """All of them in one: how many, where, the first as an example, and what can be done."""
        return f"{self._said} To go on: {WAY_ON[self.kind].words}."

    @property
    def sentence(self) -> str:
        """The same for a terminal, with the option that answers it."""
        way = WAY_ON[self.kind]
        return f"{self._said} To go on: {way.words}{f' ({way.option})' if way.option else ''}."

    @property
    def _said(self) -> str:
        first, count = self.problems[0], len(self.problems)
        if count == 1:
            return first.sentence
        lines = ", ".join(str(p.line) for p in self.problems[:6]) + (", …" if count > 6 else "")
        where = f" in “{self.heading}”" if self.heading else ""
        return f"{counted(count, 'row')}{where} (lines {lines}): {first.text}"


def grouped(problems: Sequence[Problem]) -> tuple[ProblemGroup, ...]:
    """By kind and heading, in the order in which they first occur."""
    found: dict[tuple[Kind, str], list[Problem]] = {}
    for problem in problems:
        found.setdefault((problem.kind, problem.heading), []).append(problem)
    return tuple(ProblemGroup(kind, heading, tuple(those)) for (kind, heading), those in found.items())
