"""How a length is written: in millimetres, or in inches by choice. The one place that decides it.

Everything held, computed and filed stays in millimetres, and so does every sentence that is made below: what shows it
hands it through here on its way out (`told`, `cell`, `head`). A figure in inches has two decimals more than the same in
millimetres, three at least: an inch is 25.4 mm, so it is never coarser than what it stands for, and a typed 8 mm comes
back as 0.315 in. Lengths alone are turned: areas, velocities, unbalance, grains in µm, angles keep their units.
Standards' own words (tolerance tables, paper) keep theirs too.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Self

from profiler.numbers import MINUS, NOTHING, THOUSANDS, editable, fixed, plainly, read
from profiler.pictures.basics.display import Label, Picture
from profiler.units import INCH_MM

LEAST_DECIMALS = 3  # of inches in sentences and tables

_NUMBER = rf"[+{MINUS}-]?[0-9]+(?:[{THOUSANDS}][0-9]{{3}})*(?:\.[0-9]+)?"
_ONE = re.compile(rf"{_NUMBER}(?![\dx])")  # 14x is a count
_JOINED = r"(?:\s+(?:to|and|or|instead of|/|±)\s+|–)"  # two numbers that share the unit behind the last
_UNIT = r"\s+mm(?![²³\w/·])"
_BEFORE = rf"(?:(?<![\w.,{THOUSANDS}-])|(?<=[ØR]))"  # a diameter's and a radius's sign belong to no word
_BAND = rf"(?: \({_NUMBER} to {_NUMBER}\))?"  # before the unit or behind it
_MEASURE = rf"{_BEFORE}(?:{_NUMBER}{_BAND}{_JOINED})*(?:{_NUMBER}{_BAND}|{NOTHING}){_UNIT}{_BAND}"
_IN_MM = r"(?<=\bin )mm\b(?![²³/])"
_TYPED = re.compile(r"[0-9]+(?:[.,][0-9]+)?|(?<![.,])[.,][0-9]+")  # a span may be typed 0.3..0.5
_KEYED = re.compile(r"[a-z]_[a-z]")  # a quantity by its key, which says in which unit it is asked
_NAMED = "“[^”]*”"  # what a designer called something
_HEAD = re.compile(r"(?<![\w²³/.])(?<!\bg )(?<!\d )mm(?=$|[,;) ])|(?<=_)mm$")


@dataclass(frozen=True, slots=True)
class LengthUnit:
    name: str
    mm: float  # one of it in millimetres
    more_decimals: int  # than a number in mm has
    plural: str
    names: tuple[str, ...] = ()  # a designer's, that a sentence may hold without quotes

    def keeping(self, *names: str) -> Self:
        """The unit for sentences in which these names stand: what looks like a length in a name is none."""
        return replace(self, names=tuple(name for name in names if "mm" in name))

    def shown(self, mm: float) -> float:
        return mm / self.mm

    def number(self, mm: float, decimals: int) -> str:
        return fixed(mm / self.mm, decimals + self.more_decimals)

    def text(self, mm: float, decimals: int) -> str:
        return f"{self.number(mm, decimals)} {self.name}"

    @property
    def is_mm(self) -> bool:
        return self.mm == 1.0

    def told(self, sentence: str) -> str:
        """A sentence with every length in this unit.

        >>> INCHES.told("The jacket narrows to 4.0 mm between 190 and 260 mm; 3 g mm of 12 mm² at 5.0 mm/s.")
        'The jacket narrows to 0.157 in between 7.480 and 10.236 in; 3 g mm of 12 mm² at 5.0 mm/s.'
        """
        if self.is_mm or "mm" not in sentence:
            return sentence
        return self._told(sentence, lambda length: self.cell(length).replace("mm", self.name, 1))

    def told_both(self, sentence: str) -> str:
        """The same with the millimetres behind each, in brackets, as a sheet for a shop has them.

        >>> INCHES.told_both("Check dimension: overall height 330.0 mm.")
        'Check dimension: overall height 12.992 in [330.0 mm].'
        """
        if self.is_mm or "mm" not in sentence:
            return sentence
        return self._told(sentence, lambda length: f"{self.told(length)} [{length}]")

    def cell(self, text: str) -> str:
        """Plain numbers of millimetres, in a column or row whose head has the unit."""
        return text if self.is_mm else _ONE.sub(lambda found: self._figure(found[0]), text)

    def head(self, text: str) -> str:
        """A head, label or key of millimetres with this unit in it; any other as it is."""
        return text if self.is_mm else _HEAD.sub(self.name, text)

    def heads(self, text: str) -> bool:
        """Whether a head, label or key says that what stands under or behind it is in millimetres."""
        return _HEAD.search(text) is not None

    def labelled(self, text: str) -> str:
        """What stands beside a box, or says what it is: lengths in it turned, and the unit that it names.

        >>> INCHES.labelled("Rate, mm per 1,000 h"), INCHES.labelled("Angle of the knot at 115 mm")
        ('Rate, in per 1,000 h', 'Angle of the knot at 4.528 in')
        """
        return self.head(self.told(text))

    def boxed(self, text: str) -> str:
        """What a box holds in mm, one number or several, to be typed over in this unit: `typed` reads it.

        >>> INCHES.boxed("50: 0.2, 300: 0.6"), INCHES.boxed("land_mm=5")
        ('1.9685: 0.0079, 11.811: 0.0236', 'land_mm=5')
        """
        if self.is_mm or _KEYED.search(text):
            return text
        return _TYPED.sub(lambda found: self._to_type(found[0]), text)

    def typed(self, text: str) -> str:
        """In mm what was typed in this unit; what is no number is left to whoever reads it.

        >>> INCHES.typed("0.01 to 0,02"), INCHES.typed("soon")
        ('0.254 to 0.508', 'soon')
        """
        if self.is_mm or _KEYED.search(text):
            return text
        return _TYPED.sub(lambda found: plainly(self.in_mm(read(found[0]).value)), text)

    def in_mm(self, typed: float) -> float:
        """To the millionth, so that a number comes back as it was."""
        return typed if self.is_mm else round(typed * self.mm, 6)

    def _to_type(self, mm: str) -> str:
        decimals = len(re.split("[.,]", mm)[1]) if re.search("[.,]", mm) else 0
        return editable(self.shown(read(mm).value), max(decimals + self.more_decimals, LEAST_DECIMALS))

    def _told(self, sentence: str, written: Callable[[str], str]) -> str:
        others = (*map(re.escape, self.names), _NAMED)
        pattern = f"(?P<name>{'|'.join(others)})|(?P<word>{_IN_MM})|{_MEASURE}"

        def replaced(found: re.Match[str]) -> str:
            return found[0] if found["name"] else self.plural if found["word"] else written(found[0])

        return re.sub(pattern, replaced, sentence)

    def _figure(self, mm: str) -> str:
        decimals = len(mm.partition(".")[2])
        value = float(mm.replace(MINUS, "-").replace(THOUSANDS, ""))
        return fixed(value / self.mm, max(decimals + self.more_decimals, LEAST_DECIMALS), signed=mm.startswith("+"))


MILLIMETRES = LengthUnit("mm", 1.0, 0, "mm")
INCHES = LengthUnit("in", INCH_MM, 2, "inches")


def pictured(picture: Picture, unit: LengthUnit) -> Picture:
    """A picture with the lengths in its letterings in this unit; scales stay, and their titles say which they are."""
    if unit.is_mm:
        return picture
    items = tuple(replace(i, text=unit.told(i.text)) if isinstance(i, Label) else i for i in picture.items)
    return replace(picture, items=items)
