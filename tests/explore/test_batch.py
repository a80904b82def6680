"""One shape under many duties: the batch tells what single evaluations tell, for every quantity there is."""

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import Stages, evaluate
from profiler.assess.evaluate.batch import each, under, workable
from profiler.assess.quantities.table import QUANTITIES
from profiler.explore.ore_map import AXES, NO_BODY, Span, asked, ore_map
from profiler.output.tables.map_csv import map_text
from profiler.study.files.examples import read
from tests.laws.bowl.provoked import PROVOKED

STUDY = read("graded")
EVERYTHING = Stages.ALL & ~Stages.FINDINGS
AXIS = {axis.word: axis for axis in AXES}


def duties(count):
    base = STUDY.duty
    return [replace(base, solids_pct=22.0 + 40.0 * i / count, d50_um=60.0 + 15.0 * i) for i in range(count)]


@pytest.mark.parametrize("count", [1, 3, 16])  # 16 duties for 16 grooves: no array is cut along the wrong axis
def test_a_batch_gives_every_quantity_as_single_evaluations_do(count):
    e = evaluate(STUDY.design, STUDY.machine, STUDY.duty)
    batch = each(under(e, duties(count), EVERYTHING))
    assert len(batch) == count
    for one, duty in zip(batch, duties(count), strict=True):
        alone = evaluate(STUDY.design, STUDY.machine, duty, EVERYTHING)
        assert one.duty == duty
        for q in QUANTITIES:
            np.testing.assert_allclose(q.get(one), q.get(alone), rtol=1e-9, atol=1e-9, err_msg=q.key)


def test_repose_of_a_batch_equals_single_evaluations_to_1e_12():
    e = evaluate(STUDY.design, STUDY.machine, STUDY.duty)
    batch = under(e, duties(9)).flow
    for i, duty in enumerate(duties(9)):
        alone = evaluate(STUDY.design, STUDY.machine, duty, Stages.FLOW).flow
        np.testing.assert_allclose(batch.angle[i], alone.angle[0], rtol=1e-12, atol=2e-12)


def test_the_shape_is_taken_over_and_one_duty_alone_is_the_same_to_the_last_bit():
    e = evaluate(STUDY.design, STUDY.machine, STUDY.duty)
    again = under(e, (STUDY.duty,))
    assert again.shape is e.shape
    for q in QUANTITIES:
        if len(q.get(again)) and np.isfinite(q.get(again)).all():
            assert np.array_equal(q.get(again), q.get(e)), q.key


@pytest.mark.parametrize("code", ["outline_crosses", "flange_inside_lip", "wall_thin"])
def test_whatever_is_wanted_no_stage_tells_what_the_whole_evaluation_withholds(code):
    """A section that crosses itself has no mass to tell on the ore map either, which asks for no findings."""
    case = PROVOKED[code]
    whole = evaluate(case.design, case.machine, case.duty)
    wants = [a | b for a in Stages for b in Stages]
    for want in wants:
        part = under(evaluate(case.design, case.machine, case.duty, Stages(0)), (case.duty,), want)
        assert part.body is None or part.body == whole.body, want
        assert part.spin is None or whole.spin is not None, want
    assert (whole.body is None) == (code != "wall_thin")


def test_a_map_of_a_mass_that_is_not_told_says_why():
    case = PROVOKED["outline_crosses"]
    e = evaluate(case.design, case.machine, case.duty)
    spans = Span(AXIS["solids"], 30.0, 40.0, 2), Span(AXIS["speed"], 400.0, 600.0, 2)
    found = ore_map(asked(*spans, "body_energy_j", None, e), e)
    assert not np.isfinite(found.values).any() and found.lost == (NO_BODY,)
    assert NO_BODY in " ".join(map_text(found).split())


def test_a_duty_out_of_bounds_does_not_keep_the_others_from_the_ladder():
    wrong = replace(STUDY.duty, solids_pct=99.0)
    assert workable((STUDY.duty, wrong)) == (STUDY.duty,)
    assert under(evaluate(STUDY.design, STUDY.machine, STUDY.duty), (STUDY.duty, wrong)).flow is None
