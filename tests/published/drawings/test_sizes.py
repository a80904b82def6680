"""Bowls of every size are drawn: 20 mm and 2 m, 300 grooves, with water holes and without."""

import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.pictures.drawing.compose import drawing
from profiler.pictures.sheet.clashes import clashes
from profiler.study import Body, GrooveRule
from profiler.study.edits.design_edits import plain_cone
from profiler.study.files import examples
from profiler.study.records.holes import HolePlan

LARGE = Body(wall_mm=60.0, floor_plate_mm=60.0, hub_hole_mm=300.0)
SMALL = Body(wall_mm=3.0, floor_plate_mm=3.0, hub_hole_mm=6.0, flange_mm=3.0, flange_width_mm=3.0)
FINE = GrooveRule(count=300, from_mm=20.0, to_mm=2000.0, mouth_mm=2.5, depth_mm=2.5, floor_radius_mm=0.3,
                  edge_radius_mm=0.2)  # fmt: skip
TINY = GrooveRule(count=4, from_mm=2.0, to_mm=19.0, mouth_mm=1.5, depth_mm=1.0, floor_radius_mm=0.2, edge_radius_mm=0.1)
CASES = {
    "2 m": (plain_cone("large", 2000.0, 1000.0), LARGE, replace(FINE, count=80, mouth_mm=14.0, depth_mm=12.0)),
    "300 grooves": (plain_cone("fine", 2000.0, 1000.0), LARGE, FINE),
    "20 mm": (plain_cone("small", 20.0, 22.0, 10.0), SMALL, TINY),
}


@pytest.mark.parametrize(
    "holes", [HolePlan(), HolePlan(count=6, diameter_mm=0.5, phase_deg=7.0)], ids=["bare", "holes"]
)
@pytest.mark.parametrize("case", CASES)
def test_it_is_drawn_and_no_texts_meet(case, holes):
    study = examples.read("graded")
    design, body, rule = CASES[case]
    e = evaluate(replace(design, body=body, grooves=rule, holes=holes), study.machine, study.duty)
    made = drawing(e)
    assert not any(clashes(sheet) for sheet in made.sheets)
    rows = {t.text for sheet in made.sheets for t in sheet.items if hasattr(t, "text")}
    assert str(rule.count) in rows  # the last row of the table of grooves
