"""A sheet reduced to what any pen can draw: paths, filled heads, texts and hatch lines. CAD files want more."""

from dataclasses import dataclass

import numpy as np

from profiler.geometry.chain import FloatArray, sampled
from profiler.pictures.basics.display import hatch
from profiler.pictures.sheet.dimensions import parts_of
from profiler.pictures.sheet.items import Angle, Arrow, Dimension, Hatch, Path, Placed, Sheet, Text

SAG = 0.005  # mm on paper, between an arc and the chords a hatch is cut with


@dataclass(frozen=True, slots=True)
class Plain:
    """In the order of drawing: hatch first, so that nothing is covered."""

    hatches: tuple[FloatArray, ...]  # (n, 2, 2) straight lines
    paths: tuple[Path, ...]
    arrows: tuple[Arrow, ...]
    texts: tuple[Text, ...]
    pictures: tuple[Placed, ...]


def plain(sheet: Sheet) -> Plain:
    hatches: list[FloatArray] = []
    paths: list[Path] = []
    arrows: list[Arrow] = []
    texts: list[Text] = []
    pictures: list[Placed] = []
    for item in sheet.items:
        if isinstance(item, Dimension | Angle):
            parts = parts_of(item)
            paths += parts.lines
            arrows += parts.arrows
            texts.append(parts.text)
        elif isinstance(item, Hatch):
            hatches.append(hatch_lines(item))
        elif isinstance(item, Path):
            paths.append(item)
        elif isinstance(item, Arrow):
            arrows.append(item)
        elif isinstance(item, Text):
            texts.append(item)
        else:
            pictures.append(item)
    return Plain(tuple(hatches), tuple(paths), tuple(arrows), tuple(texts), tuple(pictures))


def hatch_lines(item: Hatch) -> FloatArray:
    """(n, 2, 2) lines at 45 degrees, `spacing` apart."""
    step = item.spacing * np.sqrt(2.0)  # along y
    found = [hatch(sampled(ring, SAG), step, 1.0) for ring in item.rings]
    return np.concatenate(found) if found else np.zeros((0, 2, 2))
