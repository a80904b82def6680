"""The profile DXF: a part as a closed chain of lines and arcs, for a lathe or a pattern maker.

Model space only, 1:1 in millimetres; no splines, blocks, hatches or dimensions, which some shops' readers drop or
mangle. As it comes X is the radius and Y the height above the inner floor. The dimensioned sheet is not here.
"""

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from profiler.assess.evidence.words import UNCALIBRATED_SHORT
from profiler.assess.findings.finding import NEVER_SPIN, not_checked_words
from profiler.assess.shape.shape_stage import EASED_TOLERANCE_MM, Shape
from profiler.geometry.chain import Chain, sampled
from profiler.output.drawings.parts import DATUM_WORDS, LAYERS, TITLES, Part, ProfileOptions, laid, part_chain
from profiler.output.formats.dxf_document import add_segments, document_bytes, new_document, plain_letters
from profiler.output.formats.segments import FLATTEST_SAG, ArcSegment, Point, is_closed, segments_of
from profiler.study import Machine
from profiler.study.files.file import write_whole

if TYPE_CHECKING:
    from ezdxf.document import Drawing

OUTLINE = "OUTLINE"
TEXT = "TEXT"
DATUM = "DATUM"
LARGEST_TEXT_MM = 5.0
LINE_PITCH = 1.6  # of the text height
MARK_MM = 10.0  # half length of the datum's cross
LETTER_WIDTH = 0.9  # of the text height, at most: what a line needs in any reader's font


@dataclass(frozen=True, slots=True)
class Written:
    """What a profile file holds. `closed`: every chain in it, told from the segments as written."""

    lines: int
    arcs: int
    closed: bool


def write_profile(
    path: Path,
    shape: Shape,
    *,
    design: str = "",
    stops: int = 0,
    full: bool = False,
    options: ProfileOptions | None = None,
    machine: Machine | None = None,
    slurry_model: str = UNCALIBRATED_SHORT,
) -> Written:
    """Write the half section, or both halves with `full`, whole or not at all.

    A bowl has a hub hole, so its full section is two closed chains, mirror images of each other. `stops` is the number
    of `stop` findings, which the file then states; `machine` is asked for its seat only, `slurry_model` says how that
    stands to measurements. Raises BowlFileError where the path cannot be written, ValueError where the part or its
    options make no sense.
    """
    options = options or ProfileOptions()
    half = part_chain(options.part, shape, machine)
    halves = [half, half.mirrored()] if full else [half]
    chains = [laid(chain, shape, options) for chain in halves]
    loops = [segments_of(chain) for chain in chains]
    lines = _statements(shape, design, stops, full, options, slurry_model)
    document = _document(chains, shape, lines, options)
    for loop in loops:
        add_segments(document.modelspace(), loop, LAYERS[options.part])
    write_whole(path, document_bytes(document))
    every = [segment for loop in loops for segment in loop]
    arcs = sum(isinstance(segment, ArcSegment) for segment in every)
    return Written(len(every) - arcs, arcs, all(is_closed(loop) for loop in loops))


def _document(chains: list[Chain], shape: Shape, lines: list[str], options: ProfileOptions) -> "Drawing":
    """The document with everything but the part itself.

    The plain profile keeps its texts in the bowl's empty middle, so that the extents are those of the section, and
    names its datum there; any other has them below, and a cross at its datum.
    """
    low, high = _extents(chains)
    height = _text_in_hollow(shape, lines)
    at = (shape.shell.hub_radius + height, 0.0)
    if not options.plain:
        height = min(LARGEST_TEXT_MM, 0.02 * max(high[0] - low[0], high[1] - low[1]))
        low, high = (min(low[0], -MARK_MM), min(low[1], -MARK_MM)), (max(high[0], MARK_MM), max(high[1], MARK_MM))
        at = (low[0], low[1] - LINE_PITCH * height * (len(lines) + 1))
        reach = at[0] + LETTER_WIDTH * height * max(map(len, lines))
        low, high = (low[0], at[1]), (max(high[0], reach), high[1])
    document = new_document(options.version, low, high)
    widths = options.version != "R12"
    for layer, width in ((LAYERS[options.part], 50), (TEXT, 35)):
        entry = document.layers.add(layer)
        if widths:
            entry.dxf.lineweight = width
    _add_text(document, lines, at, height)
    if options.plain:
        name = {"layer": TEXT, "style": "ISO", "insert": (at[0], 0.3 * height)}
        document.modelspace().add_text(f"{_datum_name(options)}, HEIGHT 0", height=0.6 * height, dxfattribs=name)
    else:
        _mark_datum(document, options, height)
    return document


