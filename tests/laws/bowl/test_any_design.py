"""Whatever is drawn: either the outline is a true closed section, or a `stop` finding says why it is not.

Each law runs over a few dozen designs with every test run, and over thousands with `-m long`.
"""

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from msgspec.structs import asdict

from profiler.assess import Severity, Stages, evaluate
from profiler.assess.checks.check_shape import CROSSING_SAG_MM
from profiler.assess.shape.shape_stage import wall_of
from profiler.geometry.chain import Chain, sampled
from profiler.geometry.offset import NoOffset, outward
from profiler.output.formats.segments import ArcSegment, is_closed, segments_of
from profiler.output.terminal.check_json import check_json, check_of
from profiler.study import Duty
from profiler.study.files import examples
from tests.laws.bowl.any_design import designs

MACHINE = examples.read("graded").machine
OF_THE_MACHINE = ("lip_radius", "bowl_height", "seat_clash", "jacket_narrow", "speed_range")
UNHURRIED = [HealthCheck.too_slow]  # a busy machine is no failure
FEW = settings(max_examples=40, deadline=None, derandomize=True, database=None, suppress_health_check=UNHURRIED)
MANY = settings(FEW, max_examples=4000)


def true_or_stopped(design):
    """The outline is simple and encloses its area; where it is not, a `stop` about the bowl itself says so."""
    evaluation = evaluate(design, MACHINE, Duty("any"), want=Stages.FINDINGS | Stages.CLASH)
    stops = [f for f in evaluation.findings if f.severity is Severity.STOP and f.code not in OF_THE_MACHINE]
    if evaluation.shape is None:
        assert stops
        return
    section = shapely.Polygon(sampled(evaluation.shape.outline, CROSSING_SAG_MM))  # a finer touch is nobody's matter
    if not section.is_valid:
        assert stops, shapely.is_valid_reason(section)
        return
    length, area = evaluation.shape.figures.length, evaluation.shape.figures.area
    assert section.area == pytest.approx(area, abs=CROSSING_SAG_MM * length)  # each chord is off by less than the sag


def the_thickness_away(design):
    """No point of the outer wall is nearer to the wall than the thickness, nor farther except where it is straight."""
    wall, thickness = wall_of(design), design.body.wall_mm
    try:
        outer = outward(wall, thickness, -design.body.floor_plate_mm, wall.height[-1] - design.body.flange_mm)
    except NoOffset:
        return
    inner, outer_line = (shapely.LineString(sampled(_chain(w), 1e-5)) for w in (wall, outer))
    points = shapely.line_interpolate_point(outer_line, np.linspace(0.0, 1.0, 200), normalized=True)
    away, height = shapely.distance(inner, points), shapely.get_y(points)
    low, high = (wall.height[k] - thickness * np.sin(t) for k, t in ((0, wall.lower[0]), (-1, wall.upper[-1])))
    assert np.all(away > thickness - 1e-4)
    assert np.all(away[(height > low) & (height < high)] < thickness + 1e-4)


def written_closed(design):
    """What a profile file would hold leads back to its beginning, with counter-clockwise arcs of finite radius."""
    shape = evaluate(design, MACHINE, Duty("any"), want=Stages(0)).shape
    if shape is not None:
        segments = segments_of(shape.outline)
        assert is_closed(segments)
        assert all(np.isfinite(s.radius) and s.radius > 0.0 for s in segments if isinstance(s, ArcSegment))


# where a wall is exposed, without a hole plan, under a calm bed, below the entry height
MAY_BE_NONE = frozenset(
    ("held_at_mm", "hole_count", "hole_mm", "kept_um_low", "kept_um_high", "washed_um_low", "washed_um_high", "state")
)
OF_THE_SHAPE = frozenset(("height_mm", "wall_angle_deg", "radius_mm", "number", "mouth_mm", "depth_mm"))


NO_ANSWER = {"not_carried", "bed_closes", "film_below_grain"}


def answered_whole(design):
    """Every number exists, corners opening outward included; or the model has no answer, and a stop says why."""
    evaluation = evaluate(design, MACHINE, Duty("any", dry_feed_t_h=0.3, water_l_min=4.0))
    assert check_json(evaluation).startswith('{"schema": 2')  # which refuses anything that is not a number
    check = check_of(evaluation)
    rows = [*(check.wall or ()), *(check.grooves or ())]
    codes = {f.code for f in evaluation.findings}
    if evaluation.shape is not None and evaluation.flow is None:
        assert len(codes & NO_ANSWER) == 1
        assert not any(asdict(row)[name] is None for row in rows for name in OF_THE_SHAPE & set(asdict(row)))
        return
    if "high_friction_lost" in codes:
        return
    assert not any(value is None for row in rows for name, value in asdict(row).items() if name not in MAY_BE_NONE)


LAWS = [true_or_stopped, the_thickness_away, written_closed, answered_whole]


@pytest.mark.no_cover  # repeats by the thousand what others cover
@pytest.mark.parametrize("law", LAWS)
def test_the_law_holds_for_any_design(law):
    FEW(given(designs())(law))()


@pytest.mark.long
@pytest.mark.parametrize("law", LAWS)
def test_the_law_holds_for_thousands_of_designs(law):
    MANY(given(designs())(law))()


def _chain(wall):
    bulges = np.append(wall.bulge(wall.height[:-1], wall.height[1:]), 0.0)
    return Chain(np.stack((wall.radius, wall.height), axis=1), bulges, closed=False)
