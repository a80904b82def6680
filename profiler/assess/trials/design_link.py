"""What differs between the two bowls of a trial besides the wall's curve, and what the trial says of the prediction.

A trial compares two bowls as they are. That one catches more does not show which of their differences did it; no
recovery is predicted anywhere. Not here: the predicted states themselves (prediction).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import pi
from typing import TypeVar

import numpy as np

from profiler.assess.shape.shape_stage import Shape
from profiler.assess.trials.prediction import Prediction
from profiler.geometry.groove_capacity import turned_volume
from profiler.statistics.trial.verdict import Verdict
from profiler.units import DEGREE, MM
from profiler.words import VerdictState

T = TypeVar("T")
ALIKE = 0.005  # of the larger: nearer than that two measures count as the same
LIMIT = "The trial compares two bowls. It does not show why they differ."
_FIRM = (VerdictState.WORTHWHILE, VerdictState.BELOW_WORTHWHILE, VerdictState.SIZE_OPEN)


@dataclass(frozen=True, slots=True)
class Measure:
    """One measure of a bowl, as the terminal and the window name it."""

    label: str
    unit: str
    decimals: int
    get: Callable[[Shape], float]


@dataclass(frozen=True, slots=True)
class Difference:
    """A measure in which the two bowls differ, reference and new."""

    label: str
    unit: str
    decimals: int
    reference: float
    new: float


def differences(predictions: Sequence[Prediction], verdict: Verdict | None) -> tuple[Difference, ...]:
    """Between the bowls compared, where the study holds both designs; nothing for measures that are alike."""
    shapes = _in_order(predictions, verdict, lambda p: None if p.evaluation is None else p.evaluation.shape)
    if shapes is None:
        return ()
    found = []
    for measure in MEASURES:
        first, second = (measure.get(shape) for shape in shapes)
        if abs(first - second) > ALIKE * max(abs(first), abs(second)):
            found.append(Difference(measure.label, measure.unit, measure.decimals, first, second))
    return tuple(found)


def of_prediction(predictions: Sequence[Prediction], verdict: Verdict | None) -> str:
    """One sentence on what the trial says of the prediction, and its limit; empty where nothing was predicted."""
    states = _in_order(predictions, verdict, lambda p: p.states or None)
    if states is None or verdict is None:
        return ""
    return f"{_said(states, verdict)} {LIMIT}"


def _said(states: Sequence[tuple[tuple[str, int], ...]], verdict: Verdict) -> str:
    if verdict.state is VerdictState.NOT_FAIR:
        return "The comparison is not fair, so it says nothing for or against the predicted states."
    if states[0] == states[1]:
        return "The same states are predicted for both designs, so the trial does not test the prediction."
    if verdict.state not in _FIRM or not verdict.favours:
        return "The trial does not tell the designs apart, so it says nothing for or against the predicted states."
    better = 1 if verdict.favours == verdict.new else 0
    turned = [sum(count for words, count in of if "overturn" in words) for of in states]
    more = turned[better] - turned[1 - better]
    predicted = "as many grooves as" if more == 0 else f"{'more' if more > 0 else 'fewer'} grooves than"
    return (
        f"“{verdict.favours}”, which recovered more, is the design in which {predicted} in the other are predicted to "
        f"overturn ({turned[better]} against {turned[1 - better]})."
    )


def _in_order(
    predictions: Sequence[Prediction], verdict: Verdict | None, get: Callable[[Prediction], T | None]
) -> tuple[T, T] | None:
    """Something of reference and new design; None where either lacks it, or there is no verdict."""
    if verdict is None:
        return None
    by_design = {p.design: get(p) for p in predictions}
    first, second = by_design.get(verdict.reference), by_design.get(verdict.new)
    return None if first is None or second is None else (first, second)


def _mean(values: Callable[[Shape], object]) -> Callable[[Shape], float]:
    return lambda shape: float(np.mean(found)) if np.size(found := np.asarray(values(shape))) else 0.0


def _holes(get: Callable[[Shape], object]) -> Callable[[Shape], float]:
    return lambda shape: 0.0 if shape.holes is None else float(np.sum(np.asarray(get(shape))))


def _wall_area_m2(shape: Shape) -> float:
    """Swept by the wall without its grooves."""
    height, radius = shape.stations.height * MM, shape.stations.radius * MM
    return float(2.0 * pi * np.trapezoid(radius / np.cos(shape.stations.angle), height))


MEASURES = (
    Measure("Grooves", "", 0, lambda shape: float(len(shape.mouths))),
    Measure("Groove mouth, mean", "mm", 2, _mean(lambda shape: shape.cut.mouth)),
    Measure("Groove depth, mean", "mm", 2, _mean(lambda shape: shape.cut.depth)),
    Measure("Volume of all grooves", "L", 3, lambda s: float(np.sum(turned_volume(s.contours.corners))) * 1e-6),
    Measure("Water holes", "", 0, _holes(lambda shape: shape.holes.rings.count if shape.holes else 0.0)),
    Measure("Area of all holes", "mm²", 1, _holes(lambda s: s.holes.rings.area / MM**2 if s.holes else 0.0)),
    Measure("Wall area", "m²", 4, _wall_area_m2),
    Measure("Radius at the floor, where feed enters", "mm", 1, lambda shape: shape.floor_radius),
    Measure("Wall angle at the floor", "°", 1, lambda shape: float(shape.stations.angle[0]) / DEGREE),
    Measure("Lip radius", "mm", 1, lambda shape: shape.lip_radius),
)
