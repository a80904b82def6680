"""What is told of a bowl or a trial, as blocks: headings, sentences, tables, pictures, whatever they are written as."""

from dataclasses import dataclass

from profiler.numbers import NOTHING, is_number
from profiler.pictures.basics.display import Picture
from profiler.study import NOT_GIVEN

DASH = NOTHING


@dataclass(frozen=True, slots=True)
class Heading:
    text: str
    level: int = 1  # 1 begins a section, which the contents list


@dataclass(frozen=True, slots=True)
class Paragraph:
    text: str
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Grid:
    """A table. `weights` share the width out; None: by what the cells hold.

    `share` is how much of the page's width it takes. `strong` are rows that must not be overlooked. `by_hand`: rows to
    be filled in.
    """

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    weights: tuple[float, ...] | None = None
    share: float = 1.0
    strong: tuple[int, ...] = ()
    by_hand: bool = False

    @property
    def numeric(self) -> tuple[bool, ...]:
        """Of each column, whether it holds numbers, or none given: they stand under one another at the right."""
        columns = zip(*self.rows, strict=True) if self.rows else ((),) * len(self.heads)
        return tuple(_is_numeric(column) for column in columns)


@dataclass(frozen=True, slots=True)
class Figure:
    """Pictures side by side, of the same height."""

    pictures: tuple[Picture, ...]
    caption: str


Block = Heading | Paragraph | Grid | Figure


@dataclass(frozen=True, slots=True)
class Report:
    title: str
    marks: tuple[str, ...]  # stand on every page: date, file, version
    blocks: tuple[Block, ...]
    front: tuple[Block, ...] = ()  # a first page of its own, the contents after it


def _is_numeric(cells: tuple[str, ...]) -> bool:
    return any(map(is_number, cells)) and all(c in (DASH, NOT_GIVEN) or is_number(c) for c in cells)
