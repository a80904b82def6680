"""evaluate(): a whole answer that does not depend on how it was asked; and every finding it can make."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from functools import cache

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import Evaluation, Severity, StageCache, Stages, evaluate
from profiler.assess.findings.finding import RANK
from profiler.assess.findings.kinds import Kind, Topic, When
from profiler.assess.fitting.fit import FIT_WORDS, CannotFit
from profiler.assess.quantities.table import QUANTITIES
from profiler.study import Duty
from profiler.study.files import examples
from tests.laws.bowl.provoked import (
    AT_EXPORT,
    DESIGN,
    DUTY,
    IMPOSSIBLE,
    MACHINE,
    OF_THE_FEED,
    OF_THE_MODEL,
    PROVOKED,
    Case,
)

NO_ANSWER = dict.fromkeys(("not_carried", "bed_closes", "film_below_grain"))  # stops of the model itself
STUDIES = [examples.read(name) for name in examples.names()]
ODD_DUTIES = (
    DUTY,
    replace(DUTY, name="clear", solids_pct=1.0),
    replace(DUTY, name="thick", solids_pct=72.0, d50_um=700.0),
    replace(DUTY, name="flooded", dry_feed_t_h=60.0),
    replace(DUTY, name="slow", speed_rpm=90.0),
    replace(DUTY, name="hot and dry", temperature_c=75.0, water_l_min=0.0),
)


def numbers(value: object, name: str = "") -> Iterator[tuple[str, np.ndarray]]:
    """Every array and number inside a result, with its path."""
    if is_dataclass(value):
        for field in fields(value):
            yield from numbers(getattr(value, field.name), f"{name}.{field.name}")
    elif isinstance(value, np.ndarray | float | int):
        yield name, np.asarray(value, dtype=float)


def same_numbers(one: object, other: object) -> bool:
    pairs = zip(numbers(one), numbers(other), strict=True)
    return all(a[0] == b[0] and np.array_equal(a[1], b[1], equal_nan=True) for a, b in pairs)


@cache
def of(case: Case) -> Evaluation:
    """Worked out once for all tests; that an answer never changes is a test of its own."""
    return evaluate(case.design, case.machine, case.duty)


# the same answer however it is asked


@pytest.mark.parametrize(
    ("duties", "tolerance"),
    [*((s.duties, 1e-12) for s in STUDIES), (ODD_DUTIES, 1e-9)],
    ids=[*examples.names(), "odd duties"],
)
def test_a_batch_of_duties_equals_each_duty_alone(duties: tuple[Duty, ...], tolerance: float) -> None:
    """Where a duty is hard to settle the others get its extra passes: they then differ by less than a pass leaves."""
    batch = dict(numbers(evaluate(DESIGN, MACHINE, duties, want=Stages.FLOW).flow))
    for i, duty in enumerate(duties):
        for name, alone in numbers(evaluate(DESIGN, MACHINE, duty, want=Stages.FLOW).flow):
            scale = max(float(np.nanmax(np.abs(alone), initial=0.0)), 1e-3)
            assert batch[name][i] == pytest.approx(alone[0], abs=tolerance * scale, nan_ok=True), f"{duty.name}: {name}"


@pytest.mark.parametrize("study", STUDIES, ids=examples.names())
def test_evaluating_twice_gives_equal_answers(study) -> None:
    one, other = (evaluate(study.design, study.machine, study.duties) for _ in range(2))
    assert same_numbers(one, other)
    assert one.findings == other.findings


@pytest.mark.parametrize("study", STUDIES, ids=examples.names())
@pytest.mark.parametrize("want", [Stages(0), *Stages, Stages.QUICK, Stages.ALL], ids=str)
def test_a_partial_evaluation_may_be_incomplete_but_never_differs(study, want: Stages) -> None:
    whole = evaluate(study.design, study.machine, study.duty)
    part = evaluate(study.design, study.machine, study.duty, want=want)
    assert same_numbers(part.shape, whole.shape)
    for stage, name in ((Stages.FLOW, "flow"), (Stages.BODY, "body")):
        made = getattr(part, name)
        assert (made is not None) == (stage in want)
        assert made is None or same_numbers(made, getattr(whole, name))
    assert set(part.findings) <= set(whole.findings)
    assert bool(part.findings) == (Stages.FINDINGS in want)


def test_a_stage_is_reused_while_its_inputs_are_the_very_same_objects() -> None:
    cache = StageCache()
    first = evaluate(DESIGN, MACHINE, DUTY, cache=cache)
    again = evaluate(DESIGN, MACHINE, DUTY, cache=cache)
    assert again.shape is first.shape and again.flow is first.flow
    faster = evaluate(DESIGN, MACHINE, replace(DUTY, speed_rpm=700.0), cache=cache)
    assert faster.shape is first.shape and faster.flow is not first.flow
    taller = evaluate(replace(DESIGN, note="other"), MACHINE, DUTY, cache=cache)
    assert taller.shape is not first.shape


def test_a_cache_never_changes_an_answer() -> None:
    cache = StageCache()
    for case in PROVOKED.values():
        kept = evaluate(case.design, case.machine, case.duty, cache=cache)
        fresh = of(case)
        assert same_numbers(kept, fresh)
        assert kept.findings == fresh.findings


def test_every_quantity_of_every_example_is_a_number_of_the_right_count() -> None:
    for study in STUDIES:
        whole = evaluate(study.design, study.machine, study.duty)
        counts = {"wall": len(whole.shape.stations.height), "groove": len(whole.shape.mouths), "bowl": 1}
        for quantity in QUANTITIES:
            values = quantity.get(whole)
            assert values.shape == (counts[quantity.scope.value],), quantity.key
            if not quantity.limits.startswith("none "):  # some do not exist without holes, or under a calm bed
                assert np.all(np.isfinite(values)), quantity.key


def test_without_a_shape_every_quantity_is_empty_or_not_a_number_and_prints_a_dash() -> None:
    nothing = of(IMPOSSIBLE["no_radius"])
    for quantity in QUANTITIES:
        assert all(quantity.text(float(v)) == "–" for v in quantity.get(nothing))


# findings


def test_the_table_of_kinds_and_the_cases_that_provoke_them_are_one_list() -> None:
    made = {kind.code for kind in Kind if kind.when is not When.EXPORT}
    assert made == set(PROVOKED) and set(AT_EXPORT) == {kind.code for kind in Kind} - made
    assert len({kind.code for kind in Kind}) == len(Kind)


@pytest.mark.parametrize("code", [*PROVOKED, *AT_EXPORT])
def test_the_finding_can_be_provoked_and_is_a_whole_located_statement(code: str) -> None:
    made = of(PROVOKED[code]).findings if code in PROVOKED else AT_EXPORT[code]()
    found = [f for f in made if f.kind.code == code]
    assert found, f"{code} was not found"
    for finding in found:
        assert not finding.text[0].islower() and finding.text[-1] in ".?"
        assert (finding.from_mm is None) == (finding.to_mm is None)
        if finding.grooves:
            assert list(finding.grooves) == list(range(finding.grooves[0], finding.grooves[-1] + 1))


@pytest.mark.parametrize("code", IMPOSSIBLE)
def test_what_cannot_be_built_gives_no_shape_and_a_stop_that_says_why(code: str) -> None:
    whole = of(IMPOSSIBLE[code])
    assert (whole.shape, whole.flow, whole.body) == (None, None, None)
    assert whole.findings[0].severity is Severity.STOP
    assert code in [f.kind.code for f in whole.findings if f.severity is Severity.STOP]


@pytest.mark.parametrize("code", OF_THE_FEED)
def test_a_feed_that_contradicts_itself_gives_a_bowl_without_flow_and_a_stop_that_says_why(code: str) -> None:
    whole = of(PROVOKED[code])
    assert whole.shape is not None and whole.flow is None and whole.catch is None and whole.spin is None
    assert (whole.findings[0].code, whole.findings[0].severity) == (code, Severity.STOP)


@pytest.mark.parametrize("code", NO_ANSWER)
def test_where_the_model_has_no_answer_there_is_a_bowl_without_one_and_a_stop_that_says_why(code: str) -> None:
    whole = of(PROVOKED[code])
    assert whole.shape is not None and whole.body is not None
    assert (whole.flow, whole.catch, whole.spin) == (None, None, None)
    assert [f.code for f in whole.findings if f.kind.topic is Topic.SLURRY and f.severity is Severity.STOP] == [code]


NO_BODY = ("flange_inside_lip", "outline_crosses")


@pytest.mark.parametrize("code", NO_BODY)
def test_a_section_that_bounds_no_body_is_drawn_but_has_no_mass_no_energy_and_no_stress(code: str) -> None:
    whole = of(PROVOKED[code])
    assert whole.shape is not None and whole.flow is not None and whole.catch is not None
    assert (whole.body, whole.spin) == (None, None)


SOUND_ENOUGH = [c for c in PROVOKED if c not in {**IMPOSSIBLE, **OF_THE_FEED, **NO_ANSWER} and c not in NO_BODY]


@pytest.mark.parametrize("code", SOUND_ENOUGH)
def test_whatever_else_is_found_does_not_keep_a_bowl_from_being_drawn(code: str) -> None:
    whole = of(PROVOKED[code])
    assert whole.shape is not None and whole.flow is not None and whole.body is not None


LIMITS_OF_THE_MODEL = {
    "film thinner than three grains": ("film_thin", 3.0, -1),
    "film not steady over a third of the wall": ("film_unsteady", 1.0, 1),
    "film faster than 0.3 of the wall's speed": ("film_fast", 0.3, 1),
    "Reynolds number of the film below 1500": ("film_laminar", 1500.0, -1),
    "roughness cap reached": ("roughness_cap", 0.5, 1),
    "Reynolds floor reached": ("reynolds_floor", 0.5, 1),
    "solids below 0.03 by volume": ("thin_slurry", 0.03, -1),
    "solids above 0.45 by volume": ("thick_slurry", 0.45, 1),
    "acceleration below 20 g": ("low_acceleration", 20.0, -1),
    "friction outside 0.35 to 0.9": ("friction_unusual", 0.9, 1),
    "grains in place at a bed's packing": ("bed_packed", 0.5, 1),
    "surface at the floor reaching the hub": ("slurry_over_hub", None, -1),
    "surface at the floor reaching the feed pipe": ("slurry_on_feed_pipe", None, -1),
    "surface at the floor reaching the deflector": ("slurry_on_deflector", None, -1),
    "much of the feed counting as liquid": ("much_fines", 50.0, -1),
    "film lag above 0.15": ("film_lag", 0.15, 1),
    "slurry not carried round": ("not_carried", 0.0, 1),
    "film thinner than one grain": ("film_below_grain", 1000.0, -1),
}


@pytest.mark.parametrize("limit", LIMITS_OF_THE_MODEL)
def test_each_limit_of_the_model_is_a_finding_with_the_number_beyond_it(limit: str) -> None:
    code, bound, side = LIMITS_OF_THE_MODEL[limit]
    finding = next(f for f in of(PROVOKED[code]).findings if f.code == code)
    assert finding.severity is (Severity.STOP if code in NO_ANSWER else Severity.CHECK)
    assert bound is None or finding.limit == pytest.approx(bound)
    assert (finding.value - finding.limit) * side > 0.0
    assert finding.source


def test_the_default_example_strains_no_limit_and_has_no_stop() -> None:
    whole = evaluate(DESIGN, MACHINE, DUTY)
    assert not [f.code for f in whole.findings if f.severity is Severity.STOP]
    assert not {f.code for f in whole.findings} & set(OF_THE_MODEL)


def test_a_number_out_of_bounds_names_its_field_in_the_code() -> None:
    found = of(Case(replace(DESIGN, grooves=replace(DESIGN.grooves, mouth_mm=-1.0, depth_mm=-1.0)))).findings
    of_fields = {f.code for f in found if f.kind is Kind.OUT_OF_BOUNDS}
    assert of_fields == {"out_of_bounds_mouth_mm", "out_of_bounds_depth_mm"}


def test_findings_come_worst_first() -> None:
    for case in PROVOKED.values():
        ranks = [RANK[f.severity] for f in of(case).findings]
        assert ranks == sorted(ranks)


@pytest.mark.parametrize("code", PROVOKED)
def test_doing_a_remedy_mends_its_finding(code: str) -> None:
    case = PROVOKED[code]
    for finding in of(case).findings:
        if finding.remedy is None:
            continue
        try:
            changed = finding.remedy.changed
        except CannotFit as reason:  # said with the limit that binds, and nothing is offered as if it helped
            assert finding.remedy.label == FIT_WORDS and "nothing is changed" in str(reason)
            continue
        mended = {type(case.design): case.design, type(case.machine): case.machine, type(case.duty): case.duty}
        mended[type(changed)] = changed
        after = evaluate(*mended.values())
        assert finding.code not in [f.code for f in after.findings], finding.remedy.label


def test_a_low_speed_is_a_check_and_a_high_one_a_stop() -> None:
    for speed, severity in ((200.0, Severity.CHECK), (900.0, Severity.STOP)):
        found = [f for f in of(Case(duty=replace(DUTY, speed_rpm=speed))).findings if f.code == "speed_range"]
        assert [f.severity for f in found] == [severity]


def test_at_the_very_limit_nothing_is_found() -> None:
    """A bound is allowed; only beyond it is a finding."""
    lip = replace(DUTY, speed_rpm=MACHINE.speed_high_rpm)
    assert "speed_range" not in [f.code for f in evaluate(DESIGN, MACHINE, lip).findings]
    land = float(np.min(of(Case()).shape.mouths.lands))
    at_limit = replace(DESIGN, grooves=replace(DESIGN.grooves, least_land_mm=land))
    assert "land_narrow" not in [f.code for f in evaluate(at_limit, MACHINE, DUTY).findings]


@pytest.mark.parametrize("duty", ODD_DUTIES, ids=lambda d: d.name)
def test_no_duty_however_odd_leaves_anything_but_numbers(duty: Duty) -> None:
    whole = evaluate(DESIGN, MACHINE, duty)
    flow = whole.flow
    if flow is None:
        assert whole.no_answer
        return
    bedded = bool(flow.film.has_bed.all())
    for name, values in numbers(flow):
        if name.endswith("measured_radius"):
            continue  # none was measured
        if not bedded and name.endswith("ratio"):
            assert np.all(np.isnan(values)), name  # without a bed there is nothing to overturn
            continue
        assert np.all(np.isfinite(values)), name
