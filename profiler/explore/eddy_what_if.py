"""What if the wall at one groove stood otherwise: the design with that stretch turned, and the eddy along one number.

Turning a stretch moves what lies above or below it, as any edit of the wall does: the whole copy is evaluated, surface
from the lip down and film from the floor up, so that the curves pass through the present point by themselves.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from profiler.assess import Evaluation, Stages, evaluate
from profiler.assess.eddy.answers import middle_case
from profiler.assess.eddy.lids import Setting, stages_of
from profiler.assess.shape.held_ends import joined
from profiler.assess.shape.shape_stage import mouths_of, wall_of
from profiler.physics.eddy.flow import COARSE, Eddy
from profiler.progress import SILENT, Progress
from profiler.study import Design, Field
from profiler.study.edits.design_edits import Angles, move_knot
from profiler.study.records.design import GROOVE_DEPTH, KNOT_ANGLE
from profiler.study.records.duty import SOLIDS
from profiler.units import DEGREE, MM

WANTED = Stages.FLOW | Stages.FINDINGS | Stages.CATCH  # what the picture of a groove is made from
CLOSE_DEG = 0.005
TRIES = 8
FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Along:
    """What is varied: its field, and how far to either side of the present."""

    key: str
    field: Field[float]
    title: str
    spread: float
    count: int = 9
    relative: bool = False  # the spread is a share of the present value


ALONGS = (
    Along("angle", KNOT_ANGLE, "wall angle at the groove, °", 12.0),
    Along("depth", GROOVE_DEPTH, "depth of the grooves, mm", 0.6, relative=True),
    Along("solids", SOLIDS, "solids, % by mass", 16.0),
)


@dataclass(frozen=True, slots=True)
class Swept:
    """The groove along one number; nan where nothing is driven or nothing settled. Arrays (n,)."""

    along: Along
    groove: int
    present: int  # index of the present value
    x: FloatArray
    ratio: FloatArray
    power_w: FloatArray
    reach_mm: FloatArray
    floor_mm: FloatArray  # depth of the groove
    circulation_cm2_s: FloatArray
    claimed: NDArray[np.bool_]  # False where the film still comes up to speed: there the lid is that of repose


def angle_at(design: Design, groove: int) -> float:
    """Wall angle [deg] at the middle of a groove's mouth, numbered from 1."""
    wall = wall_of(design)
    return float(wall.angle_at(mouths_of(design, wall)[0].middle[groove - 1 : groove])[0]) / DEGREE


def turned(design: Design, groove: int, angle_deg: float) -> Design:
    """The design with both ends of the span a groove lies in turned alike, until the wall at it has this angle.

    Raises ValueError, one sentence, where the angles allowed or held ends do not let it.
    """
    if (objection := KNOT_ANGLE.objection(angle_deg)) is not None:
        raise ValueError(objection)
    heights = [k.height_mm for k in design.wall.knots]
    wall = wall_of(design)
    middle = float(mouths_of(design, wall)[0].middle[groove - 1])
    below = min(max(int(np.searchsorted(heights, middle, side="right")) - 1, 0), len(heights) - 2)
    turn, there = 0.0, design
    for _ in range(TRIES):
        missing = angle_deg - angle_at(there, groove)
        if abs(missing) <= CLOSE_DEG:
            break
        turn += missing
        there = _span_turned(design, below, turn)
    return there


def _span_turned(design: Design, below: int, turn: float) -> Design:
    lower, upper = design.wall.knots[below : below + 2]
    there = move_knot(design, below, None, round(lower.leaving + turn, 3), Angles(arriving=not lower.is_corner))
    there = move_knot(there, below + 1, None, round(upper.angle_deg + turn, 3), Angles(leaving=not upper.is_corner))
    for knot in there.wall.knots[below : below + 2]:
        for angle in (knot.angle_deg, knot.leaving):
            if (objection := KNOT_ANGLE.objection(angle)) is not None:
                raise ValueError(objection)
    return joined(there, below).design


def swept(
    e: Evaluation, groove: int, along: Along, setting: Setting, start: Eddy | None = None, progress: Progress = SILENT
) -> Swept:
    """The groove along one number, the present value among them; what cannot be built has no point."""
    present = _present(e, groove, along)
    values = _values(along, present)
    at = int(np.argmin(np.abs(values - present)))
    rows = np.full((len(values), 6), np.nan)
    eddy = start
    for done, i in enumerate((*range(at, len(values)), *range(at - 1, -1, -1))):
        progress.at(done / len(values))
        there = e if i == at else _evaluated(e, groove, along, float(values[i]))
        if there is not None:
            rows[i], eddy = _row(there, groove, setting, start if i == at - 1 else eddy)
    ratio, power, reach, floor, circulation, claimed = rows.T
    return Swept(along, groove, at, values, ratio, power, reach, floor, circulation, claimed > 0.0)


def _present(e: Evaluation, groove: int, along: Along) -> float:
    if along.field is KNOT_ANGLE:
        return angle_at(e.design, groove)
    return along.field.get(e.duty if along.field is SOLIDS else e.design)


def _values(along: Along, present: float) -> FloatArray:
    spread = along.spread * (present if along.relative else 1.0)
    found = np.linspace(present - spread, present + spread, along.count)
    return found[(found >= along.field.low) & (found <= along.field.high)]


def _evaluated(e: Evaluation, groove: int, along: Along, value: float) -> Evaluation | None:
    design, duty = e.design, e.duty
    try:
        if along.field is KNOT_ANGLE:
            design = turned(design, groove, value)
        elif along.field is SOLIDS:
            duty = SOLIDS.set(duty, value)
        else:
            design = along.field.set(design, value)
    except ValueError:
        return None
    there = evaluate(design, e.machine, duty, WANTED)
    known = there.shape is not None and there.flow is not None and there.catch is not None
    return there if known and there.shape is not None and groove <= len(there.shape.mouths) else None


def _row(e: Evaluation, groove: int, setting: Setting, start: Eddy | None) -> tuple[list[float], Eddy | None]:
    """Figures of one point in the order of `Swept`, and a flow to start the next one from."""
    shape, flow, _ = stages_of(e, groove)
    k = groove - 1
    own = [float(flow.groove_ratio[0, k]), float(flow.groove_power[0, k])]
    floor = float(shape.cut.depth[k])
    claimed = float(shape.mouths.middle[k] >= flow.entry[0])
    try:
        case = middle_case(e, groove, setting, COARSE, start).case
    except ValueError:
        case = None
    if case is None:
        return [*own, np.nan, floor, np.nan, claimed], start
    round_ = np.nan if case.circulation is None else case.circulation * 1e4
    return [*own, case.reach / MM, floor, round_, claimed], case.eddy
