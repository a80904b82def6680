"""The set-up sheet: one page, every number the study's or the evaluation's, pressures those of evaluate() itself."""

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.assess.quantities.table import quantity
from profiler.explore.water_curve import EVEN, NO_WATER, SHARES, SHOWN, water_curve
from profiler.output.blocks.as_text import blocks_text
from profiler.output.record.option import Request
from profiler.output.setup.setup_blocks import setup_blocks
from profiler.output.setup.setup_output import setup_page
from profiler.output.writing import export
from profiler.pictures.charts.water_chart import water_chart
from profiler.pictures.sheet.clashes import clashes
from profiler.study.files import examples
from profiler.study.records.holes import HolePlan
from tests.tiers import two_examples


def evaluated(name="watered", edit=lambda s: s, **of_duty):
    study = edit(examples.read(name))
    return evaluate(study.design, study.machine, replace(study.duty, **of_duty))


@pytest.fixture(scope="module")
def watered():
    return evaluated()


@pytest.fixture(scope="module")
def curve(watered):
    return water_curve(watered)


def test_each_pressure_is_the_one_an_evaluation_of_that_flow_gives(watered, curve):
    for n, share in enumerate(SHARES):
        alone = evaluated(water_l_min=share * watered.duty.water_l_min)
        running = SHOWN.index("running")
        assert curve.inlet_kpa[n, running] == pytest.approx(float(quantity("inlet_kpa").get(alone)[0]), abs=0.02)
    assert curve.asked_l_min[curve.duty_at] == watered.duty.water_l_min


def test_more_water_never_reads_less_and_a_loaded_bowl_never_reads_less_than_a_bare_one(curve):
    assert np.all(np.diff(curve.inlet_kpa, axis=0) > 0.0)
    # once the jacket is full: slurry and heavy minerals only add to what the water has to lift (Bernoulli)
    full = np.all(curve.inlet_kpa > 0.0, axis=1)
    assert full.any() and np.all(np.diff(curve.inlet_kpa[full], axis=1) > 0.0)


def test_in_a_full_jacket_the_pressure_rises_with_the_square_of_the_flow(watered):
    """Holes obey Q ~ sqrt(p - p0) (Torricelli): from twice to four times a large flow p - p0 grows four times."""
    asked = watered.duty.water_l_min

    def read(times):
        any_pressure = evaluated(
            edit=lambda s: s.having("machine", replace(s.machine, supply_kpa=None)), water_l_min=times * asked
        )
        return float(quantity("inlet_kpa").get(any_pressure)[0])

    low, middle, high = (read(times) for times in (8.0, 16.0, 32.0))
    assert (high - middle) / (middle - low) == pytest.approx(4.0, rel=0.05)


@pytest.mark.parametrize("name", two_examples())
def test_it_is_one_page_on_which_no_texts_meet(name):
    e = evaluated(name)
    if e.shape is not None:
        (page,) = setup_page(e, Request({"creator": "A. Designer"}, "s.bowl"))
        assert not clashes(page)


def test_long_names_take_the_chart_s_room_never_a_second_page():
    def long(study):
        name = "A name as long as somebody wanted it, with a reason and a date " * 3
        return replace(study, machine=replace(study.machine, name=name))

    assert len(setup_page(evaluated(edit=long), Request())) == 1


def test_where_no_pressure_can_be_told_it_says_why_and_asks_for_a_reading():
    bare = evaluated(edit=lambda s: s.having("design", replace(s.design, holes=HolePlan())))
    assert water_curve(bare) == EVEN and "without a plan of water holes" in blocks_text(setup_blocks(bare))
    dry = evaluated(water_l_min=0.0)
    assert water_curve(dry) == NO_WATER and "asks for no water" in blocks_text(setup_blocks(dry))
    assert "about" not in blocks_text(setup_blocks(bare))


def test_it_says_what_is_set_the_orders_the_cautions_and_what_to_note(watered):
    said = " ".join(blocks_text(setup_blocks(watered)).split())
    for words in ("520 rpm", "52.0 L/min", "can kill", "lock out", "Start", "Stop", "Rinse", "not given", "clock",
                  "hours on the liner", "no source"):  # fmt: skip
        assert words in said


def test_an_expected_pressure_names_the_water_at_which_it_is_read_where_the_supply_gives_less():
    weak = evaluated(edit=lambda s: s.having("machine", replace(s.machine, supply_kpa=150.0, supply_l_min=20.0)))
    said = " ".join(blocks_text(setup_blocks(weak)).split())
    assert "L/min that the supply gives: note the reading" in said
    assert "that the supply gives" not in blocks_text(setup_blocks(evaluated()))


def test_a_small_feed_is_told_as_it_is():
    assert "0.012 t/h" in blocks_text(setup_blocks(evaluated(dry_feed_t_h=0.012)))


def test_a_design_with_stops_says_that_it_is_not_checked():
    slow = evaluated(speed_rpm=2000.0)
    assert "NOT CHECKED" in blocks_text(setup_blocks(slow))


def test_html_holds_the_chart_and_room_to_write(watered, tmp_path):
    export(tmp_path / "s.html", watered, kind="setup")
    text = (tmp_path / "s.html").read_text("utf-8")
    assert "<svg" in text and 'class="hand"' in text and "<nav>" not in text


def test_names_of_the_lines_stay_apart_and_in_the_picture(curve):
    from profiler.pictures.basics.display import Label

    picture = water_chart(curve, 640.0, 128.0)
    levels = sorted(i.y for i in picture.items if isinstance(i, Label) and i.text in SHOWN)
    assert len(levels) == 3 and min(np.diff(levels)) >= 11.9
    assert levels[0] > 0.0 and levels[-1] < picture.height - 30.0


def test_the_protocol_of_a_trial_sends_its_readers_to_it():
    from profiler.output.trials.trial_protocol import protocol_html
    from profiler.study.records.trial import Trial

    assert "set-up sheet of the bowl" in protocol_html(Trial("t"), ("a", "b"), 6, 1)
