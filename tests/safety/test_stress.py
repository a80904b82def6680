"""Whole studies under random edits, undo, redo, save and load; very large studies; and a long day's work in memory."""

import random
import sys
from pathlib import Path

import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from PySide6.QtWidgets import QApplication

from profiler.assess import Severity, Stages, evaluate
from profiler.assess.checks.check_shape import CROSSING_SAG_MM
from profiler.assess.trials.verdicts import evaluate_trial
from profiler.geometry.chain import sampled
from profiler.study import Knot, Study
from profiler.study.edits import design_edits as edits
from profiler.study.files import examples
from profiler.study.files.file import decode_study, encode_study
from profiler.ui.document.document import Document
from tests.safety.any_edits import any_edit

UNHURRIED = [HealthCheck.too_slow, HealthCheck.function_scoped_fixture]
SHORT = settings(max_examples=4, deadline=None, derandomize=True, database=None, suppress_health_check=UNHURRIED)
LONG = settings(SHORT, max_examples=400)
SCRIPTS = st.tuples(st.sampled_from(examples.names()), st.integers(0, 2**32), st.integers(1, 25))
MOST_GROWTH_MB = 10.0


def sound_or_stopped(study: Study) -> None:
    """No exception, and no section that crosses itself without a `stop`."""
    e = evaluate(study.design, study.machine, study.duty)
    stops = [f for f in e.findings if f.severity is Severity.STOP]
    if e.shape is None:
        assert stops
    elif not stops:
        assert shapely.Polygon(sampled(e.shape.outline, CROSSING_SAG_MM)).is_valid
    for trial in study.trials:
        found = evaluate_trial(trial, study)
        assert (found.judgement is None) is bool(found.trouble)


def same(one: Study, other: Study) -> bool:
    """Equal but for what is shown, which is no undo step."""
    return replace(one, shown=other.shown) == other


def live_through(script: tuple[str, int, int], folder: Path) -> None:
    """Edit a study at random; undo all, redo all, save, load: always the values there were."""
    name, seed, count = script
    chance, path = random.Random(seed), folder / "script.bowl"
    document = Document(examples.read(name))
    states = [document.study]
    for _ in range(count):
        document.edit(any_edit(document.study, chance), "any")
        if document.undo_stack.count() == len(states):
            states.append(document.study)
        assert document.evaluation is not None
        sound_or_stopped(document.study)
    for state in reversed(states[:-1]):
        document.undo_stack.undo()
        assert document.study == state
    assert not document.modified
    for state in states[1:]:
        document.undo_stack.redo()
        assert document.study == state
    document.save(path)
    assert not document.modified and path.read_bytes() == encode_study(document.study)
    document.load(path)
    assert document.study == states[-1] and not document.undo_stack.canUndo()


@pytest.mark.no_cover  # repeats by the thousand what others cover
@SHORT
@given(script=SCRIPTS)
def test_random_edits_are_undone_redone_saved_and_loaded_to_equal_values(
    qapp: QApplication, tmp_path: Path, script: tuple[str, int, int]
) -> None:
    live_through(script, tmp_path)


@pytest.mark.long
@LONG
@given(script=SCRIPTS)
def test_many_random_edits_are_undone_redone_saved_and_loaded_to_equal_values(
    qapp: QApplication, tmp_path: Path, script: tuple[str, int, int]
) -> None:
    live_through(script, tmp_path)


# very large studies: they work, or a sentence says why not


def big(grooves: int = 0, knots: int = 0, designs: int = 0) -> Study:
    study = examples.read(examples.DEFAULT)
    design = study.design
    if knots:
        height = design.wall.height_mm
        many = tuple(Knot(height * i / (knots - 1), 8.0 + 6.0 * i / (knots - 1)) for i in range(knots))
        design = edits.with_grooves(edits.with_knots(design, many), replace(design.grooves, to_mm=0.98 * height))
    if grooves:
        small = {"mouth_mm": 0.5, "depth_mm": 0.5, "floor_radius_mm": 0.05, "edge_radius_mm": 0.02}
        design = edits.with_grooves(design, replace(design.grooves, count=grooves, **small))
    study = edits.with_design(study, design)
    if designs:
        copies = tuple(replace(design, name=f"Design {i}") for i in range(designs))
        study = replace(study, designs=copies)
    return study


@pytest.mark.parametrize("many", [{"grooves": 500}, {"knots": 200}, {"designs": 50}], ids=str)
def test_very_large_studies_work(qapp: QApplication, many: dict[str, int]) -> None:
    study = big(**many)
    assert decode_study(encode_study(study), "big") == study
    e = evaluate(study.design, study.machine, study.duty, want=Stages.ALL)
    assert e.shape is not None and e.flow is not None and e.body is not None
    assert len(e.shape.mouths) == study.design.grooves.count
    document = Document(study)
    moved = edits.move_knot(study.design, 1, angle_deg=13.0)
    document.edit_design(moved, "Move knot")
    document.undo_stack.undo()
    assert document.study == study and document.evaluation.shape is not None


def test_more_grooves_than_can_be_worked_with_are_said() -> None:
    study = big(grooves=501)
    e = evaluate(study.design, study.machine, study.duty)
    assert e.shape is None
    assert [f.severity for f in e.findings if f.code == "out_of_bounds_count"] == [Severity.STOP]


# a long day


def resident_mb() -> float:
    """Of this process. Linux, proc(5): the second number of statm is the resident pages."""
    import resource

    pages = int(Path("/proc/self/statm").read_text().split()[1])
    return pages * resource.getpagesize() / 1e6


def growth_mb(acts: int, settled: int) -> float:
    """How much the process grows over the acts after the first ones."""
    chance, study = random.Random(acts), examples.read(examples.DEFAULT)
    document = Document(study)
    start = 0.0
    for act in range(acts):
        if act % 40 == 39:
            document.edit(study, "From the start again")  # else the numbers wander off to where nothing can be drawn
        elif chance.random() < 0.15:
            document.undo_stack.undo()
        elif chance.random() < 0.05:
            document.undo_stack.redo()
        else:
            document.edit(any_edit(document.study, chance), "any")
        document.flush()
        QApplication.processEvents()
        if act + 1 == settled:
            start = resident_mb()
    return resident_mb() - start


@pytest.mark.no_cover  # repeats by the thousand what others cover
@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="asks Linux for the memory in use")
@pytest.mark.long  # it starts or fills too much for every run
def test_memory_stays_where_it_is_over_many_edits(qapp: QApplication) -> None:
    assert growth_mb(1_500, 1_000) < MOST_GROWTH_MB


@pytest.mark.long
@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="asks Linux for the memory in use")
def test_memory_stays_where_it_is_over_twenty_thousand_edits(qapp: QApplication) -> None:
    growth = growth_mb(20_000, 1_000)
    print(f"{growth:.1f} MB more after 20,000 edits than after 1,000")
    assert growth < MOST_GROWTH_MB
