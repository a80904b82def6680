"""What a file leaves in doubt: a question with its answers, the proposed one, what follows from each, and the option of
the terminal that answers it.

An answer is a whole reading with this one thing said: whoever asks reads the table again with it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from profiler.numbers import significant
from profiler.study.records.table_reading import TableReading


class Doubt(StrEnum):
    """What a question is about."""

    SHEET = "sheet"
    HEADINGS = "heading row"
    MEANING = "meaning"
    UNIT = "unit"
    SECOND = "second column"
    NOTES = "second notes"
    DECIMAL = "decimal sign"
    DATES = "order of dates"
    BLANKS = "empty cells"
    FAR = "far values"
    NAMES = "names of runs"
    WORDS = "words for numbers"


@dataclass(frozen=True, slots=True)
class Choice:
    """An answer: its words, what follows from it, and the reading with it said."""

    words: str
    follows: str
    reading: TableReading


@dataclass(frozen=True, slots=True)
class Question:
    """`option` answers it in the terminal. `must`: without an answer nothing is taken; else the proposed one is."""

    doubt: Doubt
    text: str
    choices: tuple[Choice, ...]
    option: str
    heading: str = ""
    proposed: int = 0
    must: bool = True

    @property
    def sentence(self) -> str:
        """For a terminal: the question and the way to answer it."""
        return f"{self.text} Answer with {self.option}."


def shown(value: float) -> str:
    """A number in a question."""
    return significant(value, 4)


def either(words: Sequence[str]) -> str:
    """'kg, g or t'."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"
