"""A section as one block of elements: where the nodes lie.

The block's corners lie in the middle of the floor's roundings (or where the bed meets a flank), the ends of every line
and arc on element vertices, the inside is blended from the sides (Coons). An element is then smooth throughout, which
is what the order of the method rests on. Nodes crowd toward all four sides, where the layers are; in a deep groove
toward the lid besides, since each stacked eddy is hundreds of times weaker than the one above it.
"""

from dataclasses import dataclass

import numpy as np

from profiler.physics.eddy.pieces import ComplexArray, FloatArray, Path, length_of, points_on, turned_back
from profiler.physics.eddy.section import Refused, Sides

FEWEST = 6  # elements along a side: as many as a side may have lines and arcs, and one more
_CROWDING = 0.55  # of the nodes toward the sides; 0: equal steps. Measured on the square: least error at 16 and 24
_SHALLOW = 1.25  # depth over lid up to which nodes are not drawn toward the lid
_TOWARD_LID = 1.3  # how strongly they are in deeper ones


@dataclass(frozen=True, slots=True)
class Block:
    """Nodes of columns x rows biquadratic elements, floor to lid, lower flank to upper."""

    columns: int
    rows: int
    nodes: ComplexArray  # (2 rows + 1, 2 columns + 1) x + i y
    through_floor: FloatArray  # (2 columns + 1,) share of the water from below that has entered so far along the floor
    through_lid: FloatArray  # (2 columns + 1,) and left along the lid


def block_of(sides: Sides, columns: int, rows: int) -> Block:
    """The block of a section; raises Refused where its sides do not span one."""
    if min(columns, rows) < FEWEST:
        raise ValueError(f"{columns} x {rows} elements: at least {FEWEST} each way are needed")
    across = _with_middles(_crowded(columns))
    upward = _with_middles(1.0 - _toward_start(_crowded(rows), sides.slenderness)[::-1])
    left = _along(turned_back(sides.lower), upward)
    right = _along(sides.upper, upward)
    floor_share = _shares(sides.floor, across)
    floor, lid = points_on(sides.floor, floor_share), sides.lid.at(across)
    nodes = _blended(floor, lid, left, right, across, upward)
    if not _unfolded(nodes):
        raise Refused("The groove's sides are so crooked that no grid of elements fits between them.")
    return Block(columns, rows, nodes, _entered(sides.floor, floor_share), across)


def _crowded(elements: int) -> FloatArray:
    """(elements + 1,) vertices from 0 to 1, crowding toward both ends."""
    even = np.linspace(0.0, 1.0, elements + 1)
    return np.asarray(even - _CROWDING * np.sin(2.0 * np.pi * even) / (2.0 * np.pi))


def _toward_start(vertices: FloatArray, slenderness: float) -> FloatArray:
    """Vertices drawn toward 0, the more the deeper the section is."""
    strength = _TOWARD_LID * np.log(max(slenderness / _SHALLOW, 1.0))
    return np.asarray(np.expm1(strength * vertices) / np.expm1(strength)) if strength > 0.0 else vertices


def _with_middles(vertices: FloatArray) -> FloatArray:
    """(2 n + 1,) vertices and the middles between them."""
    places = np.empty(2 * len(vertices) - 1)
    places[::2] = vertices
    places[1::2] = 0.5 * (vertices[1:] + vertices[:-1])
    return places


def _along(path: Path, places: FloatArray) -> ComplexArray:
    return points_on(path, _shares(path, places))


def _shares(path: Path, places: FloatArray) -> FloatArray:
    """Shares of a path's length for places of its nodes, stretched so that the ends of its pieces fall on vertices."""
    lengths = np.array([piece.length for piece in path])
    ends = np.cumsum(lengths)[:-1] / length_of(path)
    vertices = places[::2]
    last = len(vertices) - 1
    chosen: list[int] = []
    for k, end in enumerate(ends):
        nearest = int(np.argmin(np.abs(vertices - end)))
        least, most = (chosen[-1] if chosen else 0) + 1, last - (len(ends) - k)
        chosen.append(min(max(nearest, least), most))
    return np.asarray(np.interp(places, [0.0, *vertices[chosen], 1.0], [0.0, *ends, 1.0]))


def _entered(floor: Path, share: FloatArray) -> FloatArray:
    """Share of the water that has come in up to shares of a floor: evenly through it, fading out over its roundings.

    The block's corners lie on smooth roundings, where the map is folded flat: a step of the inflow there would read as
    a jet, and one at the floor's end as a kink of its shear.
    """
    ends = np.cumsum([0.0, *(piece.length for piece in floor)]) / length_of(floor)
    inflow = np.ones(len(ends))
    inflow[0], inflow[-1] = floor[0].bulge == 0.0, floor[-1].bulge == 0.0
    so_far = np.cumsum([0.0, *(np.diff(ends) * 0.5 * (inflow[1:] + inflow[:-1]))])
    piece = np.clip(np.searchsorted(ends, share, side="right") - 1, 0, len(floor) - 1)
    here = np.interp(share, ends, inflow)
    return np.asarray((so_far[piece] + (share - ends[piece]) * 0.5 * (inflow[piece] + here)) / so_far[-1])


def _blended(
    floor: ComplexArray,
    lid: ComplexArray,
    left: ComplexArray,
    right: ComplexArray,
    across: FloatArray,
    upward: FloatArray,
) -> ComplexArray:
    s, t = across[None, :], upward[:, None]
    corners = (1 - t) * ((1 - s) * floor[0] + s * floor[-1]) + t * ((1 - s) * lid[0] + s * lid[-1])
    return np.asarray((1 - t) * floor + t * lid + (1 - s) * left[:, None] + s * right[:, None] - corners)


def _unfolded(nodes: ComplexArray) -> bool:
    """Whether every quarter of an element is a quadrilateral with its area on the right side."""
    a, b, c, d = nodes[:-1, :-1], nodes[:-1, 1:], nodes[1:, 1:], nodes[1:, :-1]
    return bool(np.all((np.conj(c - a) * (d - b)).imag > 0.0))
