"""Numbers in cells of a file, and the file's own evidence for its decimal sign.

A number is read once, the same way in the whole file. What proves a decimal sign: a mark followed by other than three
digits, both marks in one number, a mark that occurs twice (it stands between thousands), a zero before it. "1,450" and
"1.450" prove nothing and are never guessed. Not here: which cells hold numbers (reading), numbers in boxes (numbers).
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from profiler.numbers import LARGEST, MINUS

EMPTY = frozenset(("", "-", "–", "—", "n/a", "na", "nan", "null", "none", "#n/a", ".", "..."))
POINT, COMMA = ".", ","

_SPACES = re.compile("[ \t\u00a0\u2007\u2009\u202f]+")
_CELL = re.compile(r"(?P<limit>[<>≤≥]=?)? ?(?P<sign>[+-]?) ?(?P<body>[0-9.,' ]*[0-9][.,]?)(?P<power>[eE][+-]?[0-9]+)? ?"
                   r"(?P<unit>%|[a-zA-Zµμ][a-zA-Z0-9µμ/³%. ]*)?")  # fmt: skip
_GROUPED = re.compile(r"[0-9]{1,3}(?:([ '.,])[0-9]{3})(?:\1[0-9]{3})*|[0-9]*")


@dataclass(frozen=True, slots=True)
class Written:
    """A number as written: digits with at most one mark of unsure meaning.

    `mark` is the single point or comma among them, empty where there is none. `proves` is the decimal sign that the
    number alone proves; where it has a mark and proves nothing the number is two. `limit` is '<' or '>'.
    """

    whole: str  # digits before the mark, no marks between thousands
    part: str  # digits behind it
    mark: str
    proves: str
    sign: str = ""
    power: str = ""
    limit: str = ""
    unit: str = ""

    @property
    def is_doubtful(self) -> bool:
        return bool(self.mark) and not self.proves

    def value(self, decimal: str) -> float:
        """The number, `decimal` being the file's sign; it matters where the number is doubtful only."""
        apart = not self.is_doubtful or self.mark == decimal
        digits = f"{self.whole or '0'}.{self.part or '0'}" if apart else f"{self.whole}{self.part}"
        value = float(f"{self.sign}{digits}{self.power}")
        if not abs(value) <= LARGEST:
            raise ValueError("The number is too large.")
        return value

    def value_if_any(self, decimal: str) -> float | None:
        """The same; None for a number too large to be one."""
        try:
            return self.value(decimal)
        except ValueError:
            return None


@dataclass(frozen=True, slots=True)
class At:
    """A cell of the file, to be named in a sentence."""

    line: int
    heading: str
    text: str

    @property
    def words(self) -> str:
        return f"line {self.line}, {self.heading}: “{self.text}”"


@dataclass(frozen=True, slots=True)
class Decimal:
    """The decimal sign of a file; `sign` is empty where it is in doubt. `point`, `comma`, `doubt`: first such cells."""

    sign: str
    likely: str
    point: At | None = None
    comma: At | None = None
    doubt: At | None = None


def is_empty(text: str, words: Iterable[str] = ()) -> bool:
    """Whether a cell stands for nothing recorded; `words`: further ones that do."""
    plain = text.strip().lower()
    return plain in EMPTY or plain in {word.strip().lower() for word in words}


def written(text: str) -> Written | None:
    """The number a cell holds, with its unit and limit; None for anything else."""
    plain = _SPACES.sub(" ", text.strip()).replace(MINUS, "-").replace("’", "'")
    found = _CELL.fullmatch(plain)
    if found is None:
        return None
    parts = _parts(found["body"].strip())
    if parts is None:
        return None
    whole, part, mark, proves = parts
    if mark and found["power"]:
        proves = proves or mark
    limit = (found["limit"] or "").replace("≤", "<").replace("≥", ">")[:1]
    return Written(whole, part, mark, proves, found["sign"], found["power"] or "", limit, (found["unit"] or "").strip())


def decimal_of(cells: Iterable[At], separator: str, answered: str = "", kept: bool = False) -> Decimal:
    """The file's decimal sign: as answered for this file, else by its own evidence, else as `kept` from another.

    Commas between columns speak for the point, since whoever writes decimal commas parts columns with semicolons or
    tabs; the other way round nothing follows.
    """
    proofs: dict[str, At] = {}
    doubts: dict[str, At] = {}
    for cell in cells:
        found = written(cell.text)
        if found is not None and found.proves:
            proofs.setdefault(found.proves, cell)
        elif found is not None and found.mark:
            doubts.setdefault(found.mark, cell)
    point, comma = proofs.get(POINT), proofs.get(COMMA)
    doubt = next(iter(doubts.values()), None)
    if len(proofs) == 1 and (kept or not answered):
        return Decimal(next(iter(proofs)), next(iter(proofs)), point, comma, doubt)
    if doubt is None:
        return Decimal(answered or POINT, POINT, point, comma, None)
    if not proofs and set(doubts) == {POINT} and separator == COMMA and not answered:
        return Decimal(POINT, POINT, None, None, doubt)
    likely = POINT if separator == COMMA else COMMA if separator == ";" else doubt.text[_last_mark(doubt.text)]
    return Decimal(answered, answered or likely, point, comma, doubt)


def _last_mark(text: str) -> int:
    return max(text.rfind(POINT), text.rfind(COMMA))


def _parts(body: str) -> tuple[str, str, str, str] | None:
    """Whole, part, single mark, proven decimal sign of digits with marks; None where they make no number."""
    marks = [c for c in body if c in ".,"]
    if not marks:
        return (_bare(body), "", "", "") if _GROUPED.fullmatch(body) else None
    last = marks[-1]
    before, _, behind = body.rpartition(last)
    behind = behind if behind.isdigit() or not behind else _bare(behind) if _grouped_part(behind) else " "
    if len(set(marks)) == 2:  # '1,450.5': the last of both is the decimal sign
        fits = marks.count(last) == 1 and _GROUPED.fullmatch(before) and " " not in before and behind != " "
        return (_bare(before), behind, last, last) if fits else None
    if len(marks) > 1:  # '1,450,000': it stands between thousands
        other = COMMA if last == POINT else POINT
        return (_bare(body), "", "", other) if _GROUPED.fullmatch(body) else None
    if behind == " " or not _GROUPED.fullmatch(before):
        return None
    like_groups = len(behind) == 3 and before.isdigit() and len(before) <= 3 and not before.startswith("0")
    return _bare(before), behind, last, "" if like_groups else last


def _grouped_part(text: str) -> bool:
    return re.fullmatch(r"[0-9]{3}(?: [0-9]{3})*(?: [0-9]{1,3})?", text) is not None


def _bare(text: str) -> str:
    return re.sub(r"[^0-9]", "", text)
