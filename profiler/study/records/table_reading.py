"""How tables of a trial were read: what whoever imported them answered, kept for the next file of the same headings.

Only answers stand here. What a file tells by itself is found anew each time it is read (study/ledger).
"""

from typing import Annotated, ClassVar

from msgspec.structs import replace

from profiler.study.records.fields import member
from profiler.study.records.record import Place, Record, Rows


class ColumnAnswer(Record, frozen=True):
    """What a heading means; an empty meaning: the column is passed over."""

    PLACE: ClassVar[Place] = Place((Rows("trials"), "reading", Rows("columns")), "Change how tables are read")

    heading: Annotated[str, member("Heading", "As it stands in the file.")]
    meaning: Annotated[str, member("Meaning", "Key of a column of the ledger; empty: passed over.")] = ""
    unit: Annotated[str, member("Unit", "Of the cells; empty: as heading or cells name it.")] = ""


class TableReading(Record, frozen=True):
    """Answers to what a file left in doubt. Empty: not asked, or not answered."""

    PLACE: ClassVar[Place] = Place((Rows("trials"), "reading"), "Change how tables are read")

    headings: Annotated[tuple[str, ...], member("Headings", "Of the file the answers were given for.")] = ()
    decimal: Annotated[str, member("Decimal sign", "A point or a comma.")] = ""
    dates: Annotated[str, member("Order in dates", "dmy, mdy or ymd.")] = ""
    heading_line: Annotated[int | None, member("Heading line", "Line of the file that holds the headings.")] = None
    sheet: Annotated[str, member("Sheet", "Of a workbook.")] = ""
    columns: Annotated[tuple[ColumnAnswer, ...], member("Columns", "What headings mean.")] = ()
    as_typed: Annotated[tuple[str, ...], member("As typed", "Headings whose far values are meant so.")] = ()
    blanks: Annotated[str, member("Empty cells", "above: as in the row above; empty: not recorded.")] = ""
    empty: Annotated[tuple[str, ...], member("Not recorded", "Words that stand for an empty cell.")] = ()

    def of(self, heading: str) -> ColumnAnswer | None:
        """What was answered for a heading."""
        plain = plain_heading(heading)
        return next((column for column in self.columns if plain_heading(column.heading) == plain), None)

    def answering(self, heading: str, meaning: str, unit: str = "") -> "TableReading":
        """With this said of a heading, in place of what was said before."""
        plain = plain_heading(heading)
        others = tuple(column for column in self.columns if plain_heading(column.heading) != plain)
        return replace(self, columns=(*others, ColumnAnswer(heading, meaning, unit)))

    def for_next(self) -> "TableReading":
        """What of it holds for another file of the same headings: not which of its cells are meant as typed."""
        return replace(self, as_typed=())


def plain_heading(text: str) -> str:
    """By which a heading is known again: its words, whatever their case and spaces."""
    return " ".join(text.lower().split())
