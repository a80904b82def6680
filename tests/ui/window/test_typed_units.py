"""A unit typed behind a number: the box's own, a length's other one, and any other, which is refused."""

import pytest

from profiler.pictures.basics.lengths import INCHES, MILLIMETRES
from profiler.study import Body, Duty, fields_of
from profiler.ui.widgets.number_box import typed_value

WALL, DUTY = fields_of(Body)["wall_mm"], fields_of(Duty)


@pytest.mark.parametrize(
    ("field", "text", "unit", "value"),
    [
        (WALL, "26", MILLIMETRES, 26.0),
        (WALL, "26.5 mm", MILLIMETRES, 26.5),
        (WALL, "26,5mm", MILLIMETRES, 26.5),
        (WALL, "1 in", MILLIMETRES, 25.4),
        (WALL, "1", INCHES, 25.4),
        (WALL, "1 in", INCHES, 25.4),
        (WALL, "26 mm", INCHES, 26.0),
        (DUTY["speed_rpm"], "600 rpm", MILLIMETRES, 600.0),
        (DUTY["d50_um"], "110 µm", MILLIMETRES, 110.0),
        (DUTY["d50_um"], "110 um", INCHES, 110.0),
        (DUTY["solids_pct"], "36 %", MILLIMETRES, 36.0),
    ],
)
def test_the_unit_may_be_typed(field, text, unit, value) -> None:
    assert typed_value(field, text, unit) == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(
    ("field", "text", "unit", "words"),
    [
        (WALL, "26 cm", MILLIMETRES, "“26 cm” is not a number in mm."),
        (WALL, "8 min", MILLIMETRES, "“8 min” is not a number in mm."),
        (WALL, "2 cm", INCHES, "“2 cm” is not a number in inches."),
        (DUTY["speed_rpm"], "10 1/s", MILLIMETRES, "“10 1/s” is not a number in rpm."),
        (DUTY["d50_um"], "0.1 mm", MILLIMETRES, "“0.1 mm” is not a number in µm."),
        (WALL, "wide", MILLIMETRES, "“wide” is not a number."),
        (WALL, "mm", MILLIMETRES, "“mm” is not a number."),
        (WALL, "26 %", MILLIMETRES, "is a share"),
    ],
)
def test_another_unit_is_refused_with_the_one_that_is_asked(field, text, unit, words) -> None:
    with pytest.raises(ValueError, match=r"Wall|Speed|Size") as refused:
        typed_value(field, text, unit)
    assert words in str(refused.value)
