"""The hole seen from the lip: whatever its skew, no text of it meets another or lies across a line."""

from math import radians

import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.assess.shape.bore_rings import rings_of
from profiler.pictures.drawing.water_holes import ENDLESS, plan_block
from profiler.pictures.sheet.clashes import clashes, texts_of
from profiler.pictures.sheet.items import Sheet, View
from profiler.study.files import examples
from profiler.study.records.holes import HolePlan
from profiler.study.records.machine import Turning


@pytest.mark.parametrize("turning", Turning)
@pytest.mark.parametrize("skew", [-51.0, -39.5, -19.9, -13.2, 2.6, 10.1, 12.9, 20.4, 26.7, 51.0])
def test_the_skew_is_told_beside_the_hole_or_in_words_and_meets_nothing(skew, turning):
    study = examples.read("graded")
    design = replace(study.design, holes=HolePlan(count=40, diameter_mm=1.0, skew_deg=skew))
    ring = rings_of(evaluate(design, study.machine, study.duty).shape.holes)[0]
    assert ring.skew == pytest.approx(radians(skew))
    items = tuple(plan_block(ring, turning, "B").draw(0.0, 0.0))
    assert clashes(Sheet(0.0, 0.0, items, View((0.0, 0.0), 1.0), frame=ENDLESS)) == []
    assert any(f"{abs(skew):g}°" in text.text for text in texts_of(items))
