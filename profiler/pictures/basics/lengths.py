"""Lengths as shown: millimetres, or inches by choice. Everything held, computed and written stays in millimetres."""

from dataclasses import dataclass

from profiler.numbers import fixed
from profiler.units import INCH_MM


@dataclass(frozen=True, slots=True)
class LengthUnit:
    name: str
    mm: float  # one of it in millimetres
    more_decimals: int  # than a number in mm has

    def shown(self, mm: float) -> float:
        return mm / self.mm

    def number(self, mm: float, decimals: int) -> str:
        return fixed(mm / self.mm, decimals + self.more_decimals)

    def text(self, mm: float, decimals: int) -> str:
        return f"{self.number(mm, decimals)} {self.name}"


MILLIMETRES = LengthUnit("mm", 1.0, 0)
INCHES = LengthUnit("in", INCH_MM, 2)
