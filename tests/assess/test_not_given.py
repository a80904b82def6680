"""What nobody gave is not given: taken away number by number, no figure pretends, and every reader says so."""

import json
import re
from functools import cache

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import Evaluation, evaluate
from profiler.assess.findings.kinds import Kind
from profiler.assess.fitting.fit import fit
from profiler.assess.quantities.left_out import bound_of, missing
from profiler.assess.quantities.spin_quantities import SPIN_QUANTITIES
from profiler.assess.quantities.table import QUANTITIES
from profiler.output.report.content import Job, report_of
from profiler.output.report.inputs import input_blocks
from profiler.output.terminal.check_json import check_json
from profiler.output.terminal.check_text import check_text
from profiler.study import NOT_GIVEN, Field, HolePlan, Machine, fields_of, not_given
from profiler.study.files import examples
from profiler.study.files.file import decode_study, encode_study
from profiler.study.records.fields import BY_RULE
from tests.study.test_fields import KINDS

STUDY = examples.read("watered")
# all that a machine may lack, given: invented
WHOLE = replace(
    STUDY.machine, flange_hold_kn=60.0, feed_pipe_mm=50.0, feed_pipe_end_mm=60.0, deflector_mm=90.0,
    deflector_height_mm=30.0,
)  # fmt: skip
LACKING = [field for field in fields_of(Machine).values() if field.empty == NOT_GIVEN]
NO_DIRECTION = {"rotor_centre_mm"}  # moves either way, with where the missing part is


def test_a_bowl_whose_feed_parts_are_in_the_way_is_not_said_to_fit() -> None:
    for part in ({"feed_pipe_mm": 380.0}, {"deflector_mm": 380.0}):
        codes = {f.code for f in evaluate(STUDY.design, replace(WHOLE, **part), STUDY.duty).findings}
        assert "fits" not in codes and codes & {"feed_pipe_clash", "deflector_clash"}
    assert "fits" in {f.code for f in evaluate(STUDY.design, WHOLE, STUDY.duty).findings}


def test_the_bed_that_unbalances_is_told_of_what_is_given_alone() -> None:
    def said(machine: Machine) -> str:
        found = evaluate(STUDY.design, machine, STUDY.duty).findings
        return next(f.text for f in found if f.kind is Kind.UNBALANCE_BED)

    assert "not given" not in said(WHOLE)
    for missing_part in ({"further_mass_kg": None}, {"shell_floor_mm": None}, {"shell_mm": None}):
        assert said(replace(WHOLE, **missing_part)).endswith("what is not given adds to both.")


@pytest.fixture(scope="module")
def whole() -> Evaluation:
    return evaluate(STUDY.design, WHOLE, STUDY.duty)


@pytest.fixture(scope="module")
def bare() -> Evaluation:
    """Nothing known of the machine but what a study cannot begin without."""
    return evaluate(STUDY.design, Machine("Rotor", (), WHOLE.lip_radius_mm, WHOLE.height_mm), STUDY.duty)


@cache
def without(field: Field[float]) -> Evaluation:
    return evaluate(STUDY.design, field.set(WHOLE, None), STUDY.duty)


def noughts(e: Evaluation) -> list[str]:
    """Figures said to be at least or at most nothing: of what nobody knows there is no figure."""
    return [q.key for q in SPIN_QUANTITIES if bound_of(q, e) is not None and float(q.get(e)[0]) == 0.0]


def nothing_odd(text: str) -> bool:
    return not any(word in text.replace("None of", "").split() for word in ("nan", "None", "inf", "null"))


def test_a_number_that_may_be_none_says_what_that_means_and_none_stands_for_it_as_a_nought() -> None:
    for kind in KINDS:
        for field in fields_of(kind).values():
            assert "0 where it is not known" not in field.help and "0 where not known" not in field.help
            assert field.empty or not field.may_be_none or field.name.endswith("radius_mm"), field.label
    assert len(LACKING) == 18 and not_given(WHOLE) == ()
    assert fields_of(Machine)["entry_mm"].empty == BY_RULE


@pytest.mark.parametrize("field", LACKING, ids=lambda f: f.name)
def test_nothing_computed_without_it_pretends(whole: Evaluation, field: Field[float]) -> None:
    """A figure that moves when a number is taken away is gone, or marked with the way it would move."""
    less = without(field)
    assert less.shape is not None and less.flow is not None and less.spin is not None
    for q in QUANTITIES:
        a, b = q.get(whole), q.get(less)
        if a.shape != b.shape or q.key in NO_DIRECTION:
            continue
        moved = ~np.isnan(b) & ~np.isclose(a, b, rtol=1e-9, equal_nan=True)
        assert not moved.any() or (bound_of(q, less) is not None and "given" in missing(q, less)), q.key


