"""A bowl as a page of text shows it: height and tape, wall angle against repose, and section, side by side."""

from profiler.assess import Evaluation
from profiler.pictures.basics.axis import HeightAxis
from profiler.pictures.basics.display import Picture
from profiler.pictures.strips.angle_strip import AngleScale, angle_range, angle_strip
from profiler.pictures.strips.gutter_strip import gutter
from profiler.pictures.strips.scene import Scene, lowest_mm
from profiler.pictures.strips.section_strip import radius_scale, section_strip

TOP, BOTTOM, ABOVE_MM = 12.0, 24.0, 12.0
GUTTER_SHARE, ANGLE_SHARE, LEFT, RIGHT = 0.1, 0.36, 30.0, 30.0


def still(e: Evaluation, width: float, height: float, ghost: Evaluation | None = None) -> tuple[Picture, ...]:
    """Three pictures from left to right; the evaluation has a shape."""
    if e.shape is None:
        raise ValueError("A bowl that cannot be built has no picture.")
    axis = HeightAxis(lowest_mm(e) - ABOVE_MM, e.shape.height + ABOVE_MM, TOP, height - BOTTOM)
    scene = Scene(e, e.design, axis, ghost)
    first, second = GUTTER_SHARE * width, ANGLE_SHARE * width
    third = width - first - second
    return (
        gutter(scene, first, height),
        angle_strip(scene, AngleScale(*angle_range(scene), LEFT, second - RIGHT), second, height),
        section_strip(scene, radius_scale(scene, third), third, height),
    )
