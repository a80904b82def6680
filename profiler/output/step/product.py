"""What surrounds a solid in a STEP file: product, its definition, units and uncertainty, and what is only marked.

ISO 10303-242, managed model based 3D engineering: one part, millimetres and radians. Rings of holes that are not cut
stand beside the solid as a wireframe: a named set of each hole's axis, from groove floor to outside, and its points.
Entity names and attribute orders are those of the standard's integrated resources, from memory; independent kernels
read the files in the tests.
"""

from collections.abc import Sequence
from math import sqrt

import numpy as np

from profiler.assess.shape.bore_rings import Ring
from profiler.output.step.bores import Marked
from profiler.output.step.part21 import Entities, listed, quoted, real
from profiler.output.step.profile import SAME_MM
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
    """A ring's holes: their points on the groove floor and, where a wall lies behind it, their axes to the outside.

    An axis is a trimmed line: the standard wants three points of a polyline (ISO 10303-510, from memory).
    """
    offset = ring.offset
    inside, outside = (sqrt(max(radius**2 - offset**2, 0.0)) for radius in (ring.inner, ring.outer))
    cos, sin = np.cos(ring.ways), np.sin(ring.ways)

    def at(x: float) -> list[str]:
        height = np.full(ring.count, ring.height)
        return entities.points(np.stack((x * cos - offset * sin, x * sin + offset * cos, height), axis=1))

    marks = starts = at(inside)
    if outside > inside + SAME_MM:
        ends = at(outside)
        ways = [entities.direction((c, s, 0.0)) for c, s in zip(cos.tolist(), sin.tolist(), strict=True)]
        vectors = [entities.add(f"VECTOR('',{way},1.)") for way in ways]
        lines = [entities.add(f"LINE('',{start},{way})") for start, way in zip(starts, vectors, strict=True)]
        axes = [
            entities.add(f"TRIMMED_CURVE('',{line},({start}),({end}),.T.,.CARTESIAN.)")
            for line, start, end in zip(lines, starts, ends, strict=True)
        ]
        marks = [*axes, *starts, *ends]
    return entities.add(f"GEOMETRIC_CURVE_SET({quoted(ring.words)},{listed(marks)})")
