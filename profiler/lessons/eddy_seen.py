"""What lessons read of the computed eddy of one groove: worked out once for an evaluation that has its catch.

While a hand still moves, an evaluation has no catch: nothing is worked out then, and nothing is claimed.
"""

from dataclasses import replace
from math import nan

from profiler.assess import Evaluation
from profiler.assess.eddy.answers import Answer, Case, case_of, middle_case
from profiler.assess.eddy.lids import USUAL, Driving, driving
from profiler.numbers import NOTHING, fixed
from profiler.physics.eddy.flow import COARSE, NoEddy
from profiler.units import MM

KEPT = 8
_kept: list[tuple[object, int, bool, Case | None]] = []  # by the catch stage they belong to, newest last


def eddy_of(e: Evaluation, groove: int, turning: bool = True) -> Case | None:
    """None where nothing is driven, settles or is known yet. Not `turning`: the same lid over a bowl at rest."""
    if e.shape is None or e.catch is None or not 0 < groove <= len(e.shape.mouths):
        return None
    for catch, number, turns, case in _kept:
        if catch is e.catch and number == groove and turns is turning:
            return case
    try:
        found: Answer = middle_case(e, groove, USUAL)
    except ValueError:
        return None
    case = found.case
    if not turning and case is not None:
        still = replace(case.eddy.drive, rotation=0.0)
        other = case_of(case.lid, USUAL, still, COARSE, case.eddy)
        case = None if isinstance(other, NoEddy) else other
    _kept.append((e.catch, groove, turning, case))
    del _kept[:-KEPT]
    return case


def is_driven(e: Evaluation, groove: int) -> bool:
    if e.flow is None or e.shape is None or not 0 < groove <= len(e.shape.mouths):
        return False
    return driving(e, groove) is not Driving.NONE


def reach_mm(e: Evaluation, groove: int, turning: bool = True) -> float:
    """nan where there is none."""
    case = eddy_of(e, groove, turning)
    return nan if case is None else case.reach / MM


def still_mm(e: Evaluation, groove: int) -> float:
    case = eddy_of(e, groove)
    return nan if case is None else case.still_depth / MM


def millimetres(value: float) -> str:
    return NOTHING if value != value else f"{fixed(value, 1)} mm"


def two_decimals(value: float | None) -> str:
    return NOTHING if value is None else fixed(value, 2)
