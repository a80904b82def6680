"""What findings are about, and which of them follow 80 ms after the last input: the table of kinds is believed."""

import pytest

from profiler.assess import Severity, Stages, evaluate
from profiler.assess.evaluate.evaluation import with_older
from profiler.assess.findings.finding import by_topic
from profiler.assess.findings.kinds import Kind, When
from profiler.study.edits import design_edits as edits
from profiler.study.files import examples
from tests.laws.bowl.provoked import PROVOKED

AFTERWARDS = {kind.code for kind in Kind if kind.when is When.AFTERWARDS}


def test_parts_by_topic_hold_every_finding_once() -> None:
    study = examples.read(examples.DEFAULT)
    found = evaluate(study.design, study.machine, study.duty).findings
    parts = by_topic(found)
    assert len(parts) > 3 and sorted(f.code for _, part in parts for f in part) == sorted(f.code for f in found)


@pytest.mark.parametrize("code", PROVOKED)
def test_what_comes_afterwards_is_what_the_quick_stages_do_not_find(code: str) -> None:
    case = PROVOKED[code]
    whole = {f.code for f in evaluate(case.design, case.machine, case.duty).findings}
    quick = {f.code for f in evaluate(case.design, case.machine, case.duty, Stages.QUICK).findings}
    assert whole - quick == whole & AFTERWARDS and not quick & AFTERWARDS


def test_findings_that_come_afterwards_stay_until_they_are_known_anew() -> None:
    study = examples.read(examples.DEFAULT)
    whole = evaluate(study.design, study.machine, study.duty)
    moved = edits.move_knot(study.design, 1, angle_deg=16.5)
    quick = evaluate(moved, study.machine, study.duty, Stages.QUICK)
    shown = with_older(quick, whole)
    assert {f.code for f in shown.findings} >= {f.code for f in whole.findings if f.code in AFTERWARDS} != set()
    assert len(quick.findings) < len(shown.findings) and shown.shape is quick.shape
    assert all(f.remedy is None for f in shown.findings if f.code in AFTERWARDS)
    assert [f.severity for f in shown.findings] == sorted(
        (f.severity for f in shown.findings), key=list(Severity).index
    )


def test_another_designs_findings_are_not_kept() -> None:
    study = examples.read(examples.DEFAULT)
    whole = evaluate(study.design, study.machine, study.duty)
    other = evaluate(study.designs[1], study.machine, study.duty, Stages.QUICK)
    assert with_older(other, whole) is other
