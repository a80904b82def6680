"""How fast a wall wears: from two measured profiles, from one and the drawing, or as typed; and hours until a limit.

Nothing is predicted here: a rate comes from whoever types it or from two measurements, and is led on in a straight
line. Its range is what the measuring leaves open, not what a mill may do.
"""

import re
from dataclasses import dataclass
from math import inf, isfinite

import numpy as np

from profiler.assess.worn.laid_over import LaidOver
from profiler.geometry.wall import FloatArray
from profiler.numbers import as_printed, fixed, read, significant

PROMISE = "Rate from you or two measured profiles. Nothing is predicted about wear or failure."
BANDS = 12  # of the wall's height, over each of which the lands' deviations are averaged
EVEN_HEIGHTS = 401
PER = 1000.0  # hours a rate is told for


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """Something along the wall: values at rising heights (k,), linear between them and even beyond."""

    height: FloatArray
    value: FloatArray

    def at(self, height: FloatArray) -> FloatArray:
        return np.asarray(np.interp(height, self.height, self.value))

    def times(self, factor: float) -> "Course":
        return Course(self.height, self.value * factor)

    @property
    def most(self) -> float:
        return float(np.max(self.value))


@dataclass(frozen=True, slots=True, eq=False)
class Rate:
    """Wear square to the wall, mm in 1,000 h, and how far each way it may be off (0: nobody said)."""

    course: Course
    plus_minus: float
    source: str  # in words

    @property
    def even(self) -> bool:
        return bool(np.ptp(self.course.value) == 0.0)

    @property
    def words(self) -> str:
        low, high = float(np.min(self.course.value)), self.course.most
        span = fixed(high, 3) if self.even else f"{fixed(low, 3)} to {fixed(high, 3)}"
        doubt = f" ± {fixed(self.plus_minus, 3)}" if self.plus_minus > 0.0 else ""
        return as_printed(f"{span}{doubt} mm in 1,000 h, {'even' if self.even else 'by height'}, {self.source}")


def lands_course(over: LaidOver, even: bool = False) -> Course:
    """Mean deviation of the lands, over the wall's height or band by band. Raises ValueError where no point is on one.

    Bands weigh by height, not by how many points a probe took in each.
    """
    height, off = over.place[over.on_land, 1], over.deviation[over.on_land]
    if not len(off):
        raise ValueError(f"No point of “{over.profile.name}” lies on a land of the drawn wall.")
    edges = np.linspace(0.0, over.shape.height, BANDS + 1)
    band = np.clip(np.searchsorted(edges, height, side="right") - 1, 0, BANDS - 1)
    there = np.unique(band)
    course = Course(
        np.array([float(np.mean(height[band == k])) for k in there]),
        np.array([float(np.mean(off[band == k])) for k in there]),
    )
    if not even:
        return course
    return _everywhere(float(np.mean(course.at(np.linspace(0.0, over.shape.height, EVEN_HEIGHTS)))))


def rate_between(first: LaidOver, second: LaidOver, even: bool, off_by_mm: float) -> Rate:
    """From two profiles of one casting, each right to ± `off_by_mm`. Raises ValueError where hours do not tell."""
    one, other = first.profile, second.profile
    hours = other.hours - one.hours
    if not hours > 0.0:
        raise ValueError(
            f"“{other.name}” was measured at {other.hours:g} h and “{one.name}” at {one.hours:g} h: a rate needs two "
            "ages, the first of the new casting or the less worn one."
        )
    if one.serial != other.serial:
        raise ValueError(f"“{one.name}” and “{other.name}” are of two castings: what they differ by is not wear alone.")
    if one.design != other.design:
        raise ValueError(f"“{one.name}” and “{other.name}” were laid over two drawings, so no wear follows.")
    before, after = lands_course(first, even), lands_course(second, even)
    worn = Course(after.height, (after.value - before.at(after.height)) * PER / hours)
    return Rate(worn, 2.0 * off_by_mm * PER / hours, f"from “{one.name}” and “{other.name}”")


def rate_since_new(over: LaidOver, even: bool, off_by_mm: float, cast_within_mm: float) -> Rate:
    """From one profile and the drawing: what the casting itself was off counts as wear, so it widens the range."""
    hours = over.profile.hours
    if not hours > 0.0:
        raise ValueError(f"“{over.profile.name}” is of a new casting: a rate needs hours.")
    doubt = (off_by_mm + cast_within_mm) * PER / hours
    source = f"from “{over.profile.name}” and the drawing, its casting within ± {cast_within_mm:g} mm"
    return Rate(lands_course(over, even).times(PER / hours), doubt, source)


