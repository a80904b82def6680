"""The range a map is shown over at first: round the design's own duty, and something happens in it."""

import numpy as np
import pytest

from profiler.assess import evaluate
from profiler.explore.ore_map import asked, ore_map, span
from profiler.explore.telling import REACHES, telling
from profiler.study.files import examples
from profiler.study.records.duty import WATER

STUDIES = [name for name in examples.names() if name not in ("faulty",)]
ELSE_OF = ("share_strong_pct", "share_weak_pct", "power_w")  # as the page asks
FEW = 6  # lines each way


def of(name):
    study = examples.read(name)
    return study, evaluate(study.design, study.machine, study.duty)


def question(e, key="share_sheltered_pct"):
    return asked(span("solids", count=FEW), span("d50", count=FEW), key, None, e)


@pytest.mark.parametrize("name", STUDIES)
def test_the_map_of_every_example_shows_a_change_round_its_own_duty(name):
    study, e = of(name)
    found = telling(question(e), e, study.window, ELSE_OF)
    m = ore_map(found, e, study.window)
    (x, y), shown = m.present, m.asked.quantity.text
    assert found.x.low <= x <= found.x.high and found.y.low <= y <= found.y.high
    for duty in study.window:
        assert found.x.low <= duty.solids_pct <= found.x.high and found.y.low <= duty.d50_um <= found.y.high
    known = m.values[np.isfinite(m.values)]
    assert len(known) >= 0.5 * m.values.size
    assert len({shown(float(value)) for value in known}) > 3


def test_a_number_that_nothing_moves_is_asked_over_the_widest_range_that_answers():
    _, e = of("graded")
    still = telling(question(e, "mass_kg"), e)
    assert still.quantity.key == "mass_kg"
    assert still.x.high <= 36.0 * max(REACHES) and still.x.low < 36.0 < still.x.high


def test_a_number_that_is_zero_keeps_the_usual_range_and_what_cannot_be_mapped_its_question():
    study = examples.read("graded")
    dry = evaluate(study.design, study.machine, WATER.set(study.duty, 0.0))
    asked_of = asked(span("water", count=FEW), span("d50", count=FEW), "share_sheltered_pct", None, dry)
    found = telling(asked_of, dry)
    assert (found.x.low, found.x.high) == (asked_of.x.low, asked_of.x.high)
