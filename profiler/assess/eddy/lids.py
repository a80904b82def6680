"""What drives the eddy of one groove, from an evaluation: the section in the mouth's frame, the lid, the water below.

The lid is the film that leaves the lower edge, U^2 = V^2 + 2 a' sigma (1 - lambda), lagging by W + 2 w (1 - L) sigma
after its fall sigma: the marched film of `catch.exposed_film`, at middle friction. Whether anything is driven at all is
the surface's answer, and known at once. Lengths become mouths here, and velocities shares of the lid's speed.
"""

from dataclasses import dataclass, replace
from enum import StrEnum
from math import isfinite, pi

import numpy as np

from profiler.assess.catch.catch_stage import Catch
from profiler.assess.catch.exposed_film import exposed_film
from profiler.assess.evaluate.evaluation import Evaluation
from profiler.assess.flow.flow_stage import HIGH, LOW, MIDDLE, Flow
from profiler.assess.shape.shape_stage import Shape
from profiler.physics.eddy.flow import USUAL_REYNOLDS, Drive
from profiler.physics.eddy.section import Groove, Point
from profiler.physics.slurry.wall_film import LANDING_LOSS
from profiler.units import MM

SLOW, FAST = max(LANDING_LOSS), min(LANDING_LOSS)  # loss of the fall with which the lid moves slowest, fastest
USUAL_LOSS = LANDING_LOSS[1]


class Driving(StrEnum):
    """What the surface says of a groove: whether a stream passes that could turn its water."""

    DRIVEN = "driven"
    IN_DOUBT = "in doubt"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Setting:
    """What is chosen beside the study."""

    fill: float = 0.0  # of the groove with a bed: 0 empty, 1 level with the mouth
    reynolds: float = USUAL_REYNOLDS
    loss: float = USUAL_LOSS  # share of the fall lost in landing

    def checked(self) -> "Setting":
        """Itself. Raises ValueError, one sentence, for a number that no groove can have."""
        if not 0.0 <= self.fill <= 1.0:
            raise ValueError(f"The groove is {self.fill:g} full of a bed; the share lies between 0 and 1.")
        if not (isfinite(self.reynolds) and self.reynolds > 0.0):
            raise ValueError(f"A turbulent Reynolds number of {self.reynolds:g} is none; it lies above 0.")
        if not 0.0 <= self.loss <= 1.0:
            raise ValueError(f"The share of the fall lost in landing is {self.loss:g}; it lies between 0 and 1.")
        return self


USUAL = Setting()


@dataclass(frozen=True, slots=True)
class Section:
    """A groove by itself, driven or not."""

    groove: Groove  # empty, in mouths
    mouth: float  # m, from edge to edge
    wall_angle: float  # rad, of the mouth line


@dataclass(frozen=True, slots=True)
class Lid:
    """The film over one mouth, and what it passes. SI; the groove in mouths."""

    groove: Groove  # empty
    mouth: float  # m, from edge to edge
    wall_angle: float  # rad, of the mouth line
    angular_speed: float
    radius: float  # m, of the mouth's middle
    speed: float  # U, m/s in the plane
    lag_speed: float  # m/s by which it stays behind the bowl, after landing
    fall: float  # m, sigma; positive
    loss: float
    water: float  # m2/s through the floor, per length of rim
    at_low_friction: bool = False  # the fall is that of the band's lower end: the groove is matched

    def drive(self, reynolds: float) -> Drive:
        return Drive(
            reynolds=reynolds,
            rotation=2.0 * self.angular_speed * self.mouth / self.speed,
            wall_angle=self.wall_angle,
            lid_lag=self.lag_speed / self.speed,
            through_flow=self.water / (self.speed * self.mouth),
        )

    def filled(self, fill: float) -> Groove:
        return replace(self.groove, fill=fill)


def driving(e: Evaluation, groove: int) -> Driving:
    """Of a groove, numbered from 1; from the surface alone. ValueError where there is none."""
    if e.flow is None or not 1 <= groove <= e.flow.groove_state.shape[1]:
        raise ValueError(f"“{e.design.name}” has no flow at a groove {groove}.")
    fall = e.flow.groove_overfall[0, :, groove - 1]  # known below the entry height too, where no state is claimed
    if fall[HIGH] > 0.0:
        return Driving.DRIVEN
    return Driving.IN_DOUBT if fall[LOW] > 0.0 else Driving.NONE