def typed_rate(text: str) -> Rate:
    """“0.4”, “0.4 ± 0.1”, “0.3 to 0.5”, or by height “50: 0.2, 300: 0.6”. Raises ValueError, one sentence."""
    text = text.strip()
    if ":" in text:
        pairs = [_pair(part) for part in re.split(r"[,;]\s*(?=[^,;]*:)", text)]
        pairs.sort()
        heights, values = (np.array(column) for column in zip(*pairs, strict=True))
        if len(np.unique(heights)) < len(heights):
            raise ValueError(f"“{text}” gives one height twice: it has one rate.")
        return _checked(Rate(Course(heights, values), 0.0, "as typed"), text)
    for mark in ("±", "+-", "+/-"):
        if mark in text:
            value, doubt = (read(part).value for part in text.split(mark, 1))
            return _checked(Rate(_everywhere(value), doubt, "as typed"), text)
    span = re.split(r"\bto\b|\.\.|–", text)
    ends = sorted(read(part).value for part in span)
    if len(ends) > 2:
        raise ValueError(f"“{text}” is not a rate; write 0.4, 0.4 ± 0.1, 0.3 to 0.5, or 50: 0.2, 300: 0.6.")
    middle = 0.5 * (ends[0] + ends[-1])
    return _checked(Rate(_everywhere(middle), ends[-1] - middle, "as typed"), text)


def _pair(part: str) -> tuple[float, float]:
    height, value = part.split(":", 1)
    return read(height).value, read(value).value


def _everywhere(value: float) -> Course:
    return Course(np.array([0.0]), np.array([value]))


def _checked(rate: Rate, text: str) -> Rate:
    if float(np.min(rate.course.value)) < 0.0 or rate.plus_minus < 0.0 or not rate.course.most > 0.0:
        raise ValueError(f"A rate of {text} mm per 1,000 h wears nothing away: give one above 0.")
    return rate


@dataclass(frozen=True, slots=True)
class Hours:
    """When the first place has lost so much: hours since new, by the rate's middle and by its ends; inf: never."""

    limit_mm: float
    height_mm: float  # of that place
    middle: float
    early: float
    late: float
    already: float  # h it has run

    @property
    def sentence(self) -> str:
        what = f"{significant(self.limit_mm, 3)} mm are gone first at {fixed(self.height_mm, 0)} mm"
        if self.middle <= self.already:
            return as_printed(f"{what}, and were when it was last measured.")
        if self.early == self.late:
            return as_printed(
                f"{what}, after about {_hours(self.middle)}; no range follows, since the rate was given without one."
            )
        late = f"{_hours(self.late)}" if isfinite(self.late) else "an end that the measurements do not set"
        return as_printed(f"{what}, after {_hours(self.early)} to {late} ({_hours(self.middle)} by the rate's middle).")


def hours_until(
    limit_mm: float, rate: Rate, worn: Course | None = None, hours: float = 0.0, off_by_mm: float = 0.0
) -> Hours:
    """`worn`: mm already gone at `hours`, each right to ± `off_by_mm`. Raises ValueError for a limit that is none."""
    if not limit_mm > 0.0:
        raise ValueError("A limit of wear is above 0 mm.")
    worn = worn or Course(np.array([0.0]), np.array([0.0]))
    height = np.unique(np.concatenate((rate.course.height, worn.height)))
    speed, gone = rate.course.at(height), worn.at(height)

    def first(by: float, off: float) -> tuple[float, int]:
        pace = speed + by
        left = np.maximum(limit_mm - gone - off, 0.0)
        at = np.where(pace > 0.0, left * PER / np.where(pace > 0.0, pace, 1.0), np.where(left > 0.0, inf, 0.0))
        i = int(np.argmin(at))
        return hours + float(at[i]), i

    middle, place = first(0.0, 0.0)
    early, late = first(rate.plus_minus, off_by_mm)[0], first(-rate.plus_minus, -off_by_mm)[0]
    return Hours(limit_mm, float(height[place]), middle, early, late, hours)


def _hours(value: float) -> str:
    return f"{fixed(round(value, -1) if value >= 100.0 else value, 0)} h"
