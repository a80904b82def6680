"""What each face of a part is called, so that a reader of the solid can pick it by name."""

from profiler.assess.shape.shape_stage import Shape
from profiler.geometry.chain import Chain, FloatArray
from profiler.output.drawings.parts import Part
from profiler.output.step.profile import Point

GROOVE_PARTS = ("lower edge", "lower flank", "lower floor radius", "floor", "upper floor radius", "upper flank",
                "upper edge")  # fmt: skip


def face_names(chain: Chain, part: Part, shape: Shape) -> list[str]:
    """One name for each segment of a part's chain, as it lies before any shrinkage is added."""
    ends = [(_point(a), _point(b)) for a, b in zip(*chain.ends()[:2], strict=True)]
    if part is Part.SEAT:
        return ["seat" if a[1] != b[1] else "level face" for a, b in ends]
    grooves = _groove_names(shape)
    wall = {_point(place) for place in shape.edge.points}
    return [grooves.get(pair) or _plain_name(*pair, wall, part, shape) for pair in ends]


def _groove_names(shape: Shape) -> dict[tuple[Point, Point], str]:
    """By the two ends of a segment, whichever way it runs."""
    found = {}
    for number, points in enumerate(shape.contours.points, 1):
        for k, what in enumerate(GROOVE_PARTS):
            a, b = _point(points[k]), _point(points[k + 1])
            found[a, b] = found[b, a] = f"groove {number} {what}"
    return found


def _plain_name(a: Point, b: Point, wall: set[Point], part: Part, shape: Shape) -> str:
    if a in wall and b in wall:
        return "wall"
    level, upright = a[1] == b[1], a[0] == b[0]
    if upright and a[0] == shape.shell.hub_radius:
        return "hub hole" if part is Part.LINER else "bore"
    if level:
        heights = {0.0: "floor", shape.height: "lip", shape.shell.underside: "underside",
                   shape.shell.flange_underside: "flange underside"}  # fmt: skip
        return heights.get(a[1], "level face")
    return "flange rim" if upright and a[0] == shape.shell.flange_radius else "outside"


def _point(pair: FloatArray) -> Point:
    return float(pair[0]), float(pair[1])