def _extents(chains: list[Chain]) -> tuple[Point, Point]:
    points = np.concatenate([sampled(chain, 1e-5) for chain in chains])
    low, high = points.min(axis=0), points.max(axis=0)
    return (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))


def _statements(
    shape: Shape, design: str, stops: int, full: bool, options: ProfileOptions, slurry_model: str
) -> list[str]:
    across, along = ("Y", "X") if options.turning else ("X", "Y")
    datum = DATUM_WORDS[options.datum]
    lines = [
        f"{TITLES[options.part]}, {'FULL' if full else 'HALF'} SECTION, 1:1",
        f"DESIGN: {plain_letters(design) or '-'}",
        "ALL DIMENSIONS IN mm",
        f"{across} = RADIUS FROM SPIN AXIS, {along} = HEIGHT",
        f"HEIGHTS FROM {datum}",
        *_part_statements(shape, options),
        f"SLURRY MODEL {slurry_model.upper()}",
        "SPINNING BOWLS CAN KILL: FIGURES FOR SCREENING ONLY,",
        "A LICENSED ENGINEER CHECKS THEM UNDER LOCAL CODES",
        *_handling(options.part),
    ]
    return [*lines, not_checked_words(stops)] if stops else lines


def _part_statements(shape: Shape, options: ProfileOptions) -> list[str]:
    """What a part has to say of itself."""
    factor = 1.0 + options.shrinkage_pct / 100.0
    tall = {
        Part.LINER: f"CHECK DIMENSION: OVERALL HEIGHT {shape.height - shape.shell.underside:.3f} mm",
        Part.FORMER: f"CHECK DIMENSION: FLOOR TO LIP {factor * shape.height:.3f} mm",
        Part.SEAT: "CLOSED ON THE SPIN AXIS",
        Part.GAUGE: f"CHECK DIMENSION: FLOOR TO LIP {shape.height:.3f} mm",
    }
    lines = [
        tall[options.part],
        f"LAYER {LAYERS[options.part]}; EASED SPANS WITHIN {EASED_TOLERANCE_MM:g} mm",
        f"ARCS FLATTER THAN {FLATTEST_SAG:g} mm ARE LINES",
    ]
    if options.part is Part.FORMER:
        added = f"SHRINKAGE {options.shrinkage_pct:+g} % ADDED" if options.shrinkage_pct else "NO SHRINKAGE ALLOWANCE"
        lines.append(added)
    return lines


def _handling(part: Part) -> list[str]:
    """What must not be done with a body made from the file, and what hurts whoever makes it."""
    if part is Part.SEAT:
        return []
    return [
        f"{NEVER_SPIN.upper()}",
        "CASTING AND CUTTING POLYURETHANE: VAPOUR AND DUST HARM;",
        "FOLLOW THE SUPPLIER'S SAFETY DATA SHEET AND LOCAL RULES",
    ]


def _text_in_hollow(shape: Shape, lines: list[str]) -> float:
    """Letter height at which the lines fit between hub hole and wall."""
    width = float(np.min(shape.edge.points[:, 0])) - shape.shell.hub_radius
    fits = min(width / (max(len(line) for line in lines) + 2), shape.height / (LINE_PITCH * (len(lines) + 2)))
    return min(LARGEST_TEXT_MM, max(fits, 0.1))


def _add_text(document: "Drawing", lines: list[str], at: Point, height: float) -> None:
    space = document.modelspace()
    for number, line in enumerate(lines):
        y = at[1] + height * LINE_PITCH * (len(lines) - number)
        attributes = {"layer": TEXT, "style": "ISO", "insert": (at[0], y)}
        space.add_text(line, height=height, dxfattribs=attributes)


def _mark_datum(document: "Drawing", options: ProfileOptions, height: float) -> None:
    """A cross at the datum on the spin axis, on a layer of its own."""
    document.layers.add(DATUM)
    space = document.modelspace()
    for end in ((MARK_MM, 0.0), (0.0, MARK_MM)):
        space.add_line((-end[0], -end[1]), end, dxfattribs={"layer": DATUM})
    attributes = {"layer": DATUM, "style": "ISO", "insert": (0.3 * height, 0.3 * height)}
    space.add_text(_datum_name(options), height=0.6 * height, dxfattribs=attributes)


def _datum_name(options: ProfileOptions) -> str:
    return f"DATUM {options.datum.value.upper()}"
