"""The curves against wall angle: closed forms, and the flow stage's own numbers on straight exposed walls."""

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.explore.why_overturn import why
from profiler.study import HolePlan
from profiler.study.edits import design_edits as edits
from profiler.study.files.examples import read
from profiler.units import DEGREE

STUDY = read("graded")
NOW = evaluate(STUDY.design, STUDY.machine, STUDY.duty)


@pytest.mark.parametrize("angle", [16.5, 18.0, 21.0, 24.0])
def test_an_exposed_cone_lies_on_its_own_curve(angle):
    cone = edits.plain_cone("cone", STUDY.machine.height_mm, STUDY.machine.lip_radius_mm, angle)
    e = evaluate(cone, STUDY.machine, STUDY.duty)
    for groove in (2, 6, 10):
        w = why(e, groove)
        assert w.grooves_deg[groove - 1] == pytest.approx(angle)
        # the flow stage lets repose vary over the mouth, the curve takes it at the groove
        assert w.exposed_ratio(groove - 1) == pytest.approx(w.grooves_ratio[groove - 1], rel=0.02)
        power = np.interp(angle, w.angle_deg, w.power_w)
        assert power == pytest.approx(w.grooves_power_w[groove - 1], rel=0.02)


def test_the_curve_is_the_closed_form_and_passes_nothing_at_repose():
    w = why(NOW, 5)
    repose = w.stream.repose[1]
    expected = (np.tan(w.angle_deg * DEGREE) - np.tan(repose)) / np.tan(w.stream.slope)
    np.testing.assert_allclose(w.ratio, expected, rtol=1e-9)
    assert np.interp(w.repose_deg[1], w.angle_deg, w.ratio) == pytest.approx(0.0, abs=2e-3)
    assert (w.power_w[w.angle_deg < w.repose_deg[1]] == 0.0).all()
    assert (np.diff(w.ratio) > 0.0).all()


def test_a_buried_groove_lies_below_the_curve():
    w = why(NOW, 12)
    assert w.grooves_ratio[11] < w.exposed_ratio(11) - 1.0


def test_a_wider_mouth_raises_the_power_and_leaves_the_ratio():
    evenly = replace(STUDY.design, holes=HolePlan())  # else the water of each groove follows its bed
    wide = edits.with_grooves(evenly, replace(evenly.grooves, mouth_mm=9.2))
    a, b = (why(evaluate(design, STUDY.machine, STUDY.duty), 4) for design in (evenly, wide))
    np.testing.assert_allclose(a.ratio, b.ratio, rtol=0.01, atol=0.01)
    assert b.power_w[-1] == pytest.approx(a.power_w[-1] * 9.2 / 8.0, rel=0.01)


def test_more_solids_move_the_curve_to_the_right():
    thick = why(evaluate(STUDY.design, STUDY.machine, replace(STUDY.duty, solids_pct=55.0)), 4)
    falling = thick.angle_deg > thick.repose_deg[1]
    assert (thick.ratio < why(NOW, 4).ratio)[falling].all()
    assert thick.strong_deg > why(NOW, 4).strong_deg


def test_the_stream_goes_from_skimming_to_jet_as_the_wall_opens():
    w = why(NOW, 4)
    known = np.isfinite(w.depth_ratio)
    assert (np.diff(w.depth_ratio[known]) < 0.0).all()
    assert (w.jet < w.skimming).all()
    assert w.depth_ratio[known][0] > w.skimming[known][0] and w.depth_ratio[-1] < w.jet[-1]


@pytest.mark.parametrize("groove", [0, 17])
def test_a_groove_that_is_not_there_is_refused(groove):
    with pytest.raises(ValueError, match="no groove"):
        why(NOW, groove)
