"""Numbers as people read and write them, once: boxes, tables and files read with it, and every text is written with it.

Read: decimal point or comma, minus sign or hyphen, spaces between groups of three digits, a per cent sign behind.
What is no number, or could be two, is refused or told, never guessed. Written: a true minus, and between thousands
the narrow no-break space of ISO 80000-1, from five digits on (SI Brochure, 9th edition, 5.4.4: four are not parted).
What machines read (JSON, CSV, DXF) is written with `plainly` or the format's own writer, in plain signs. Dates and
yes or no of tables are here too. Every refusal is a ValueError with one sentence.
"""

import re
from dataclasses import dataclass
from datetime import datetime
from math import isfinite

MINUS, THOUSANDS, NOTHING = "\u2212", "\u202f", "\u2013"
LARGEST = 1e100  # so that its square, and the sum of many, are numbers still

_SPACES = re.compile("[ \t\u00a0\u2007\u2009\u202f]+")  # as typed, no-break, of a digit's width, thin, narrow no-break
_NUMBER = re.compile(
    r"(?P<sign>[+-]?) ?"
    r"(?P<whole>[0-9]{1,3}(?: [0-9]{3})+|[0-9]*)"
    r"(?:[.,](?P<part>[0-9]{3}(?: [0-9]{3})*(?: [0-9]{1,3})?|[0-9]*))?"
    r"(?P<power>[eE][+-]?[0-9]+)? ?%?"
)
_WRITTEN = re.compile(f"[+{MINUS}-]?[0-9]+(?:[{THOUSANDS},][0-9]{{3}})*(?:[.,][0-9]+)?(?:[eE][+{MINUS}-]?[0-9]+)?")
_HYPHEN = re.compile(r"(?<![\w)\u2212-])-(?=\d)")
_MINUS_NOTHING = re.compile(r"(?<![\w)\u2212-])-(?=0+(?:\.0+)?(?![\d.]))")
_FIXED = re.compile(r"(\+?)\.(\d+)f")
_FINER = 4  # decimals more, at most, to tell two numbers apart
_MEASURE = re.compile(r"(?<![\w.,])[0-9]{5,}(?=(?:\.[0-9]+)? (?:[kmµMG]?(?:Pa|J|N|W|Hz|g|m|L|s)|rpm|t|h|min)\b)")
_YES = ("yes", "y", "true", "1", "x")
_NO = ("no", "n", "false", "0", "")
_EMPTY = ("", "-", "–", "—", "n/a", "na", "nan", "null", "none")


class Against(float):
    """A number told beside others: written with as many decimals as it takes to show that it is larger, or less.

    >>> f"{Against(4.546, 4.54):.1f} is more than 4.54"
    '4.55 is more than 4.54'
    >>> f"{Against(0.034, 0.0):.1f}"
    '0.03'
    """

    _others: tuple[float, ...]

    def __new__(cls, value: float, *others: float) -> "Against":
        told = super().__new__(cls, value)
        told._others = tuple(float(other) for other in others)
        return told

    def __format__(self, spec: str) -> str:
        value, fixed_point = float(self), _FIXED.fullmatch(spec)
        others = [other for other in self._others if isfinite(other) and other != value]
        if fixed_point is None or not others or not isfinite(value):
            return format(value, spec)
        sign, least = fixed_point[1], int(fixed_point[2])
        for decimals in range(least, least + _FINER + 1):
            text = f"{value:{sign}.{decimals}f}"
            if all(_tells(text, decimals, value, other) for other in others):
                return text
        return format(value, spec)


def _tells(text: str, decimals: int, value: float, other: float) -> bool:
    """Whether the value's text lies on its own side of the other number, and does not read like it."""
    shown = float(text)
    return shown != float(f"{other:.{decimals}f}") and shown != other and (shown > other) == (value > other)


@dataclass(frozen=True, slots=True)
class Reading:
    """A number as read, with its mark as the decimal one.

    `otherwise` is what it would be if the mark stood between thousands ("1,450" and "1.450" are 1.45 or 1450,
    according to who wrote them); None where it can be one number only. Boxes show at once what they took; a table of
    unknown convention has to ask.
    """

    value: float
    otherwise: float | None = None
    per_cent: bool = False  # a per cent sign stood behind

    @property
    def is_ambiguous(self) -> bool:
        return self.otherwise is not None


def read(text: str) -> Reading:
    """The number that a text is. Raises ValueError for anything else: words, nan, inf, underscores, what overflows."""
    plain = _SPACES.sub(" ", text.strip()).replace(MINUS, "-")
    found = _NUMBER.fullmatch(plain)
    if found is None or not (found["whole"] or found["part"]):
        raise ValueError(f"“{_short(text)}” is not a number{_hint(plain)}.")
    whole, part, power = (found[name].replace(" ", "") if found[name] else "" for name in ("whole", "part", "power"))
    value = float(f"{found['sign']}{whole or '0'}.{part or '0'}{power}")
    if not abs(value) <= LARGEST:
        raise ValueError(f"“{_short(text)}” is too large a number.")
    like_groups = len(part) == 3 and 1 <= len(whole) <= 3 and not whole.startswith("0")
    doubtful = like_groups and not power
    return Reading(value, float(f"{found['sign']}{whole}{part}") if doubtful else None, plain.endswith("%"))


