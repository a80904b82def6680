"""An answer is that of the study, whatever was looked at before it: bit for bit, by any order of edits.

A drag shows some hundred bowls one after another, and what is kept of one may serve the next only where its inputs are
the very same. So there is nothing to be near enough to: no film is sought from the film of an earlier evaluation.
"""

from collections.abc import Callable, Iterator
from dataclasses import fields, is_dataclass
from itertools import permutations

import numpy as np
import pytest

from profiler.assess import Evaluation, StageCache, Stages, evaluate
from profiler.assess.evaluate.batch import under
from profiler.assess.flow.by_duty import apart, cut
from profiler.study import Study
from profiler.study.edits import design_edits as edits
from profiler.study.files import examples
from profiler.study.records.design import GROOVE_DEPTH
from profiler.study.records.duty import SOLIDS, SPEED

EDITS: tuple[Callable[[Study], Study], ...] = (
    lambda s: edits.with_design(s, edits.move_knot(s.design, 1, None, 19.5)),
    lambda s: GROOVE_DEPTH.set(s, 8.0),
    lambda s: SOLIDS.set(s, 41.0),
)


def arrays(value: object, name: str = "") -> Iterator[tuple[str, np.ndarray]]:
    """Every array and number of a stage by its place, however deep."""
    if isinstance(value, np.ndarray | float | int):
        yield name, np.asarray(value)
    elif is_dataclass(value):
        for member in fields(value):
            yield from arrays(getattr(value, member.name), f"{name}.{member.name}")


def told(e: Evaluation) -> dict[str, bytes | str]:
    stages = {"flow": e.flow, "catch": e.catch, "spin": e.spin, "body": e.body, "stations": e.shape.stations}
    numbers = {name: a.tobytes() for key, stage in stages.items() for name, a in arrays(stage, key)}
    return numbers | {f"finding {k}": f.text for k, f in enumerate(e.findings)}


@pytest.fixture(scope="module")
def straight() -> dict[str, bytes | str]:
    """The edited study, asked at once and with nothing kept."""
    study = examples.read(examples.DEFAULT)
    for edit in EDITS:
        study = edit(study)
    return told(evaluate(study.design, study.machine, study.duty))


@pytest.mark.parametrize("order", tuple(permutations(range(len(EDITS)))))
def test_any_order_of_edits_gives_the_same_bits(order: tuple[int, ...], straight: dict[str, bytes | str]) -> None:
    study, cache = examples.read(examples.DEFAULT), StageCache()
    evaluate(study.design, study.machine, study.duty, Stages.ALL, cache)
    for place in order:
        study = EDITS[place](study)
        evaluate(study.design, study.machine, study.duty, Stages.QUICK, cache)
    assert len(straight) > 100
    assert told(evaluate(study.design, study.machine, study.duty, Stages.ALL, cache)) == straight


def test_there_and_back_gives_the_same_bits(straight: dict[str, bytes | str]) -> None:
    """A drag far away and back, the duty's too."""
    study, cache = examples.read(examples.DEFAULT), StageCache()
    for angle, rpm in ((24.0, 640.0), (15.0, 500.0), (21.0, 580.0)):
        away = SPEED.set(edits.with_design(study, edits.move_knot(study.design, 1, None, angle)), rpm)
        evaluate(away.design, away.machine, away.duty, Stages.QUICK, cache)
    for edit in EDITS:
        study = edit(study)
    assert told(evaluate(study.design, study.machine, study.duty, Stages.ALL, cache)) == straight


def test_a_batch_taken_apart_at_once_is_each_duty_cut_out_of_it() -> None:
    study = examples.read(examples.DEFAULT)
    e = evaluate(study.design, study.machine, study.duty, Stages.FLOW)
    batch = under(e, study.duties)
    assert batch.flow is not None
    count = len(study.duties)
    parts = apart(batch.flow, count)
    assert len(parts) == count > 1
    for i, part in enumerate(parts):
        one = cut(batch.flow, np.array([i]), count)
        pairs = list(zip(arrays(part), arrays(one), strict=True))
        assert len(pairs) > 30
        assert all(a[0] == b[0] and np.array_equal(a[1], b[1], equal_nan=True) for a, b in pairs)