def stages_of(e: Evaluation, groove: int) -> tuple[Shape, Flow, Catch]:
    """What an eddy is worked out from; ValueError with a sentence where something of it is missing."""
    if e.shape is None or e.flow is None or e.catch is None:
        why = f" No answer: {e.no_answer}." if e.no_answer else next((f" {f.text}" for f in e.findings), "")
        raise ValueError(f"“{e.design.name}” has no flow to look into as it stands.{why}")
    count = len(e.shape.mouths)
    if not 1 <= groove <= count:
        raise ValueError(f"“{e.design.name}” has no groove {groove}; it has {count}.")
    return e.shape, e.flow, e.catch


def lid_of(e: Evaluation, groove: int, loss: float = USUAL_LOSS) -> Lid | None:
    """The lid over a groove under the first duty; None where a bed lies over its mouth even at low repose.

    Of a matched groove, whose two ends of the repose band differ, it is that of low repose: the other drives nothing.
    Raises ValueError where the film over the wall has no answer.
    """
    if not 0.0 <= loss <= 1.0:
        raise ValueError(f"The share of the fall lost in landing is {loss:g}; it lies between 0 and 1.")
    shape, flow, _ = stages_of(e, groove)
    k = groove - 1
    falls = flow.groove_overfall[0, :, k]
    matched = driving(e, groove) is Driving.IN_DOUBT
    fall = float(falls[LOW if matched else MIDDLE])
    if not fall > 0.0:
        return None
    velocity, lag_speed, acceleration = _film(e, groove, loss)
    if not np.isfinite(velocity + lag_speed):
        raise ValueError("The film over the wall found no answer, so nothing is known of what drives this groove.")
    omega = float(flow.feed.angular_speed[0])
    edge = float(shape.mouths.lower_radius[k]) * MM
    section = section_of(shape, k)
    middle = float(shape.wall.radius_at(shape.mouths.middle[k : k + 1])[0]) * MM
    return Lid(
        groove=section.groove,
        mouth=section.mouth,
        wall_angle=section.wall_angle,
        angular_speed=omega,
        radius=middle,
        speed=float(np.sqrt(velocity**2 + 2.0 * acceleration * fall * (1.0 - loss))),
        lag_speed=lag_speed + 2.0 * omega * (1.0 - lag_speed / (omega * edge)) * fall,
        fall=fall,
        loss=loss,
        water=float(flow.water.ring[0, k]) / (2.0 * pi * middle),
        at_low_friction=matched,
    )


def section_of(shape: Shape, k: int) -> Section:
    """A groove (k from 0) in the mouth's frame: x from the lower edge to the upper, y toward the axis."""
    corners = shape.contours.corners[k]
    chord = corners[3] - corners[0]
    mouth = float(np.hypot(*chord))
    along = chord / mouth
    inward = np.array([-along[1], along[0]])
    x, y = (corners - corners[0]) @ along / mouth, (corners - corners[0]) @ inward / mouth
    points: list[Point] = list(zip(x.tolist(), y.tolist(), strict=True))
    cut = Groove(
        ((0.0, 0.0), points[1], points[2], (1.0, 0.0)),
        floor_radius=shape.cut.floor_radius / mouth,
        edge_radius=shape.cut.edge_radius / mouth,
    )
    return Section(cut, mouth * MM, float(np.arctan2(chord[0], chord[1])))


def doubts(e: Evaluation, groove: int) -> tuple[str, ...]:
    """What the evaluation itself cannot say of what drives a groove, in sentences."""
    shape, flow, _ = stages_of(e, groove)
    said = []
    entry = float(flow.entry[0])
    if float(shape.mouths.middle[groove - 1]) < entry:
        said.append(f"Below {entry:.0f} mm the film still comes up to speed: no state is claimed here.")
    if driving(e, groove) is Driving.IN_DOUBT:
        said.append(
            "Matched: this is the side of low friction; at high friction a bed lies over the mouth and drives nothing."
        )
    return tuple(said)


def _film(e: Evaluation, groove: int, loss: float) -> tuple[float, float, float]:
    """Velocity along the wall, lag speed and field of the film where it leaves the land below a groove."""
    shape, flow, catch = stages_of(e, groove)
    film, level = catch.film, len(LANDING_LOSS) - 1
    if loss in LANDING_LOSS:
        level -= LANDING_LOSS.index(loss)
    else:
        film, level = exposed_film(shape, flow, (loss,)), 0
    at = (0, level, groove - 1)
    return float(film.velocity[at]), float(film.lag_speed[at]), float(film.acceleration[at])
