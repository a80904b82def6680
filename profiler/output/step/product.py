"""What surrounds a solid in a STEP file: product, its definition, units and uncertainty, and what is only marked.

ISO 10303-242, managed model based 3D engineering: one part, millimetres and radians. Rings of holes that are not cut
stand beside the solid as a wireframe: a named set of each hole's axis, from groove floor to outside, and its points.
Entity names and attribute orders are those of the standard's integrated resources, from memory; independent kernels
read the files in the tests.
"""

from collections.abc import Sequence
from math import sqrt

import numpy as np

from profiler.output.step.bores import Marked
from profiler.output.step.part21 import Entities, listed, quoted, real
from profiler.output.step.profile import SAME_MM
from profiler.output.step.rings import Ring
from profiler.output.step.surfaces import UP

SCHEMA = "AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF { 1 0 10303 442 1 1 4 }"
_AHEAD = (1.0, 0.0, 0.0)
_ORIGIN = (0.0, 0.0, 0.0)


def add_part(
    entities: Entities, name: str, description: str, solid_name: str, shell: str, marked: Sequence[Marked]
) -> None:
    """A part whose shape is the solid inside a closed shell, and the holes that are only marked beside it."""
    shape = _product(entities, quoted(name), quoted(description))
    context = _context(entities)
    solid = entities.add(f"MANIFOLD_SOLID_BREP({quoted(solid_name)},{shell})")
    place = entities.frame(_ORIGIN, UP, _AHEAD)
    brep = entities.add(f"ADVANCED_BREP_SHAPE_REPRESENTATION({quoted(solid_name)},({place},{solid}),{context})")
    entities.add(f"SHAPE_DEFINITION_REPRESENTATION({shape},{brep})")
    if marked:
        sets = [_axes(entities, each.ring) for each in marked]
        wires = entities.add(
            "GEOMETRICALLY_BOUNDED_WIREFRAME_SHAPE_REPRESENTATION"
            f"('water holes as axes and points',{listed([place, *sets])},{context})"
        )
        entities.add(f"SHAPE_REPRESENTATION_RELATIONSHIP('','',{brep},{wires})")


def _product(entities: Entities, name: str, description: str) -> str:
    add = entities.add
    application = add("APPLICATION_CONTEXT('managed model based 3d engineering')")
    protocol = "'international standard','ap242_managed_model_based_3d_engineering',2014"
    add(f"APPLICATION_PROTOCOL_DEFINITION({protocol},{application})")
    context = add(f"PRODUCT_CONTEXT('',{application},'mechanical')")
    product = add(f"PRODUCT({name},{name},{description},({context}))")
    add(f"PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,({product}))")
    formation = add(f"PRODUCT_DEFINITION_FORMATION('','',{product})")
    design = add(f"PRODUCT_DEFINITION_CONTEXT('part definition',{application},'design')")
    definition = add(f"PRODUCT_DEFINITION('design','',{formation},{design})")
    return add(f"PRODUCT_DEFINITION_SHAPE('','',{definition})")


def _context(entities: Entities) -> str:
    add = entities.add
    length = add("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))")
    angle = add("(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))")
    solid_angle = add("(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())")
    text = "'distance_accuracy_value','most that faces, edges and corners lie apart'"
    sure = add(f"UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE({real(SAME_MM)}),{length},{text})")
    return add(
        f"(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT(({sure}))"
        f"GLOBAL_UNIT_ASSIGNED_CONTEXT(({length},{angle},{solid_angle}))REPRESENTATION_CONTEXT('','3D'))"
    )


def _axes(entities: Entities, ring: Ring) -> str:
    """A ring's holes: from the groove floor to the outside radius, a line and its two points each."""
    offset = ring.offset
    outside = sqrt(max(ring.outer**2 - offset**2, 0.0))
    ends = np.array([[sqrt(ring.inner**2 - offset**2), offset], [outside, offset]])
    cos, sin = np.cos(ring.ways)[:, None], np.sin(ring.ways)[:, None]
    x, y = ends[:, 0] * cos - ends[:, 1] * sin, ends[:, 0] * sin + ends[:, 1] * cos
    places = np.stack((x, y, np.full_like(x, ring.height)), axis=-1)
    points = entities.points(places.reshape(-1, 3))
    lines = [entities.add(f"POLYLINE('',({a},{b}))") for a, b in zip(points[::2], points[1::2], strict=True)]
    return entities.add(f"GEOMETRIC_CURVE_SET({quoted(ring.words)},{listed([*lines, *points])})")
