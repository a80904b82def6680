"""What the computed eddy does to grains, by order of magnitude: how much of a bed it keeps moving, what it can lift.

A bed of fill f is the floor of the flow; the shear of the flow on it against what just moves a grain (Shields) says
whether the eddy would keep it moving. The depth it keeps moving is the least depth below the mouth at which a bed would
lie still, over the corners of the band: low to high, never one figure.

A grain that settles slower than the eddy rises is lifted in it. The closed forms of `catch` ask the exchange across the
mouth instead, a hundredth to a twenty-fifth of the stream; rising in the groove is not yet leaving it, so the computed
sizes are the larger, and say the most that could go.
"""

from dataclasses import dataclass

import numpy as np

from profiler.assess.catch.catch_stage import gangue_law, target_law
from profiler.assess.eddy.answers import Answer, Band, corners_of
from profiler.assess.eddy.lids import lid_of, stages_of
from profiler.assess.evaluate.evaluation import Evaluation
from profiler.assess.flow.flow_stage import at_grooves
from profiler.geometry.wall import FloatArray
from profiler.physics.eddy.flow import COARSE, Cause, Eddy, NoEddy, solve
from profiler.physics.eddy.samples import floor_shear
from profiler.physics.grains import real_grains, settling
from profiler.physics.rotor import rotation
from profiler.physics.slurry.film import critical_shields
from profiler.progress import SILENT, Progress
from profiler.study import Duty
from profiler.units import MICRON, MM

FILLS = (0.0, 0.25, 0.5, 0.75)  # of the beds whose shear is asked; between them its logarithm goes linearly
LIFT_EXPLAINED = (
    "The closed form asks how fast the mouth swaps its water with the stream; the computed figure how fast the eddy "
    "rises inside the groove. What is lifted need not leave, so the computed size is the most that could."
)


@dataclass(frozen=True, slots=True)
class Shear:
    """Largest shear on the beds of one corner, Pa, by their depth below the mouth, m: shallow last."""

    depth: tuple[float, ...]
    stress: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Moving:
    """Depth, m below the mouth, that the eddy keeps free of grains at rest. None where a flow did not settle."""

    gangue: Band | None
    target: Band | None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Lifted:
    """Sizes, m, over mean and fastest rise and the corners; beside them the closed forms, least and greatest."""

    washed: Band  # largest gangue grain that is lifted
    kept: Band  # smallest target grain that is not
    washed_closed: Band
    kept_closed: Band


@dataclass(frozen=True, slots=True)
class _Surroundings:
    """What the grains of a groove lie in, each (1, 1); SI."""

    field: FloatArray
    liquid: FloatArray
    viscosity: FloatArray
    fraction: FloatArray


def moving(e: Evaluation, found: Answer, progress: Progress = SILENT) -> Moving:
    """For gangue of the duty's d50 and for its target grain."""
    if found.case is None:
        return Moving(None, None, found.reason)
    shears: list[Shear] = []
    for count, (reynolds, loss) in enumerate(corners_of(found.setting)):
        shear = _shears(e, found, reynolds, loss, progress, count)
        if isinstance(shear, NoEddy):
            return Moving(None, None, shear.reason)
        shears.append(shear)
    at, duty = _surroundings(e, found.groove), e.duty
    density = float(stages_of(e, found.groove)[1].feed.solids_density[0])
    size = float(stages_of(e, found.groove)[1].feed.grain_size[0])
    whole = found.case.lid.groove.depth * found.case.lid.mouth
    return Moving(
        _kept_moving(shears, _critical(at, size, density), whole),
        _kept_moving(shears, _critical(at, duty.target_um * MICRON, duty.target_density_kg_m3), whole),
    )