def number_of(cell: str) -> float | None:
    """The number of a table's cell; None for an empty cell, and for the signs and words that stand for one."""
    return None if cell.strip().lower() in _EMPTY else read(cell).value


def numbers_of(cell: str) -> tuple[float, ...]:
    """Several numbers in one cell, kept apart by slashes: '2.4 / 2.6'."""
    found = (number_of(part) for part in cell.split("/"))
    return tuple(value for value in found if value is not None)


def yes_or_no(text: str) -> bool | None:
    """Yes or no; None for an empty cell."""
    word = text.strip().lower()
    if not word:
        return None
    if word in _YES or word in _NO:
        return word in _YES
    raise ValueError(f"“{_short(text)}” is neither yes nor no.")


def moment_of(text: str) -> datetime:
    """A date, with or without a time, as ISO 8601 has it: 2031-03-03, 2031-03-03T08:00."""
    try:
        return datetime.fromisoformat(text.strip())
    except ValueError:
        raise ValueError(f"“{_short(text)}” is not a date such as 2031-03-03 or 2031-03-03T08:00.") from None


def fixed(value: float, decimals: int, signed: bool = False) -> str:
    """With so many decimals; a dash for what is no number. `signed`: with a plus too. A zero has no sign."""
    return _printed(f"{value:.{decimals}f}", signed) if isfinite(value) else NOTHING


def trimmed(value: float, decimals: int) -> str:
    """The same without needless zeros: a measure."""
    return _bare(fixed(value, decimals))


def significant(value: float, digits: int = 6, signed: bool = False) -> str:
    """With at most so many significant figures, no zeros behind; very large and very small ones with a power of ten."""
    if not isfinite(value):
        return NOTHING
    mantissa, _, power = f"{value:.{digits - 1}e}".partition("e")
    if -5 <= int(power) < 15:
        return _printed(_bare(f"{float(mantissa + 'e' + power):.{max(digits - 1 - int(power), 0)}f}"), signed)
    return f"{_printed(_bare(mantissa), signed)}e{int(power)}".replace("-", MINUS)


def editable(value: float, decimals: int) -> str:
    """For a box: at least its decimals, more where the value has more, so that what is shown is what is held.

    Without marks between thousands, which would be in the way of whoever types.
    """
    text = f"{value:.{decimals}f}"
    if float(text) != value:
        text = max(_bare(f"{value:.{max(decimals, 4)}f}"), text, key=len)
    return _printed(text, signed=False).replace(THOUSANDS, "")


def plainly(value: float) -> str:
    """For machines: the shortest text that reads back as the very same number."""
    return repr(int(value)) if value == int(value) and abs(value) < 1e15 else repr(float(value))


def in_plain_signs(text: str) -> str:
    """A written number as a spreadsheet or program takes it; any other text as it is."""
    return text.replace(THOUSANDS, "").replace(MINUS, "-") if is_number(text) else text


def is_number(text: str) -> bool:
    """Whether a text is one written number and nothing else."""
    return _WRITTEN.fullmatch(text) is not None


def with_minus(text: str) -> str:
    """A sentence with a true minus before every negative number, none before a nought; dates and standards stay."""
    return _HYPHEN.sub(MINUS, _MINUS_NOTHING.sub("", text)) if "-" in text else text


def as_printed(sentence: str) -> str:
    """A sentence with true minus signs, and marks between the thousands of numbers that have a unit behind."""
    return _MEASURE.sub(lambda found: _grouped(found[0]), with_minus(sentence))


def counted(count: int, one: str, many: str = "") -> str:
    """'1 check', '17 notes'; `many` where an s makes no plural."""
    return f"{_grouped(str(count))} {one if count == 1 else many or one + 's'}"


def _printed(text: str, signed: bool) -> str:
    """Python's writing of a number with the signs of print."""
    whole, mark, part = text.removeprefix("-").partition(".")
    sign = "" if not (whole + part).strip("0") else MINUS if text.startswith("-") else "+" if signed else ""
    return f"{sign}{_grouped(whole)}{mark}{part}"


def _grouped(digits: str) -> str:
    return f"{int(digits):,}".replace(",", THOUSANDS) if len(digits) > 4 else digits


def _bare(text: str) -> str:
    return text.rstrip("0").rstrip(".") if "." in text else text


def _hint(plain: str) -> str:
    if plain.count(",") + plain.count(".") > 1:
        return " (leave out the marks between thousands)"
    if re.fullmatch(r"[+-]?[0-9., ]+%?", plain) and " " in plain:
        return " (spaces belong between groups of three digits)"
    return ""


def _short(text: str) -> str:
    plain = "".join(c if c.isprintable() else " " for c in text.strip())
    return plain if len(plain) <= 30 else f"{plain[:29]}…"
