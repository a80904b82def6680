"""The report's pictures: the window's own display lists, drawn again at the report's size."""

from profiler.assess import Evaluation
from profiler.assess.quantities.table import quantity
from profiler.assess.shape.shape_stage import Shape
from profiler.pictures.basics.axis import HeightAxis
from profiler.pictures.basics.display import Align, Label, Picture, Role
from profiler.pictures.basics.lengths import MILLIMETRES, LengthUnit
from profiler.pictures.strips.angle_strip import AngleScale, angle_range, angle_strip
from profiler.pictures.strips.groove_strip import groove_strip
from profiler.pictures.strips.gutter_strip import gutter
from profiler.pictures.strips.scene import Scene
from profiler.pictures.strips.section_strip import radius_scale, section_strip

HEIGHT = 400.0
WIDTHS = (58.0, 232.0, 350.0)  # gutter, angle, section: 640 px, the width of an A4 page's text
PAD = 26.0


def strips(e: Evaluation, shape: Shape, lengths: LengthUnit = MILLIMETRES) -> tuple[Picture, ...]:
    """Gutter, angle strip and section on one height axis."""
    scene = scene_of(e, shape, lengths)
    low, high = angle_range(scene)
    scale = AngleScale(low, high, 12.0, WIDTHS[1] - 12.0)
    section = radius_scale(scene, WIDTHS[2])
    return (
        gutter(scene, WIDTHS[0], HEIGHT),
        angle_strip(scene, scale, WIDTHS[1], HEIGHT),
        section_strip(scene, section, WIDTHS[2], HEIGHT),
    )


def table_strips(
    e: Evaluation, shape: Shape, keys: tuple[str, ...], lengths: LengthUnit = MILLIMETRES
) -> tuple[Picture, ...]:
    """A groove strip per quantity, its name above."""
    scene = scene_of(e, shape, lengths)
    width = 640.0 / max(len(keys), 1)
    return tuple(_headed(groove_strip(scene, quantity(key), width, HEIGHT), quantity(key).label) for key in keys)


def _headed(picture: Picture, words: str) -> Picture:
    head = Label(picture.width - 6.0, 12.0, words, Role.TEXT, Align.RIGHT, 9.0, bold=True)
    return Picture(picture.width, picture.height, (*picture.items, head))


def scene_of(e: Evaluation, shape: Shape, lengths: LengthUnit) -> Scene:
    """The whole bowl, its floor plate too, on one axis."""
    low, high = shape.shell.underside, shape.height
    room = 0.04 * (high - low)
    return Scene(e, e.design, HeightAxis(low - room, high + room, PAD, HEIGHT - PAD), lengths=lengths)
