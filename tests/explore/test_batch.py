"""One shape under many duties: the batch tells what single evaluations tell, for every quantity there is."""

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import Stages, evaluate
from profiler.assess.evaluate.batch import each, under, workable
from profiler.assess.quantities.table import QUANTITIES
from profiler.study.files.examples import read

STUDY = read("graded")
EVERYTHING = Stages.ALL & ~Stages.FINDINGS


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


def test_a_duty_out_of_bounds_does_not_keep_the_others_from_the_ladder():
    wrong = replace(STUDY.duty, solids_pct=99.0)
    assert workable((STUDY.duty, wrong)) == (STUDY.duty,)
    assert under(evaluate(STUDY.design, STUDY.machine, STUDY.duty), (STUDY.duty, wrong)).flow is None
