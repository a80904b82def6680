"""What can be said about an output, an option a record: the forms, the terminal's flags and the memory are made of it.

A value is held as a text, a number or None, as forms and settings have it; `taken` makes the option's own type of it,
and of whatever makes no sense (settings edited by hand, an older program's) the usual value.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Generic, TypeVar, overload

from profiler.numbers import read
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.progress import SILENT, Progress
from profiler.study import Field, Study

Held = str | float | None
T_co = TypeVar("T_co", bound=str, covariant=True)
N = TypeVar("N", float, float | None)


@dataclass(frozen=True, slots=True)
class Offer(Generic[T_co]):
    """One value of a choice and its words in a form. `typed`: the terminal's word, where it is another; a word that
    begins with -- is a flag by itself."""

    value: T_co
    words: str
    typed: str = ""

    @property
    def word(self) -> str:
        return self.typed or self.value


@dataclass(frozen=True, slots=True)
class Only:
    """The choice, and the value of it, for which an option counts."""

    choice: "Choice[str]"
    value: str


@dataclass(frozen=True, slots=True)
class Choice(Generic[T_co]):
    """One of several values; the first is the usual one. `reader` reads what the terminal takes besides the words."""

    key: str
    label: str
    help: str
    offers: tuple[Offer[T_co], ...]
    only: Only | None = None
    flag: str = ""
    metavar: str = ""
    reader: Callable[[str], str] | None = None
    in_terminal: bool = True
    own, kept = False, True

    @property
    def usual(self) -> T_co:
        return self.offers[0].value

    @property
    def values(self) -> Mapping[str, T_co]:
        return {str(offer.value): offer.value for offer in self.offers}

    def taken(self, held: Held) -> T_co:
        return self.values.get(str(held), self.usual)

    def typed(self, text: str) -> str:
        """The value of a word typed in the terminal. Raises ValueError with a sentence."""
        words = {offer.word: str(offer.value) for offer in self.offers if offer.word}
        if self.reader is not None:
            return self.reader(text)
        if text not in words:
            raise ValueError(f"“{text}” is none of {', '.join(words)}.")
        return words[text]


@dataclass(frozen=True, slots=True)
class Words:
    """A text. `own`: it belongs to one design of one study, not to whoever draws."""

    key: str
    label: str
    help: str
    own: bool = False
    only: Only | None = None
    flag: str = ""
    kept: bool = True  # from one day to the next
    in_terminal = True

    @property
    def usual(self) -> str:
        return ""

    def taken(self, held: Held) -> str:
        return "" if held is None else str(held)

    def typed(self, text: str) -> str:
        return text


@dataclass(frozen=True, slots=True)
class Day(Words):
    """A date as text: today's unless another is given, so never remembered."""

    kept: bool = False

    @property
    def usual(self) -> str:
        return date.today().isoformat()


@dataclass(frozen=True, slots=True)
class Amount(Generic[N]):
    """A number, with all a form says of it in its field. `empty` are the words for none, where there may be none."""

    field: Field[float]
    usual: N
    empty: str = ""
    only: Only | None = None
    flag: str = ""
    own, kept, in_terminal = False, True, True

    @property
    def key(self) -> str:
        return self.field.name

    @property
    def label(self) -> str:
        return self.field.label

    @property
    def help(self) -> str:
        return self.field.help

    def taken(self, held: Held) -> N:
        if held is None or held == "":
            return None if self.empty else self.usual  # type: ignore[return-value]  # none: then N has None in it
        try:
            return self.typed(str(held))
        except ValueError:
            return self.usual

    def typed(self, text: str) -> float:
        """The number typed in the terminal. Raises ValueError with a sentence."""
        value = read(text).value
        if (objection := self.field.objection(value)) is not None:
            raise ValueError(objection)
        return value


Option = Choice[str] | Words | Amount[float] | Amount[float | None]


@dataclass(frozen=True, slots=True)
class Group:
    """Options that stand together under a heading."""

    heading: str
    options: tuple[Option, ...]


@dataclass(frozen=True, slots=True)
class Request:
    """Everything that is said about an export: what an option was set to, by its key, and whose export it is.

    An option that is not there, or does not count beside the others, has its usual value. The trials of `study` go into
    the report; `progress` hears of each page.
    """

    values: Mapping[str, Held] = field(default_factory=dict)
    study_file: str = ""
    study: Study | None = None
    progress: Progress = field(default=SILENT, compare=False)
    lengths: LengthUnit = MILLIMETRES  # of everything that is read; what machines read stays in mm

    @overload
    def __getitem__(self, option: Choice[T_co]) -> T_co: ...
    @overload
    def __getitem__(self, option: Words) -> str: ...
    @overload
    def __getitem__(self, option: Amount[N]) -> N: ...
    def __getitem__(self, option: Choice[T_co] | Words | Amount[N]) -> T_co | str | N:
        if option.key not in self.values or not self.counts(option):
            return option.usual
        return option.taken(self.values[option.key])

    def counts(self, option: Option) -> bool:
        """Whether the option has an effect beside what else is set."""
        return option.only is None or self[option.only.choice] == option.only.value


def flag_of(option: Option) -> str:
    """The option's flag in the terminal."""
    return option.flag or f"--{option.key.replace('_', '-')}"


OWNER = Words("owner", "Legal owner", "Whose document it is")
APPROVED = Words("approved", "Approved by", "Who takes responsibility for it")
SINCE = Words("since", "Changes since", "An earlier revision of this study, as a file: what differs from it is listed",
              kept=False)  # fmt: skip
CREATOR = Words("creator", "Created by", "Who draws it and is responsible for it")
DATE = Day("date", "Date of issue", "As year-month-day; today unless you say otherwise")
