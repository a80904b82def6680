"""Sheets as DXF: the model 1:1 in model space, frame and texts enlarged round it, no layouts, no blocks of our own.

The outline stays lines and arcs, dimensions are dimensions (each with a block of plain lines and text, so that every
reader shows them alike), the section is hatched with one seed point per hatch; hatches come last, since one reader
swallows what follows them. Texts are 7-bit, each stretched between two points to the width that was reckoned with,
whatever font a reader has. The text of a dimension is written out: a reader that makes it anew from the points, without
the factor of an enlarged view, would show a wrong length. A second sheet lies to the right of the first.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from profiler.geometry.chain import Chain, FloatArray
from profiler.output.formats.dxf_document import add_segments, cad_text, document_bytes, new_document
from profiler.output.formats.segments import Point, segments_of
from profiler.pictures.sheet.dimensions import Parts, parts_of
from profiler.pictures.sheet.items import Angle, Arrow, Dimension, Hatch, Item, Path, Pen, Sheet, Text, View
from profiler.pictures.sheet.plain import hatch_lines

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.entities.dimension import Dimension as DXFDimension
    from ezdxf.entities.dimstyle import DimStyle
    from ezdxf.layouts.base import BaseLayout

BETWEEN_SHEETS = 50.0  # mm of paper
PATTERN_SPACING = 3.175  # mm between the lines of ANSI31 at scale 1
DIMSTYLE = "ISO_MM"
TEXT_BY_HAND = 128  # group 70: the text stands where group 11 says
MIDDLE_CENTRE = 5  # group 71: and that is its middle


@dataclass(frozen=True, slots=True)
class _Place:
    """From paper to model: the main view comes out 1:1 with its own zero."""

    view: View
    shift: float  # mm of paper, of a further sheet

    @property
    def scale(self) -> float:
        return 1.0 / self.view.scale

    def points(self, points: FloatArray) -> FloatArray:
        return np.asarray((points + np.array([self.shift, 0.0]) - np.array(self.view.origin)) * self.scale)

    def point(self, point: Point) -> Point:
        x, y = self.points(np.array(point))
        return float(x), float(y)

    def chain(self, chain: Chain) -> Chain:
        return Chain(self.points(chain.points), chain.bulges, chain.closed)


def sheets_dxf(sheets: Sequence[Sheet]) -> bytes:
    """The bytes of one file with all sheets."""
    places = [_Place(sheets[0].view, k * (sheet.width + BETWEEN_SHEETS)) for k, sheet in enumerate(sheets)]
    low = places[0].point((0.0, 0.0))
    high = places[-1].point((sheets[-1].width, max(s.height for s in sheets)))
    document = new_document("R2000", low, high, places[0].scale)
    _add_tables(document, places[0].scale)
    space = document.modelspace()
    for sheet, place in zip(sheets, places, strict=True):
        for item in sheet.items:
            _add(document, space, item, place)
    for sheet, place in zip(sheets, places, strict=True):
        for item in sheet.items:
            if isinstance(item, Hatch):
                _add_hatch(space, item, place)
    return document_bytes(document)


def _add_tables(document: "Drawing", scale: float) -> None:
    for pen in Pen:
        style = pen.style
        if not document.layers.has_entry(style.layer):
            layer = document.layers.add(style.layer, lineweight=round(style.width * 100.0))
            if style.dashes:
                lengths = [d if k % 2 == 0 else -d for k, d in enumerate(style.dashes)]
                pattern = [sum(style.dashes), *lengths]
                document.linetypes.add(style.line_type, pattern, description="long dash dot, ISO 128-2")
                layer.dxf.linetype = style.line_type
    _dimension_style(document, 1.0, scale).copy_to_header(document)  # some readers know the header's values only


def _dimension_style(document: "Drawing", factor: float, scale: float) -> "DimStyle":
    """The style of a view that is enlarged 1/`factor` times over the main one; made when first asked for."""
    name = DIMSTYLE if factor == 1.0 else f"{DIMSTYLE}_X{1.0 / factor:g}".replace(".", "_")
    if not document.dimstyles.has_entry(name):
        settings = {
            "dimtxt": 3.5, "dimasz": 3.0, "dimexo": 0.8, "dimexe": 2.0, "dimgap": 1.0, "dimtad": 1, "dimtih": 0,
            "dimtoh": 0, "dimdec": 2, "dimzin": 8, "dimscale": scale, "dimlfac": factor, "dimdsep": 46, "dimlunit": 2,
            "dimtofl": 1, "dimtxsty": "ISO",
        }  # fmt: skip
        document.dimstyles.new(name).update_dxf_attribs(settings)
    return document.dimstyles.get(name)


def _add(document: "Drawing", space: "BaseLayout", item: Item, place: _Place) -> None:
    if isinstance(item, Path):
        add_segments(space, segments_of(place.chain(item.chain)), item.pen.style.layer)
    elif isinstance(item, Text):
        _add_text(space, item, place, Pen.TEXT.style.layer)
    elif isinstance(item, Arrow):
        _add_arrow(space, item, place)
    elif isinstance(item, Dimension):
        _add_dimension(document, space, item, place)
    elif isinstance(item, Angle):
        _add_angle(document, space, item, place)


def _add_text(space: "BaseLayout", text: Text, place: _Place, layer: str) -> None:
    from ezdxf.enums import TextEntityAlignment

    height = text.height * place.scale
    attributes = {"layer": layer, "style": "ISO"}
    entity = space.add_text(cad_text(text.text), height=height, rotation=text.angle_deg, dxfattribs=attributes)
    first, last = (place.point(end) for end in text.base_line)
    entity.set_placement(first, last, TextEntityAlignment.FIT)


def _add_arrow(space: "BaseLayout", arrow: Arrow, place: _Place) -> None:
    corners = [tuple(p) for p in place.points(arrow.corners)]
    space.add_solid([*corners, corners[-1]], dxfattribs={"layer": Pen.DIM.style.layer})


def _add_dimension(document: "Drawing", space: "BaseLayout", d: Dimension, place: _Place) -> None:
    style = _dimension_style(document, round(d.per_mm / place.scale, 9), place.scale)
    override = space.add_linear_dim(
        base=place.point(d.at), p1=place.point(d.start), p2=place.point(d.end), angle=d.angle_deg,
        text=cad_text(d.text), dimstyle=style.dxf.name, dxfattribs={"layer": Pen.DIM.style.layer},
    )  # fmt: skip
    override.commit()
    entity = _with_block(document, override.dimension, parts_of(d), place)
    feet = np.array(parts_of(d).feet)
    entity.dxf.actual_measurement = float(np.hypot(*(feet[1] - feet[0]))) * d.per_mm


def _add_angle(document: "Drawing", space: "BaseLayout", d: Angle, place: _Place) -> None:
    style = _dimension_style(document, 1.0, place.scale)
    middle = 0.5 * (d.start_deg + d.end_deg)
    ends = (place.point(d.at(angle)) for angle in (middle, d.start_deg, d.end_deg))
    base, first, last = ends
    override = space.add_angular_dim_3p(
        base=base, center=place.point(d.corner), p1=first, p2=last, text=cad_text(d.text),
        dimstyle=style.dxf.name, dxfattribs={"layer": Pen.DIM.style.layer},
    )  # fmt: skip
    override.commit()
    entity = _with_block(document, override.dimension, parts_of(d), place)
    entity.dxf.actual_measurement = float(np.radians(d.end_deg - d.start_deg))


def _with_block(document: "Drawing", entity: "DXFDimension", parts: Parts, place: _Place) -> "DXFDimension":
    """The dimension with its own lines and text, and the middle of the text told."""
    layer = Pen.DIM.style.layer
    block = document.blocks.new_anonymous_block(type_char="D")
    for line in parts.lines:
        add_segments(block, segments_of(place.chain(line.chain)), layer)
    for arrow in parts.arrows:
        _add_arrow(block, arrow, place)
    _add_text(block, parts.text, place, layer)
    entity.dxf.geometry = block.name
    entity.dxf.dimtype |= TEXT_BY_HAND
    entity.dxf.attachment_point = MIDDLE_CENTRE
    entity.dxf.text_midpoint = place.point(parts.text.middle)
    return entity


def _add_hatch(space: "BaseLayout", item: Hatch, place: _Place) -> None:
    for ring in item.rings:
        chain = place.chain(ring)
        hatch = space.add_hatch(dxfattribs={"layer": Pen.HATCH.style.layer})
        hatch.set_pattern_fill("ANSI31", scale=item.spacing * place.scale / PATTERN_SPACING)
        vertices = [(*map(float, p), float(b)) for p, b in zip(chain.points, chain.bulges, strict=True)]
        hatch.paths.add_polyline_path(vertices, is_closed=True)
        lines = hatch_lines(Hatch((ring,), item.spacing))
        longest = lines[np.argmax(np.hypot(*(lines[:, 1] - lines[:, 0]).T))]
        hatch.set_seed_points([place.point((float(longest[:, 0].mean()), float(longest[:, 1].mean())))])
