"""A measured profile read from a table of points or from a drawing; what it leaves in doubt is asked, never guessed.

Heights are from the bowl's inner floor. Two doubts are looked for against the drawing the bowl was made to: whether
lengths are millimetres, and whether heights run down from the lip.
"""

import re
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

import numpy as np

from profiler.assess.drawn.drawing import Drawing, UnreadableDrawing
from profiler.assess.drawn.inside import NoInnerLine, inner_line
from profiler.assess.drawn.laid_out import Laying, laid_out
from profiler.assess.drawn.pasted import pasted_points
from profiler.assess.drawn.read_dxf import read_dxf
from profiler.assess.shape.shape_stage import wall_of
from profiler.geometry.chain import Chain, FloatArray, arcs, length, sampled
from profiler.geometry.wall import Wall
from profiler.numbers import as_printed, fixed, significant
from profiler.study import Design
from profiler.study.files.disk import read_whole
from profiler.study.ledger.text_tables import text_of

TABLES = (".csv", ".txt", ".tsv")
UNITS_MM = {"mm": 1.0, "cm": 10.0, "inch": 25.4}
UNIT_WORDS = (("inch", r"(\b|_)(in|inch|inches)\b|\""), ("mm", r"(\b|_)mm\b"), ("cm", r"(\b|_)cm\b"))
ALIKE = 0.15  # of the drawn height, within which a measured height fits it
MOST_POINTS = 1000  # a study keeps of a profile
LEAST_POINTS = 3
STEP_MM = 1.0  # between points taken from a drawn line
CLEARLY_BETTER = 0.5  # of the median distance as it is: so near it lies turned over, and it is asked
NEAR_ENOUGH_MM = 2.0  # a median distance below this is no reason to ask


class Doubt(StrEnum):
    UNIT = "unit"
    WAY_UP = "way up"


class ProfileDoubt(ValueError):
    """What has to be said before a profile can be taken, as one sentence."""

    def __init__(self, doubt: Doubt, sentence: str) -> None:
        super().__init__(sentence)
        self.doubt = doubt

    @property
    def options(self) -> str:
        """By which the terminal is told."""
        return "--unit mm, cm or inch" if self.doubt is Doubt.UNIT else "--upside-down or --right-way-up"


@dataclass(frozen=True, slots=True)
class Said:
    """What its reader says; None: not said."""

    unit: str | None = None  # a key of UNITS_MM
    upside_down: bool | None = None


@dataclass(frozen=True, slots=True, eq=False)
class ReadProfile:
    """(n, 2) radius and height above the inner floor, mm, in their order; and what there is to say of the reading."""

    points: FloatArray
    notes: tuple[str, ...]


def read_profile(path: Path, design: Design, said: Said = Said()) -> ReadProfile:
    """Raises UnreadableDrawing, NoInnerLine or ProfileDoubt, each one sentence."""
    if path.suffix.lower() in TABLES:
        return pasted_profile(text_of(read_whole(path)[0], path.name), design, said, path.name)
    drawing = read_dxf(path)
    wall = wall_of(design)
    notes: tuple[str, ...] = ()
    if drawing.unit_mm is None:
        factor, notes = _factor(_extent(drawing), wall, said.unit, path.name)
    else:
        factor = 1.0 if said.unit is None else UNITS_MM[said.unit] / drawing.unit_mm
    points = _drawn(drawing, factor, bool(said.upside_down))
    if said.upside_down is None:
        _ask_which_way(points, wall, path.name)
    return _kept(points, notes)


def pasted_profile(text: str, design: Design, said: Said = Said(), name: str = "the pasted points") -> ReadProfile:
    """Of two columns, radius and height unless their heads say otherwise. Raises as `read_profile` does."""
    drawing = pasted_points(text, name)
    wall = wall_of(design)
    points = drawing.strokes[0].points
    unit = said.unit or _unit_of(text)
    factor, notes = _factor(float(np.ptp(points[:, 1])), wall, unit, name)
    points = points * factor
    if said.upside_down is None:
        _ask_which_way(points, wall, name)
    elif said.upside_down:
        points = _turned(points, wall)
    return _kept(points, notes)


def _unit_of(text: str) -> str | None:
    """The unit its first line names, or None."""
    head = next((line for line in text.splitlines() if line.strip()), "")
    return next((unit for unit, words in UNIT_WORDS if re.search(words, head, re.IGNORECASE)), None)