@pytest.mark.parametrize("field", LACKING, ids=lambda f: f.name)
def test_findings_report_terminal_and_file_say_so(field: Field[float]) -> None:
    less = without(field)
    assert not noughts(less)
    (lacks,) = (f.text for f in less.findings if f.kind is Kind.MACHINE_LACKS)
    assert lacks.startswith(f"Not given of the machine, so left out or not checked: {field.label.lower()}.")
    assert all(nothing_odd(f.text) for f in less.findings)
    assert nothing_odd(check_text(less)) and json.loads(check_json(less))
    rows = [row for block in input_blocks(less) for row in getattr(block, "rows", ())]
    assert [row[k + 1] for row in rows for k in range(len(row) - 1) if row[k] == field.label] == [NOT_GIVEN]
    written = encode_study(STUDY.having("machine", less.machine))
    assert json.loads(written)["machine"][field.name] is None
    assert decode_study(written, "again.bowl").machine == less.machine


def test_with_nothing_given_every_reader_still_reads(bare: Evaluation) -> None:
    assert set(not_given(bare.machine)) == set(LACKING) and not noughts(bare)
    even = evaluate(replace(STUDY.design, holes=HolePlan()), bare.machine, STUDY.duty)
    assert not noughts(even) and any("not worked out and not checked" in f.text for f in even.findings)
    assert all(nothing_odd(f.text) and not re.search(r"at least 0(\.0+)? ", f.text) for f in even.findings)
    text = check_text(bare)
    assert nothing_odd(text) and "at least" in text
    figures = {q.key: float(q.get(bare)[0]) for q in SPIN_QUANTITIES}
    assert all(np.isnan(figures[key]) for key in ("spin_up_kw", "spin_up_nm", "shell_mass_kg", "strength_factor"))
    cells = [c for b in report_of(bare, Job("", "", "")).blocks for row in getattr(b, "rows", ()) for c in row]
    assert cells.count(NOT_GIVEN) >= len(LACKING) and all(nothing_odd(c) for c in cells)


def test_nothing_is_no_least_and_no_most(bare: Evaluation, whole: Evaluation) -> None:
    """A figure that could not be worked out has neither a bound before it nor a unit behind it."""
    for e in (bare, whole):
        said = " ".join(check_text(e).split())
        assert not re.search(r"at (least|most) –|– (kN|MPa|kg|kJ|g mm)", said)
    assert "hoop stress not worked out" in " ".join(check_text(bare).split())


@pytest.mark.parametrize(
    "figure", ["mass", "polar inertia", "energy", "rim speed", "permitted unbalance", "hoop stress"]
)
def test_the_terminal_tells_the_bounds_that_its_json_does(bare: Evaluation, figure: str) -> None:
    keys = {
        "mass": "mass_kg", "polar inertia": "inertia_kg_m2", "energy": "energy_kj", "rim speed": "rim_speed_m_s",
        "permitted unbalance": "unbalance_g_mm", "hoop stress": "hoop_mpa",
    }  # fmt: skip
    rotor = json.loads(check_json(bare))["rotor"]
    said = " ".join(check_text(bare).split())
    said = said[said.index("Rotating assembly") : said.index("Figures marked")]
    bound = rotor["bounds"][keys[figure]] if rotor[keys[figure]] is not None else "not worked out"
    assert f"{figure} {bound}" in said


def test_the_jackets_own_pressure_is_not_told_where_its_inlet_is_not_given(bare: Evaluation) -> None:
    """Rings share the water as before: their flows do not ask where it comes in. Nobody can say what a gauge reads."""
    known = evaluate(STUDY.design, replace(WHOLE, supply_kpa=None), STUDY.duty)
    less = evaluate(STUDY.design, replace(WHOLE, supply_kpa=None, jacket_inlet_mm=None), STUDY.duty)
    assert known.flow is not None and less.flow is not None
    assert np.allclose(known.flow.water.ring, less.flow.water.ring, rtol=1e-6)
    assert json.loads(check_json(known))["water"]["jacket_kpa"] is not None
    assert json.loads(check_json(less))["water"]["jacket_kpa"] is None


def test_an_unknown_fastest_speed_is_a_check_and_a_known_one_still_stops() -> None:
    none = evaluate(STUDY.design, replace(WHOLE, speed_high_rpm=None), STUDY.duty)
    assert [f.kind for f in none.findings if f.kind in (Kind.SPEED_UNKNOWN, Kind.SPEED_RANGE)] == [Kind.SPEED_UNKNOWN]
    fast = evaluate(STUDY.design, replace(WHOLE, speed_low_rpm=None), replace(STUDY.duty, speed_rpm=900.0))
    (told,) = (f for f in fast.findings if f.kind is Kind.SPEED_RANGE)
    assert told.severity.name == "STOP" and "may run up to 800 rpm" in told.text


def test_a_bowl_is_fitted_to_a_seat_whose_jacket_is_not_given_by_its_own_wall() -> None:
    found = fit(STUDY.design, replace(WHOLE, jacket_gap_mm=None))
    assert found.design is not None and not found.design.body.fill_seat
    assert "the jacket gap is not given, so the body keeps its own wall" in found.sentence
    filling = replace(STUDY.design, body=replace(STUDY.design.body, fill_seat=True))
    refused = fit(filling, replace(WHOLE, jacket_gap_mm=None))
    assert refused.design is None and "jacket gap is not given" in refused.sentence
