"""The chosen groove's computed flow on its card: asked for beside the window, shown with its own study only."""

import pytest

from profiler.pictures.basics.display import Line, Role
from profiler.pictures.strips import card_strip
from profiler.study.records.duty import SPEED
from tests.ui.hands import Hands

GROOVE = 4


@pytest.fixture
def hands(qtbot, tmp_path, monkeypatch):
    return Hands(qtbot, tmp_path, monkeypatch)


def streamlines(hands) -> int:
    picture = card_strip.card(hands.page.scene(), 400.0, 600.0).picture
    return sum(isinstance(i, Line) and i.role is Role.FLOW for i in picture.items)


def test_an_open_card_shows_the_computed_flow_until_the_study_changes(qtbot, hands):
    hands.rest()
    hands.page.pointer.point(groove=GROOVE)
    assert hands.page.eddy.found is None, "nothing is worked out that nobody sees"
    arrows = streamlines(hands)
    with qtbot.waitSignal(hands.page.eddy.arrived, timeout=60_000):
        hands.page.grooves.open_card(True)
    assert streamlines(hands) > arrows + 5
    hands.document.change(SPEED, 600.0)
    hands.settle()
    assert streamlines(hands) == arrows, "the flow of before is not shown with a new study"
    with qtbot.waitSignal(hands.page.eddy.arrived, timeout=60_000):
        hands.rest()
    assert streamlines(hands) > arrows + 5
