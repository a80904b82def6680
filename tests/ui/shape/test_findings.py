"""Findings in the window: the worst in one line, all of them in a list, and the edits that mend them."""

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication, QLabel, QPushButton
from pytestqt.qtbot import QtBot

from profiler.assess import Severity
from profiler.assess.findings.finding import grouped
from profiler.assess.findings.kinds import Topic
from profiler.pictures.basics.display import Label
from profiler.pictures.strips.angle_strip import TAG_CAPTION, TAG_MEANS
from profiler.study.files import examples
from profiler.study.records.duty import SPEED
from profiler.ui.shape.findings_list import FindingRow, FindingsList, Head, HeadRow, entries
from tests.ui.hands import Hands


@pytest.fixture
def faulty(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    hands = Hands(qtbot, tmp_path, monkeypatch, examples.read("faulty"))
    hands.rest()
    return hands


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    hands = Hands(qtbot, tmp_path, monkeypatch)
    hands.rest()
    return hands


def do_button(view) -> QPushButton | None:
    return next((b for b in view.findChildren(QPushButton) if b.text() == "Apply" and b.isVisible()), None)


def rows(hands: Hands) -> list[FindingRow]:
    return hands.page.pop_list.findChildren(FindingRow)


def unfold(view: FindingsList) -> None:
    """All notes, head by head."""
    for topic in Topic:
        for head in view.findChildren(HeadRow):
            if head.head.topic is topic and not head.head.is_open:
                head.click()
    QApplication.processEvents()


def test_the_line_shows_the_worst_finding_and_the_count(faulty: Hands) -> None:
    found = faulty.evaluation.findings
    assert found[0].severity is Severity.STOP
    assert faulty.worst == found[0].text
    stops = sum(f.severity is Severity.STOP for f in found)
    assert faulty.page.findings.count.text().startswith(f"{stops} stops, ")


def test_do_this_mends_the_worst_finding_and_can_be_undone(faulty: Hands) -> None:
    before = faulty.study
    worst = faulty.evaluation.findings[0]
    assert worst.remedy is not None
    button = do_button(faulty.page.findings)
    assert button.toolTip() == worst.remedy.label
    faulty.click(button)
    assert worst.code not in [f.code for f in faulty.evaluation.findings]
    assert faulty.steps == 1 and faulty.document.undo_stack.undoText() == worst.remedy.label
    faulty.undo()
    assert faulty.study == before
    assert faulty.evaluation.findings[0].code == worst.code


def test_doing_one_after_the_other_leaves_only_what_no_single_edit_mends(faulty: Hands) -> None:
    def mendable() -> set[str]:
        return {f.code for f in faulty.evaluation.findings if f.remedy is not None}

    assert mendable() >= {"speed_range", "lip_radius"}
    for step in range(10):
        faulty.page.findings.count.setChecked(True)
        faulty.settle()
        button = do_button(faulty.page.pop_list)
        if button is None:
            break
        faulty.click(button)
        assert faulty.steps == step + 1
    assert not mendable()


def test_the_list_opens_upward_with_a_row_for_each_finding_and_closes_again(hands: Hands) -> None:
    assert not hands.page.pop_list.isVisible()
    hands.key(hands.angle, Qt.Key.Key_F8)
    assert hands.page.pop_list.isVisible()
    found = hands.evaluation.findings
    assert {f.severity for f in found} == {Severity.NOTE} and rows(hands) == []
    unfold(hands.page.pop_list)
    assert [r.finding for r in rows(hands)] == [f for f in entries(found, set(Topic)) if not isinstance(f, Head)]
    assert len(rows(hands)) == len(found)
    assert hands.page.pop_list.geometry().bottom() < hands.page.findings.y() + 1
    hands.key(hands.angle, Qt.Key.Key_F8)
    assert not hands.page.pop_list.isVisible()


def test_rows_that_come_and_go_at_once_leave_no_windows_behind(hands: Hands) -> None:
    hands.page.findings.count.setChecked(True)
    for _ in range(4):
        for head in hands.page.pop_list.findChildren(HeadRow):
            head.click()
    hands.settle()
    shown = [w for w in QApplication.topLevelWidgets() if w.isVisible()]
    assert shown == [hands.window]


def test_the_open_list_follows_the_evaluation(hands: Hands) -> None:
    hands.page.findings.count.setChecked(True)
    hands.type_into(hands.page.duty_bar.boxes[SPEED], "900")
    assert rows(hands)[0].finding.code == "speed_range"


def test_a_click_on_a_finding_points_at_its_place(hands: Hands) -> None:
    hands.page.findings.count.setChecked(True)
    hands.settle()
    unfold(hands.page.pop_list)
    row = next(r for r in rows(hands) if r.finding.code == "sheltered")
    hands.click(row)
    finding = row.finding
    assert hands.page.pointer.now.cursor_mm == pytest.approx(0.5 * (finding.from_mm + finding.to_mm))
    assert hands.page.pointer.now.groove == finding.grooves[0]


def test_every_row_says_its_severity_and_names_its_source(faulty: Hands) -> None:
    faulty.page.findings.count.setChecked(True)
    faulty.settle()
    for row in rows(faulty):
        words = [w.text() for w in row.children() if hasattr(w, "text") and callable(w.text)]
        assert row.finding.severity.value.upper() in words and row.finding.text in words
        assert row.finding.source in [w.toolTip() for w in row.children() if hasattr(w, "toolTip")]


def test_the_caution_about_spinning_is_given_once(hands: Hands) -> None:
    assert [f.code for f in hands.evaluation.findings].count("spinning_caution") == 1


def headings(hands: Hands) -> list[str]:
    return [head.text() for head in hands.page.pop_list.findChildren(HeadRow)]


def test_notes_are_folded_and_unfold_under_what_they_are_about_with_their_count(faulty: Hands) -> None:
    faulty.page.findings.count.setChecked(True)
    faulty.settle()
    notes = [f for f in faulty.evaluation.findings if f.severity is Severity.NOTE]
    assert len(headings(faulty)) > 3
    assert sum(int(head.split(": ")[1].split()[0]) for head in headings(faulty)) == len(notes)
    pressing = [f for f in faulty.evaluation.findings if f.severity is not Severity.NOTE]
    assert [r.finding for r in rows(faulty)] == pressing  # worst first, and nothing else until it is asked for
    first = faulty.page.pop_list.findChild(HeadRow)
    assert first.accessibleName().endswith(", unfold them")
    first.click()
    faulty.settle()
    shown = [r.finding for r in rows(faulty)]
    assert shown[: len(pressing)] == pressing and len(shown) > len(pressing)
    assert {f.kind.topic for f in shown[len(pressing) :]} == {first.head.topic}
    assert first.accessibleName().endswith(", fold them")
    first.click()
    faulty.settle()
    assert [r.finding for r in rows(faulty)] == pressing


@pytest.mark.parametrize("size", [(1024, 600), (1280, 720), (1707, 960)])
def test_the_list_scrolls_by_the_wheel_to_its_last_finding_and_no_further(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, size: tuple[int, int]
) -> None:
    hands = Hands(qtbot, tmp_path, monkeypatch, examples.read("faulty"), size)
    hands.rest()
    hands.page.findings.count.setChecked(True)
    hands.rest()
    view = hands.page.side_list if hands.page.side_list.isVisible() else hands.page.pop_list
    unfold(view)
    hands.rest()
    place = QPointF(view.viewport().rect().center())
    for _ in range(60):
        wheel = QWheelEvent(place, QPointF(view.viewport().mapToGlobal(place.toPoint())), QPoint(), QPoint(0, -120),
                            Qt.MouseButton.NoButton, Qt.KeyboardModifier.NoModifier,
                            Qt.ScrollPhase.NoScrollPhase, False)  # fmt: skip
        QApplication.sendEvent(view.viewport(), wheel)
    last = view.findChildren(FindingRow)[-1]
    foot = last.mapTo(view.viewport(), last.rect().bottomLeft()).y()
    assert 0 <= view.viewport().height() - foot < 20
    for row in view.findChildren(FindingRow):
        text = next(w for w in row.findChildren(QLabel) if w.text() == row.finding.text)
        assert text.height() >= text.heightForWidth(text.width())


def test_the_count_does_not_jump_while_a_knot_is_dragged(hands: Hands) -> None:
    before = hands.page.findings.count.text()
    start = hands.handle(1)
    with hands.dragging(hands.angle, start, start + QPoint(4, 0)):
        assert hands.document.in_gesture and not hands.document.complete
        during = hands.page.findings.count.text()
    hands.rest()
    assert during == before == hands.page.findings.count.text()


def test_what_is_said_does_not_hide_that_there_is_a_stop(faulty: Hands) -> None:
    worst = faulty.worst
    faulty.document.say("faulty.bowl saved.")
    assert faulty.said == "faulty.bowl saved." and faulty.worst == worst == faulty.evaluation.findings[0].text


def test_notes_that_repeat_one_matter_are_one_row_and_every_finding_is_told(hands: Hands) -> None:
    findings = hands.evaluation.findings
    again = replace(findings[-1], text="The same elsewhere.")
    told = grouped((*findings, again))
    assert len(told) == len(findings) and sum("The same elsewhere." in f.text for f in told) == 1
    stop = replace(again, own_severity=Severity.STOP)
    assert grouped((stop, stop)) == (stop, stop)
    whole = " ".join(f.text for f in grouped(findings))
    assert all(f.text in whole for f in findings)
    codes = [f.code for f in grouped(findings) if f.severity is Severity.NOTE]
    assert len(codes) == len(set(codes))


def test_a_tag_in_the_strip_says_what_it_is(hands: Hands) -> None:
    picture = hands.angle.picture(hands.angle.scene)
    tags = [i for i in picture.items if isinstance(i, Label) and i.text.endswith("°") and i.text[0] in "+\u2212"]
    assert tags
    for tag in tags:
        assert hands.angle.tip_at(tag.x, tag.y) == TAG_MEANS
    assert hands.angle.tip_at(tags[0].x, tags[0].y - 60.0) == ""
    assert any(i.text == TAG_CAPTION for i in picture.items if isinstance(i, Label))
    assert any("axis of rotation" in i.text for i in picture.items if isinstance(i, Label))