def _extent(drawing: Drawing) -> float:
    points = np.concatenate([s.points for s in drawing.strokes])
    return float(max(np.ptp(points[:, 0]), np.ptp(points[:, 1])))


def _factor(extent: float, wall: Wall, unit: str | None, name: str) -> tuple[float, tuple[str, ...]]:
    """Millimetres in one of its lengths; what fits the drawn height in mm, and in nothing else, is taken as that."""
    if unit is not None:
        return UNITS_MM[unit], ()
    drawn = float(wall.height[-1])
    fits = [u for u, mm in UNITS_MM.items() if abs(extent * mm - drawn) < ALIKE * drawn]
    if fits == ["mm"]:
        return 1.0, (f"No unit is said in {name}: taken as millimetres, since it is as high as the drawing then.",)
    maybe = f"; in {fits[0]} it would be as high as the drawing" if fits else ""
    raise ProfileDoubt(
        Doubt.UNIT,
        as_printed(
            f"No unit is said in {name}, {significant(extent, 4)} high where the drawn wall is {fixed(drawn, 1)} mm"
            f"{maybe}: say whether it is in mm, cm or inch."
        ),
    )


def _drawn(drawing: Drawing, factor: float, upside_down: bool) -> FloatArray:
    """Points of the inner line, its floor at height 0."""
    laid = laid_out(drawing, Laying(factor, 0, upside_down))
    if not laid.placed.chains:
        raise NoInnerLine("The drawing holds no line.")
    place = laid.roles.bowl if laid.roles.bowl is not None else 0
    inner = inner_line(laid.placed.chains[place])
    found = _along(inner.line)
    return found - [0.0, float(inner.foot[1])]


def _along(line: Chain) -> FloatArray:
    """Points of the line itself, not of its chords: every end of a segment, and others a step apart or less."""
    step = max(STEP_MM, length(line) / (MOST_POINTS - 2 * line.segments))
    parts = []
    for i in range(line.segments):
        piece = Chain(line.points[i : i + 2], np.array([line.bulges[i], 0.0]), closed=False)
        reach = float(np.hypot(*(piece.points[1] - piece.points[0])))
        _, radius, _, curved = arcs(piece)
        if curved[0]:
            parts.append(sampled(piece, step * step / (8.0 * float(radius[0])))[:-1])  # the sagitta of such a chord
        else:
            share = np.arange(max(int(np.ceil(reach / step)), 1))[:, None]
            parts.append(piece.points[0] + (piece.points[1] - piece.points[0]) * (share / len(share)))
    return np.concatenate((*parts, line.points[-1:]))


def _ask_which_way(points: FloatArray, wall: Wall, name: str) -> None:
    as_it_is, turned = (_median_away(p, wall) for p in (points, _turned(points, wall)))
    if as_it_is > NEAR_ENOUGH_MM and turned < CLEARLY_BETTER * as_it_is:
        raise ProfileDoubt(
            Doubt.WAY_UP,
            as_printed(
                f"Half the points of {name} lie {fixed(as_it_is, 1)} mm or more from the drawn wall, and only "
                f"{fixed(turned, 1)} mm with heights taken down from the lip: say whether it is upside down."
            ),
        )


def _turned(points: FloatArray, wall: Wall) -> FloatArray:
    """With heights measured down from the lip; a minus before them is taken as that."""
    return np.stack((points[:, 0], float(wall.height[-1]) - np.abs(points[:, 1])), axis=1)


def _median_away(points: FloatArray, wall: Wall) -> float:
    height = np.clip(points[:, 1], 0.0, float(wall.height[-1]))
    off = points[:, 0] - wall.radius_at(height)
    return float(np.median(np.hypot(off, points[:, 1] - height)))


def _kept(points: FloatArray, notes: tuple[str, ...]) -> ReadProfile:
    if len(points) < LEAST_POINTS:
        raise UnreadableDrawing(f"{len(points)} points are no profile: measure at least {LEAST_POINTS}.")
    if len(points) > MOST_POINTS:
        which = np.unique(np.linspace(0, len(points) - 1, MOST_POINTS).round().astype(int))
        notes = (*notes, f"Of {len(points)} points {len(which)} are kept, evenly along the line.")
        points = points[which]
    return ReadProfile(points, notes)
