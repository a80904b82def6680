"""What is told of a bowl or a trial, as blocks: headings, sentences, tables, pictures, whatever they are written as."""

from dataclasses import dataclass

from profiler.numbers import NOTHING, is_number
from profiler.pictures.basics.display import Picture

DASH, ABOVE = NOTHING, "as above"


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

    `share` is how much of the page's width it takes. In the columns `dittos` a long cell that only repeats the one
    above is shown as a reference to it. `strong` are rows that must not be overlooked. `by_hand`: rows to be filled in.
    """

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    weights: tuple[float, ...] | None = None
    share: float = 1.0
    dittos: tuple[int, ...] = ()
    strong: tuple[int, ...] = ()
    by_hand: bool = False

    @property
    def numeric(self) -> tuple[bool, ...]:
        """Of each column, whether it holds plain numbers and dashes, which stand under one another at the right."""
        columns = zip(*self.rows, strict=True) if self.rows else ((),) * len(self.heads)
        return tuple(_is_numeric(column) for column in columns)

    def shown(self, index: int) -> tuple[str, ...]:
        """The cells of a row that stands under the row before it."""
        row = self.rows[index]
        if not index or not self.dittos:
            return row
        pairs = enumerate(zip(row, self.rows[index - 1], strict=True))
        return tuple(
            ABOVE if k in self.dittos and cell == above and len(cell) > 2 * len(ABOVE) else cell
            for k, (cell, above) in pairs
        )


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


def _is_numeric(cells: tuple[str, ...]) -> bool:
    return any(map(is_number, cells)) and all(c == DASH or is_number(c) for c in cells)
