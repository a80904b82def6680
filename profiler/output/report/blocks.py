"""What a report consists of, whatever it is written as."""

from dataclasses import dataclass

from ...pictures.display import Picture


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
    """A table. `weights` share the width out; None: by what the cells hold."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    weights: tuple[float, ...] | None = None


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
