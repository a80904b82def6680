"""What the stream does along the wall at middle friction, as heights that add up: what a wanted wall is judged by.

Unlike the states, which grow more cautious as the friction band widens, these never see the band: nobody scores better
by knowing less. Above the entry height, where the film has come up to speed, every height is one of four: the stream
overturns strongly, weakly, the wall lies level with the surface, or a bed buries it. Between stations overfall and
threshold go linearly, so that heights change smoothly with the wall.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from profiler.assess.evaluate.evaluation import Evaluation
from profiler.assess.flow.flow_stage import MIDDLE, at_stations
from profiler.assess.quantities.quantity import Quantity, Scope
from profiler.assess.shape.stations import BoolArray
from profiler.geometry.wall import FloatArray
from profiler.physics.slurry.overturn import LEAST_SLOPE, STRONG_RATIO
from profiler.physics.slurry.surface import EXPOSURE_TOLERANCE
from profiler.units import MM

LEVEL_TOLERANCE_MM = 1.0  # overfall or bed up to here: the wall lies at the surface


@dataclass(frozen=True, slots=True)
class Course:
    """mm of height above the entry height; the first four add up to `counted`."""

    strong: float
    weak: float
    level: float
    buried: float
    exposed: float  # no bed over the lower edge: all of strong and weak, and what of level is not under its bed
    counted: float  # where a bed lies at all
    deepest_bed: float  # mm, measured radially

    @property
    def shares(self) -> tuple[float, float, float, float]:
        """Strong, weak, level, buried, of the height that counts; nan where none does."""
        if self.counted <= 0.0:
            return (np.nan,) * 4
        return tuple(part / self.counted for part in (self.strong, self.weak, self.level, self.buried))  # type: ignore[return-value]


def course_of(e: Evaluation, tolerance_mm: float = LEVEL_TOLERANCE_MM) -> Course | None:
    """Under the first duty; None where there is no flow, or the model has no answer.

    The signed distance of the wall from the surface is the overfall of the mouth imagined round each height: positive
    the stream falls by so much, negative the bed stands so deep.
    """
    if e.shape is None or e.flow is None or e.flow.answers.missing[0]:
        return None
    at, entry = e.shape.stations, float(e.flow.entry[0])
    bedded = e.flow.film.has_bed[0, MIDDLE][at.left_node]
    fall = e.flow.overfall[0, MIDDLE] / MM
    slope = np.maximum(at_stations(e.shape, np.tan(e.flow.film.slope[0, MIDDLE])), LEAST_SLOPE)
    over_strong = fall - STRONG_RATIO * at.imagined.mouth / MM * slope

    asked = (
        np.ones_like(fall),
        over_strong,
        np.maximum(over_strong, fall - tolerance_mm),
        np.maximum(over_strong, fall + tolerance_mm),
        fall + EXPOSURE_TOLERANCE / MM,
    )
    heights = heights_above_zero(at.height, np.stack(asked), entry, bedded).tolist()
    counted, strong, falling, not_buried, exposed = heights
    bed = np.where(at.height >= entry, e.flow.bed.buried(at.line)[0, MIDDLE], 0.0)
    return Course(
        strong=strong,
        weak=falling - strong,
        level=not_buried - falling,
        buried=counted - not_buried,
        exposed=exposed,
        counted=counted,
        deepest_bed=float(np.max(bed)) / MM,
    )


def heights_above_zero(
    height: FloatArray, values: FloatArray, low: float, counts: BoolArray | None = None
) -> FloatArray:
    """(k,) height above `low` over which each of k values (k, n) at stations, linear between them, is above zero.

    `counts` (n,) leaves out what lies above a station that does not count.

    >>> heights_above_zero(np.array([0.0, 10.0, 20.0]), np.array([[-1.0, 1.0, 1.0]]), 0.0)
    array([15.])
    """
    step = np.diff(height)
    if counts is not None:
        step = np.where(counts[:-1], step, 0.0)
    share = np.minimum(np.maximum((low - height[:-1]) / np.where(step > 0.0, step, 1.0), 0.0), 1.0)
    below = values[:, :-1] + share * (values[:, 1:] - values[:, :-1])
    above = values[:, 1:]
    change = np.abs(above - below)
    part = np.maximum(np.maximum(below, above), 0.0) / np.where(change > 0.0, change, 1.0)
    positive = np.where((below > 0.0) & (above > 0.0), 1.0, np.where((below > 0.0) | (above > 0.0), part, 0.0))
    return np.asarray(np.add.reduce(step * (1.0 - share) * positive, axis=1))


def _of(get: Callable[[Course], float]) -> Callable[[Evaluation], FloatArray]:
    def value(e: Evaluation) -> FloatArray:
        course = course_of(e)
        return np.array([np.nan if course is None else get(course)])

    return value


_SOURCE = "derived from the repose angle from the lip down"
_LIMITS = "at middle friction, whatever its band; above the entry height, where a bed lies"
_LEVEL = f"{LEVEL_TOLERANCE_MM:g} mm"

COURSE_QUANTITIES: tuple[Quantity, ...] = (
    Quantity("strong_height_mm", "Height that overturns strongly", "mm", 1, Scope.BOWL, _of(lambda c: c.strong),
             f"height where σ ≥ {STRONG_RATIO:g} m tan(θ_f − δ)", _SOURCE, _LIMITS),
    Quantity("weak_height_mm", "Height that overturns weakly", "mm", 1, Scope.BOWL, _of(lambda c: c.weak),
             f"height where σ is more than {_LEVEL} and less than that of a strong overturn", _SOURCE, _LIMITS),
    Quantity("level_height_mm", "Height level with the surface", "mm", 1, Scope.BOWL, _of(lambda c: c.level),
             f"height where σ lies between −{_LEVEL} and {_LEVEL} and the overturn is not strong", _SOURCE, _LIMITS),
    Quantity("buried_height_mm", "Height under a bed", "mm", 1, Scope.BOWL, _of(lambda c: c.buried),
             f"height where the bed is deeper than {_LEVEL}: σ below −{_LEVEL}", _SOURCE, _LIMITS),
    Quantity("exposed_height_mm", "Exposed height", "mm", 1, Scope.BOWL, _of(lambda c: c.exposed),
             "height where σ is not negative", _SOURCE, _LIMITS),
    Quantity("deepest_bed_mm", "Deepest bed above the entry height, where a bed lies", "mm", 1, Scope.BOWL,
             _of(lambda c: c.deepest_bed), "max (r_w − r_s)", _SOURCE, _LIMITS),
)  # fmt: skip