def lifted(e: Evaluation, found: Answer) -> Lifted | None:
    """None where no closed eddy was found in the case or a corner."""
    mean = found.band(lambda c: None if c.measures.rise is None else c.measures.rise.mean * c.lid.speed)
    peak = found.band(lambda c: None if c.measures.rise is None else c.measures.rise.peak * c.lid.speed)
    if mean is None or peak is None:
        return None
    _, flow, catch = stages_of(e, found.groove)
    at, k = _surroundings(e, found.groove), found.groove - 1
    one: tuple[Duty, ...] = (e.duty,)
    return Lifted(
        _sizes(gangue_law(flow.feed, at.liquid, at.viscosity, at.field), at, (mean.low, peak.high)),
        _sizes(target_law(one, at.liquid, at.viscosity, at.field), at, (mean.low, peak.high)),
        Band(float(np.min(catch.washed[0, :, k])), float(np.max(catch.washed[0, :, k]))),
        Band(float(np.min(catch.kept[0, :, k])), float(np.max(catch.kept[0, :, k]))),
    )


def _shears(
    e: Evaluation, found: Answer, reynolds: float, loss: float, progress: Progress, count: int
) -> Shear | NoEddy:
    lid = lid_of(e, found.groove, loss)
    liquid = float(_surroundings(e, found.groove).liquid.item())
    depths, stresses = [], []
    start: Eddy | None = None if found.case is None else found.case.eddy
    for part, fill in enumerate(FILLS):
        progress.at((count + part / len(FILLS)) / 4.0)
        if lid is None:
            break
        eddy = solve(lid.filled(fill), lid.drive(reynolds), COARSE, start)
        if isinstance(eddy, NoEddy):
            if eddy.cause is Cause.REFUSED:  # too little water is left above so full a bed
                continue
            return eddy
        start = eddy
        depths.append((1.0 - fill) * lid.groove.depth * lid.mouth)
        stresses.append(floor_shear(eddy).largest * liquid * lid.speed**2)
    if not depths:
        return NoEddy(Cause.REFUSED, "No bed in this groove leaves room for an eddy above it.")
    return Shear(tuple(depths), tuple(stresses))


def _kept_moving(shears: list[Shear], critical: float, whole: float) -> Band:
    ends = [end for shear in shears for end in _ends(shear, critical, whole)]
    return Band(min(ends), max(ends))


def _ends(shear: Shear, critical: float, whole: float) -> tuple[float, float]:
    """Least and greatest depth at which a bed first moves, going up from the floor; (0, d) where none asked does."""
    if shear.stress[-1] < critical:
        return 0.0, shear.depth[-1]
    moves = np.log(np.array(shear.stress) / critical)
    still = next((i for i in range(len(moves) - 1, -1, -1) if moves[i] < 0.0), None)
    if still is None:
        return whole, whole
    (below, above), (deep, high) = (shear.depth[still], shear.depth[still + 1]), (moves[still], moves[still + 1])
    found = below + (above - below) * float(deep / (deep - high))
    return found, found


def _surroundings(e: Evaluation, groove: int) -> _Surroundings:
    """In the groove, whose bed turns with the bowl; the liquid is the film's, with its fines."""
    shape, flow, catch = stages_of(e, groove)
    k = slice(groove - 1, groove)
    radius = shape.wall.radius_at(shape.mouths.middle[k]) * MM
    field = rotation.acceleration(flow.feed.angular_speed[:1, None], radius)
    liquid, viscosity = (at_grooves(shape, a[:1, 0])[:, k] for a in (flow.carrier.density, flow.carrier.viscosity))
    return _Surroundings(field, liquid, viscosity, catch.in_place_fraction[:1, k])


def _critical(at: _Surroundings, size: float, density: float) -> float:
    """Pa that just move a grain of the bed."""
    number = settling.archimedes_number(size, density, at.liquid, at.viscosity, at.field)
    return float((critical_shields(np.cbrt(number)) * (density - at.liquid) * at.field * size).item())


def _sizes(law: real_grains.SizeLaw, at: _Surroundings, rises: tuple[float, float]) -> Band:
    def among(size: FloatArray) -> FloatArray:
        return real_grains.hindered(law(size), size, at.fraction, at.liquid, at.viscosity)

    low, high = (float(real_grains.size_that_settles(np.full((1, 1), v), among).item()) for v in rises)
    return Band(low, high)
