"""The window under load: very large studies work in it or a sentence says why not; a long day does not fill memory."""

import random
import sys
from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from profiler.study import Knot, Study, read_study
from profiler.study.edits import design_edits as edits
from profiler.study.files import examples
from profiler.study.files.file import MOST, decode_study, encode_study
from tests.safety.any_edits import any_edit
from tests.safety.test_stress import MOST_GROWTH_MB, big, resident_mb
from tests.tiers import kept
from tests.ui.hands import Hands

LARGE = ({"grooves": 500}, {"knots": 200}, {"designs": 50}, {"grooves": 500, "knots": 200, "designs": 50})


@pytest.mark.parametrize("many", kept(LARGE, [LARGE[1], LARGE[2]]), ids=str)
def test_a_very_large_study_is_shown_edited_undone_and_saved(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, many: dict[str, int]
) -> None:
    study = big(**many)
    hands = Hands(qtbot, tmp_path, monkeypatch, study)
    assert len(hands.evaluation.shape.mouths) == study.design.grooves.count
    assert hands.page.duty_bar.design.count() >= len(study.designs)
    hands.choose_knot(1)
    hands.key(hands.angle, Qt.Key.Key_Right)
    assert hands.steps == 1 and hands.knots[1] != study.design.wall.knots[1]
    hands.drag_knot(1, hands.place(hands.knots[1].height_mm, 12.0))
    assert hands.steps == 2 and not [s.failure for s in hands.page.strips if s.failure]
    edited = hands.study
    path = tmp_path / "large.bowl"
    hands.answers.answer("ask_save", path)
    hands.do("Save")
    assert read_study(path) == edited
    hands.undo()
    hands.undo()
    assert (hands.study.designs, hands.study.machine) == (study.designs, study.machine)


def test_a_knot_table_of_two_hundred_rows_can_be_typed_in(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands = Hands(qtbot, tmp_path, monkeypatch, big(knots=200))
    table = hands.page.forms.wall.table
    assert table.rowCount() == 200
    table.item(100, 1).setText("11,5")
    hands.settle()
    assert hands.knots[99].angle_deg == 11.5


@pytest.mark.long
@pytest.mark.no_cover  # repeats by the thousand what others cover
def test_each_of_fifty_designs_can_be_shown(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    hands = Hands(qtbot, tmp_path, monkeypatch, big(designs=50))
    for design in hands.study.designs:
        hands.document.show_design(design.name)
        hands.settle()
        assert hands.page.duty_bar.design.currentText() == design.name == hands.evaluation.design.name
    assert not hands.document.modified


def too_many_knots() -> Study:
    study = examples.read(examples.DEFAULT)
    height = study.design.wall.height_mm
    return edits.with_design(
        study, edits.with_knots(study.design, tuple(Knot(height * i / MOST, 10.0) for i in range(MOST + 1)))
    )


def test_more_than_can_be_saved_is_said_and_stays_in_the_window(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands = Hands(qtbot, tmp_path, monkeypatch)
    hands.document.edit(too_many_knots(), "Far too many")
    hands.answers.answer("ask_save", tmp_path / "many.bowl")
    hands.do("Save")
    assert f"{MOST + 1} knots" in hands.answers.told[0] and "Nothing is lost" in hands.answers.told[0]
    assert hands.document.modified and not (tmp_path / "many.bowl").exists()
    hands.undo()
    assert decode_study(encode_study(hands.study), "again") == hands.study


# a long day


def growth_mb(hands: Hands, acts: int, settled: int) -> float:
    """How much the process grows over the acts after the first ones, every panel following."""
    chance, study = random.Random(acts), hands.study
    start = 0.0
    for act in range(acts):
        if act % 40 == 39:
            hands.document.edit(study, "From the start again")
        elif chance.random() < 0.2:
            hands.document.undo_stack.undo()
        else:
            hands.document.edit(any_edit(hands.study, chance), "any")
        if act % 100 == 99:
            hands.document.adopt(replace(study, title=str(act)))
        hands.rest()
        if act + 1 == settled:
            start = resident_mb()
    assert not [s.failure for s in hands.page.strips if s.failure]
    return resident_mb() - start


@pytest.mark.no_cover  # repeats by the thousand what others cover
@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="asks Linux for the memory in use")
@pytest.mark.long  # it starts or fills too much for every run
def test_memory_stays_where_it_is_while_the_window_follows(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert growth_mb(Hands(qtbot, tmp_path, monkeypatch), 200, 120) < MOST_GROWTH_MB


@pytest.mark.long
@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="asks Linux for the memory in use")
def test_memory_stays_where_it_is_while_the_window_follows_for_long(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    growth = growth_mb(Hands(qtbot, tmp_path, monkeypatch), 4_000, 1_000)
    print(f"{growth:.1f} MB more after 4,000 edits in the window than after 1,000")
    assert growth < MOST_GROWTH_MB
