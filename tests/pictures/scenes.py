"""Scenes to draw: an example on a fitted height axis, and the items of a picture by kind and role."""

from typing import TypeVar

import numpy as np
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.pictures.basics.axis import HeightAxis
from profiler.pictures.basics.display import Area, Dot, Item, Label, Line, Picture, Role, Strokes
from profiler.pictures.strips.scene import Scene
from profiler.study import Design
from profiler.study.files import examples

Kind = TypeVar("Kind", Area, Dot, Label, Line, Strokes)

STUDY = examples.read(examples.DEFAULT)
TOP_PX, BOTTOM_PX = 12.0, 508.0


def axis(low_mm: float = -24.0, high_mm: float = 344.0) -> HeightAxis:
    return HeightAxis(low_mm, high_mm, TOP_PX, BOTTOM_PX)


def scene(design: Design | None = None, on: HeightAxis | None = None, **members: object) -> Scene:
    """The default example, or another design on its machine and under its duty."""
    design = design or STUDY.design
    shown = evaluate(design, STUDY.machine, STUDY.duty)
    return Scene(shown, design, on or axis(), **members)


def grooved(**members: object) -> Design:
    return replace(STUDY.design, grooves=replace(STUDY.design.grooves, **members))


def fine(count: int = 60) -> Design:
    """So many grooves that their rows come closer than text is high."""
    return grooved(count=count, mouth_mm=1.5, depth_mm=2.0, floor_radius_mm=0.2, edge_radius_mm=0.1)


def of_kind(picture: Picture | list[Item], kind: type[Kind], role: Role | None = None) -> list[Kind]:
    items = picture.items if isinstance(picture, Picture) else picture
    return [i for i in items if isinstance(i, kind) and (role is None or i.role is role)]


def texts(picture: Picture) -> list[str]:
    return [label.text for label in of_kind(picture, Label)]


def numbers_in(item: Item) -> np.ndarray:
    """Every coordinate of an item."""
    if isinstance(item, Area | Line):
        return item.points.ravel()
    if isinstance(item, Strokes):
        return item.ends.ravel()
    return np.array([item.x, item.y])
