"""The bowls that are measured: the default example with forty grooves, or with so many grooves or knots."""

from msgspec.structs import replace

from profiler.study import Study
from profiler.study.edits import design_edits as edits
from profiler.study.files import examples

GROOVES = 40


def forty() -> Study:
    """The default example with forty grooves."""
    return grooved(GROOVES, 5.5, 5.0, 1.0, 0.4)


def grooved(count: int, mouth: float, depth: float, floor_radius: float, edge_radius: float) -> Study:
    read = examples.read(examples.DEFAULT)
    cut = replace(
        read.design.grooves,
        count=count,
        mouth_mm=mouth,
        depth_mm=depth,
        floor_radius_mm=floor_radius,
        edge_radius_mm=edge_radius,
    )
    return edits.with_design(read, edits.with_grooves(read.design, cut))
