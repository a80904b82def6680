"""What the section strip says of each groove's water: driven, in doubt or none, at once from the surface; and the
computed streamlines of the chosen groove where it is drawn large enough to show them."""

from collections.abc import Callable

import numpy as np

from profiler.assess.eddy.lids import Driving, driving
from profiler.assess.shape.shape_stage import Shape
from profiler.physics.slurry.overturn import State
from profiler.pictures.basics.display import Area, Dot, FloatArray, Item, Line, Role
from profiler.pictures.eddy.flow_lines import flow_items, flow_lines
from profiler.pictures.eddy.groove_view import frame_of, placed
from profiler.pictures.strips.scene import Scene

LEAST_MARK_PX = 8.0
LEAST_FLOW_PX = 26.0  # of a mouth
OUT_OF_SIGHT_PX = 20.0

Px = Callable[[FloatArray], FloatArray]  # of (n, 2) radii and heights in mm


def large_enough(scene: Scene, shape: Shape) -> bool:
    """Whether the chosen groove is drawn large enough for streamlines."""
    return scene.groove is not None and scene.groove <= len(shape.mouths) and bool(
        float(shape.cut.mouth[scene.groove - 1]) * scene.axis.scale >= LEAST_FLOW_PX
    )  # fmt: skip


def eddy_marks(scene: Scene, shape: Shape, px: Px) -> list[Item]:
    """Driven: a turning stroke with a head, twice as bold for strong. In doubt: a broken one. None: a level dash.

    Where there is no room for that, dots: large, small, hollow.
    All in one colour: bed and water lie below in tints of their own, on which the colours of the states are not seen.
    """
    if scene.shown is None or scene.shown.flow is None or not len(shape.mouths):
        return []
    centres = px(np.mean(shape.contours.corners, axis=1))
    sizes = 0.32 * np.minimum(shape.cut.mouth, shape.cut.depth) * scene.axis.scale
    flowing = _flow(scene, shape, px)
    items: list[Item] = []
    for i, state in enumerate(scene.shown.flow.groove_state[0].tolist()):
        x, y = centres[i].tolist()
        if not -OUT_OF_SIGHT_PX < y < scene.axis.bottom + OUT_OF_SIGHT_PX or (flowing and i + 1 == scene.groove):
            continue
        if state == State.NONE:
            continue  # nothing is claimed there, no eddy either
        items += _mark(driving(scene.shown, i + 1), state == State.STRONG, x, y, float(sizes[i]))
    return items + flowing


def _flow(scene: Scene, shape: Shape, px: Px) -> list[Item]:
    found = scene.computed
    if found is None or found.case is None or scene.groove is None or not large_enough(scene, shape):
        return []
    frame = frame_of(shape, scene.groove - 1)
    return flow_items(flow_lines(found.case.eddy), lambda points: px(placed(frame, points)), 1.0)


def _mark(driven: Driving, strong: bool, x: float, y: float, size: float) -> list[Item]:
    role = Role.EDDY
    if driven is Driving.NONE:
        return [Line(np.array([[x - 0.7 * size, y], [x + 0.7 * size, y]]), role, 1.6)]
    if 2.0 * size < LEAST_MARK_PX:
        return [Dot(x, y, 2.2 if strong else 1.4, role, driven is Driving.DRIVEN)]
    turn = np.linspace(0.35 * np.pi, 1.85 * np.pi if strong else 1.45 * np.pi, 18)
    ring = np.stack((x + size * np.cos(turn), y - size * np.sin(turn)), 1)
    if driven is Driving.IN_DOUBT:
        return [Line(ring, role, 1.4, (3.0, 3.0))]
    tip = ring[-1]
    along = (ring[-1] - ring[-2]) / np.hypot(*(ring[-1] - ring[-2]))
    side = np.array([-along[1], along[0]])
    head = np.array([tip - 5 * along + 3.2 * side, tip + along, tip - 5 * along - 3.2 * side])
    return [Line(ring, role, 2.2 if strong else 1.4), Area(head, role)]
