"""One drag that goes on and on: one undo step, memory that stays, and the work is kept beside meanwhile."""

import sys
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profiler.ui.document.safekeeping import Safekeeping
from profiler.ui.files.recovery import Session
from tests.safety.test_stress import MOST_GROWTH_MB, resident_mb
from tests.ui.hands import Hands

pytestmark = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="asks Linux for the memory in use")
FEW, MANY = 100, 30_000


def drag(hands: Hands, moves: int) -> float:
    """A knot dragged round and round; how much the process grows after the first third, MB."""
    before, start, settled = hands.knots, hands.handle(1), 0.0
    keeper = Safekeeping(hands.document, Session(hands.folder / "recovery"))
    hands.press(hands.angle, start)
    for move in range(moves):
        hands.move(hands.angle, start + QPoint(1 + move % 37, (move // 7) % 23))
        QApplication.processEvents()
        if move == moves // 3:
            settled = resident_mb()
    growth = resident_mb() - settled
    assert keeper.keep_now() and keeper.session.copy.exists()
    hands.release(hands.angle, start + QPoint(20, 10))
    assert hands.steps == 1 and hands.knots != before and not [s.failure for s in hands.page.strips if s.failure]
    hands.undo()
    assert hands.knots == before and hands.steps == 0
    keeper.end()
    return growth


@pytest.mark.long
@pytest.mark.no_cover  # repeats what others cover
def test_a_drag_of_many_moves_is_one_step(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert drag(Hands(qtbot, tmp_path, monkeypatch), FEW) < MOST_GROWTH_MB


@pytest.mark.long
def test_a_drag_of_thirty_thousand_moves_is_one_step(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    growth = drag(Hands(qtbot, tmp_path, monkeypatch), MANY)
    print(f"{growth:.1f} MB more after {MANY} moves of one drag than after {MANY // 3}")
    assert growth < MOST_GROWTH_MB
