"""What is true at one height: the numbers under the crosshair, and what they mean in words."""

from dataclasses import dataclass

import numpy as np

from profiler.assess.evaluate.evaluation import Evaluation
from profiler.assess.flow.flow_stage import HIGH, LOW, MIDDLE
from profiler.assess.shape.slopes import slopes_of
from profiler.physics.slurry.overturn import State
from profiler.physics.slurry.surface import EXPOSURE_TOLERANCE
from profiler.units import DEGREE, GRAVITY, MM

DATUM = (
    "Datum: heights in mm above the bowl's inner floor, along the axis of rotation; wall angles from that axis, 0 "
    "upright, positive opening upward."
)


@dataclass(frozen=True, slots=True)
class Reading:
    """At one station; flow members are None where there is no flow."""

    height_mm: float
    radius_mm: float
    wall_deg: float
    groove: int | None  # number from 1, where the height lies in a mouth
    acceleration_g: float | None = None
    film_g: float | None = None
    repose_deg: tuple[float, float, float] | None = None
    margin_deg: float | None = None
    slope: int | None = None
    state: State | None = None
    buried_mm: float | None = None
    held_at_mm: float | None = None
    no_answer: str = ""  # in a few words why the slurry model says nothing

    @property
    def remark(self) -> str:
        """Why there is no answer; where slope and state say different things, why both are true."""
        if self.no_answer:
            return f"no answer: {self.no_answer}"
        if self.state is None or self.slope is None:
            return ""
        if self.slope > 0 and self.state in (State.SHELTERED, State.MATCHED) and self.held_at_mm is not None:
            return f"opens more than repose, but buried from above: held at {self.held_at_mm:.0f} mm"
        if self.slope < 0 and self.state in (State.WEAK, State.STRONG):
            return "stands steeper than repose, but the stream still falls here"
        return ""


def reading_at(e: Evaluation, height_mm: float) -> Reading | None:
    """The numbers of the station nearest to the height; None without a shape."""
    if e.shape is None:
        return None
    at = e.shape.stations
    i = int(np.argmin(np.abs(at.height - height_mm)))
    z = float(at.height[i])
    inside = np.flatnonzero((e.shape.mouths.lower <= z) & (z <= e.shape.mouths.upper))
    groove = int(inside[0]) + 1 if len(inside) else None
    base = (z, float(at.radius[i]), float(at.angle[i] / DEGREE), groove)
    if e.flow is None:
        return Reading(*base, no_answer=e.no_answer)
    flow = e.flow
    repose = flow.angle[0, :, i] / DEGREE
    slope = int(slopes_of(at.angle[i], flow.angle[0, LOW, i], flow.angle[0, HIGH, i]))
    depth = at.line.radius[i] - float(flow.bed.radius[0, MIDDLE, i])
    buried = float(depth / MM) if depth > EXPOSURE_TOLERANCE else 0.0
    held = float(flow.bed.held_at[0, MIDDLE, i] / MM) if buried > 0.0 else None
    return Reading(
        *base,
        acceleration_g=float(flow.acceleration[0, i] / GRAVITY),
        film_g=float(flow.film_acceleration[0, i] / GRAVITY),
        repose_deg=(float(repose[0]), float(repose[1]), float(repose[2])),
        margin_deg=float(at.angle[i] / DEGREE - repose[1]),
        slope=slope,
        state=State(int(flow.state[0, i])),
        buried_mm=buried,
        held_at_mm=held,
    )
