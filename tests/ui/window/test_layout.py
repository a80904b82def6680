"""How the page fits its window: nothing lies outside it, nothing overlaps, no word is cut."""

from pathlib import Path

import pytest
from PySide6.QtCore import QRect
from PySide6.QtWidgets import (
    QAbstractItemView,
    QAbstractScrollArea,
    QComboBox,
    QLabel,
    QLineEdit,
    QPushButton,
    QTabBar,
    QWidget,
)
from pytestqt.qtbot import QtBot

from profiler.study.files import examples
from profiler.ui.widgets.focus import FocusFrame
from tests.ui.hands import Hands

SIZES = [(1024, 600), (1280, 720), (1707, 960), (2560, 1440)]
OPAQUE = (QAbstractScrollArea, QAbstractItemView, QComboBox, QLineEdit, QTabBar)  # what is inside is theirs to arrange


@pytest.fixture(params=SIZES, ids=lambda s: f"{s[0]}x{s[1]}")
def hands(request, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch, size=request.param)


def children(widget: QWidget) -> list[QWidget]:
    """Without the keyboard's frame, whose line lies over the edge of what it is round."""
    if isinstance(widget, OPAQUE):
        return []
    found = [c for c in widget.children() if isinstance(c, QWidget) and not isinstance(c, FocusFrame)]
    return [c for c in found if c.isVisible() and not c.isWindow()]


def everything(widget: QWidget) -> list[QWidget]:
    found = [widget]
    for child in children(widget):
        found += everything(child)
    return found


def name(widget: QWidget) -> str:
    words = widget.text() if isinstance(widget, QLabel | QPushButton) else widget.accessibleName()
    return f"{type(widget).__name__} {words!r} {widget.geometry().getRect()}"


def outside(page: QWidget) -> list[str]:
    return [
        f"{name(child)} in {name(parent)}"
        for parent in everything(page)
        for child in children(parent)
        if not parent.rect().contains(child.geometry())
    ]


def overlapping(page: QWidget) -> list[str]:
    pairs = []
    for parent in everything(page):
        inside = children(parent)
        for i, one in enumerate(inside):
            for other in inside[i + 1 :]:
                common: QRect = one.geometry().intersected(other.geometry())
                if not common.isEmpty():
                    pairs.append(f"{name(one)} and {name(other)}")
    return pairs


def cut(label: QLabel) -> bool:
    """Whether some of its text cannot be seen."""
    lines = label.text().split("\n")
    needed = max(label.fontMetrics().horizontalAdvance(line) for line in lines)
    return label.width() < needed or label.height() < label.fontMetrics().height() * len(lines) - 2


def test_the_page_is_as_large_as_the_window_and_folds_what_has_no_room(
    hands: Hands, request: pytest.FixtureRequest
) -> None:
    assert (hands.window.width(), hands.window.height()) == request.node.callspec.params["hands"]
    assert hands.page.forms.isVisible() == (hands.page.width() >= 1280)
    assert hands.page.side_list.isVisible() == (hands.page.width() >= 1600)
    spans = {(s.y(), s.height()) for s in hands.page.strips}
    assert len(spans) == 1  # the strips share top and height
    assert spans.pop()[1] >= 340


def test_nothing_of_the_page_lies_outside_what_it_belongs_to_or_over_its_neighbour(hands: Hands) -> None:
    assert len(everything(hands.page)) > 50  # all of it is looked at
    assert outside(hands.page) == []
    assert overlapping(hands.page) == []


def test_no_word_and_no_number_is_cut(hands: Hands) -> None:
    labels = [w for w in everything(hands.page.duty_bar) if isinstance(w, QLabel)]
    assert len(labels) > 10
    assert [name(label) for label in labels if cut(label)] == []
    for box in hands.page.duty_bar.boxes.values():
        room = box.width() - 2 * 4  # frame and padding
        assert box.fontMetrics().horizontalAdvance(box.text()) <= room, box.accessibleName()
    for button in (w for w in everything(hands.page) if isinstance(w, QPushButton)):
        assert button.width() >= button.fontMetrics().horizontalAdvance(button.text()), name(button)


def test_opening_forms_and_list_overlaps_nothing_but_what_the_list_covers(hands: Hands) -> None:
    if not hands.page.forms.isVisible():
        hands.click(hands.page.unfold)
    hands.page.findings.count.setChecked(True)
    hands.settle()
    assert outside(hands.page) == []
    assert all("FindingsList" in pair for pair in overlapping(hands.page))


def test_a_long_name_and_a_long_finding_push_nothing_out(hands: Hands) -> None:
    from msgspec.structs import replace

    from profiler.study.edits import design_edits as edits

    long = replace(hands.design, name="A design with a name that is longer than anybody would care to read in a bar")
    hands.document.edit_design(long, "Rename")
    hands.document.edit_design(edits.turned_over(long), "Turn over")
    hands.settle()
    assert outside(hands.page) == [] and overlapping(hands.page) == []


@pytest.mark.parametrize("example", examples.names())
def test_every_example_fits(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, example: str) -> None:
    hands = Hands(qtbot, tmp_path, monkeypatch, examples.read(example), size=(1024, 600))
    assert outside(hands.page) == [] and overlapping(hands.page) == []
