"""The one height axis, round steps, and the read-out's texts."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from profiler.assess import evaluate
from profiler.assess.quantities.reading import reading_at
from profiler.pictures.basics.axis import HeightAxis, round_step
from profiler.pictures.strips.readout import COLUMNS, DASH, readout
from profiler.study.files import examples
from tests.pictures.scenes import STUDY, axis

FEW = settings(max_examples=80, deadline=None, derandomize=True, database=None)


@FEW
@given(st.floats(-500.0, 3000.0))
def test_height_and_pixel_are_each_others_inverse(height: float) -> None:
    assert axis().height(axis().y(height)) == pytest.approx(height, abs=1e-9)


def test_up_is_up() -> None:
    assert axis().y(300.0) < axis().y(10.0)


@FEW
@given(st.floats(0.1, 10.0), st.floats(20.0, 500.0))
def test_zooming_keeps_the_height_under_the_mouse(factor: float, y: float) -> None:
    zoomed = axis().zoomed(factor, y)
    assert zoomed.height(y) == pytest.approx(axis().height(y), abs=1e-6)
    assert zoomed.scale == pytest.approx(axis().scale * factor)


@FEW
@given(st.floats(1e-6, 1e6))
def test_a_round_step_is_one_two_or_five_and_not_much_too_large(least: float) -> None:
    step = round_step(least)
    assert least * (1.0 - 1e-9) <= step <= 2.51 * least
    leading = float(f"{step:e}".split("e")[0])
    assert min(abs(leading - m) for m in (1.0, 2.0, 5.0, 10.0)) < 1e-6


@FEW
@given(st.floats(5.0, 5000.0))
def test_ticks_leave_each_other_room(span: float) -> None:
    tall = HeightAxis(-0.1 * span, span, 12.0, 508.0)
    ys = [tall.y(float(z)) for z in tall.ticks()]
    assert len(ys) >= 3
    assert min(a - b for a, b in pairwise(ys)) >= 34.0 - 1e-6


@pytest.mark.parametrize("height", [0.0, 12.0, 77.7, 150.0, 300.0, 330.0])
def test_the_read_out_prints_the_evaluations_own_numbers(height: float) -> None:
    whole = evaluate(STUDY.design, STUDY.machine, STUDY.duty)
    reading = reading_at(whole, height)
    texts = dict(zip((c.head for c in COLUMNS), readout(reading), strict=True))
    assert texts["height"] == f"{reading.height_mm:.1f} mm"
    assert texts["radius"] == f"{reading.radius_mm:.2f} mm"
    assert texts["wall"] == f"{reading.wall_deg:.2f}°"
    low, middle, high = reading.repose_deg
    assert texts["repose (low to high)"] == f"{middle:.2f}° ({low:.2f}° to {high:.2f}°)"
    assert texts["margin"] == f"{reading.margin_deg:+.2f}°".replace("-", "−")
    held = "exposed" if reading.held_at_mm is None else f"held at {reading.held_at_mm:.0f} mm"
    assert texts["bed"].endswith(held)


def test_without_a_crosshair_the_read_out_is_dashes() -> None:
    assert readout(None) == (DASH,) * len(COLUMNS)


@pytest.mark.parametrize("name", examples.names())
def test_every_column_has_room_for_its_widest_text(name: str) -> None:
    study = examples.read(name)
    whole = evaluate(study.design, study.machine, study.duty)
    for height in range(0, 331, 7):
        for column, text in zip(COLUMNS, readout(reading_at(whole, float(height))), strict=True):
            assert len(text) <= len(column.sample), f"{column.head}: {text}"
