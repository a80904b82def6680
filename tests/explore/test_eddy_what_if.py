"""Walls turned on trial, and the eddy along one number."""

from dataclasses import replace as with_

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.assess.eddy.lids import Setting
from profiler.assess.shape.shape_stage import wall_of
from profiler.explore.eddy_what_if import ALONGS, WANTED, angle_at, swept, turned
from profiler.pictures.basics.display import Dot
from profiler.pictures.charts.eddy_charts import EDDY_CHARTS, eddy_chart
from profiler.study import Knot
from profiler.study.edits.design_edits import with_knots
from profiler.study.files.examples import read

STUDY = read("graded")
ANGLE, DEPTH, SOLIDS_ALONG = ALONGS


@pytest.mark.parametrize("groove", [1, 5, 14])
@pytest.mark.parametrize("angle", [2.0, 17.5, 33.0])
def test_the_wall_stands_at_the_groove_as_asked_and_the_lip_stays(groove, angle):
    there = turned(STUDY.design, groove, angle)
    assert angle_at(there, groove) == pytest.approx(angle, abs=0.01)
    assert wall_of(there).radius[-1] == pytest.approx(wall_of(STUDY.design).radius[-1])
    assert there.grooves is STUDY.design.grooves and len(there.wall.knots) == len(STUDY.design.wall.knots)


def test_turning_to_where_it_stands_changes_nothing():
    assert turned(STUDY.design, 4, angle_at(STUDY.design, 4)) == STUDY.design


def test_a_corner_keeps_the_angle_of_its_other_side():
    design = with_knots(STUDY.design, (Knot(0.0, 26.0), Knot(115.0, 24.0, leaving_deg=12.0), Knot(330.0, 6.0)))
    below, above = turned(design, 2, 20.0), turned(design, 10, 9.0)
    assert below.wall.knots[1].leaving_deg == 12.0 and below.wall.knots[1].angle_deg < 24.0
    assert above.wall.knots[1].angle_deg == 24.0 and above.wall.knots[1].leaving_deg != 12.0


@pytest.mark.parametrize("angle", [89.0, -70.0])
def test_an_angle_no_knot_may_have_is_refused_in_a_sentence(angle):
    with pytest.raises(ValueError, match="angle"):
        turned(STUDY.design, 3, angle)


def test_both_ends_held_stay_held():
    wall = replace(STUDY.design.wall, floor_radius_mm=float(wall_of(STUDY.design).radius[0]))
    there = turned(replace(STUDY.design, wall=wall), 7, 20.0)
    assert angle_at(there, 7) == pytest.approx(20.0, abs=0.05)
    assert wall_of(there).radius[0] == pytest.approx(wall.floor_radius_mm, abs=1e-5)


def test_the_curve_passes_through_the_present_and_ends_where_a_bed_covers_the_groove():
    e = evaluate(STUDY.design, STUDY.machine, STUDY.duty, WANTED)
    found = swept(e, 11, with_(ANGLE, count=3, spread=8.0), Setting())
    assert found.x[found.present] == pytest.approx(angle_at(STUDY.design, 11))
    assert found.ratio[found.present] == pytest.approx(float(e.flow.groove_ratio[0, 10]))
    assert np.all(np.diff(found.ratio) > 0.0)
    assert np.isnan(found.reach_mm[0]) and np.isnan(found.circulation_cm2_s[0]), "a bed lies over it"
    assert np.all(np.isfinite(found.reach_mm[1:]))


def test_in_a_shallow_groove_the_eddy_reaches_the_floor():
    e = evaluate(STUDY.design, STUDY.machine, STUDY.duty, WANTED)
    found = swept(e, 5, with_(DEPTH, count=3), Setting())
    assert found.floor_mm == pytest.approx(found.x)
    assert found.reach_mm[0] > 0.9 * found.floor_mm[0]
    assert found.reach_mm[-1] < 0.6 * found.floor_mm[-1]


def test_thicker_slurry_drives_the_eddy_less():
    e = evaluate(STUDY.design, STUDY.machine, STUDY.duty, WANTED)
    found = swept(e, 5, with_(SOLIDS_ALONG, count=3), Setting())
    assert np.all(np.diff(found.circulation_cm2_s) < 0.0) and np.all(np.diff(found.power_w) < 0.0)
    assert found.claimed.all()


def test_where_thin_slurry_still_comes_up_to_speed_nothing_is_claimed():
    e = evaluate(STUDY.design, STUDY.machine, STUDY.duty, WANTED)
    found = swept(e, 3, with_(SOLIDS_ALONG, count=3), Setting())
    assert found.claimed.tolist() == [False, True, True]
    hollow = [i for i in eddy_chart(found, EDDY_CHARTS[3], 300.0, 240.0).items if isinstance(i, Dot) and not i.filled]
    assert len(hollow) == 1
