"""When something is wrong, with the design or with the program: nothing is lost, and it says so."""

from pathlib import Path

import numpy as np
import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPoint
from PySide6.QtGui import QColor, QImage
from pytestqt.qtbot import QtBot

from profiler.assess.shape.shape_stage import wall_of
from profiler.pictures.basics.display import Dot, Line, Role
from profiler.study.edits import design_edits as edits
from profiler.study.records.design import FLOOR_RADIUS, KNOT_ANGLE, KNOT_EASED
from profiler.ui.strips.base import STALE_DOWN_PX, Strip
from profiler.ui.widgets.theme import LIGHT
from tests.ui.hands import Hands

STRIPS = ("gutter", "angle", "section", "grooves")


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def colours(strip: Strip) -> np.ndarray:
    """(height, width, 3) red, green and blue of every pixel, 0 to 255."""
    image = strip.grab().toImage().convertToFormat(QImage.Format.Format_RGB888)
    rows = np.frombuffer(image.constBits(), dtype=np.uint8).reshape(image.height(), image.bytesPerLine())
    return rows[:, : 3 * image.width()].reshape(image.height(), image.width(), 3).astype(float)


def pixels(strip: Strip) -> np.ndarray:
    """(height, width) the brightness of every pixel, 0 to 255."""
    return colours(strip).mean(axis=2)


def inked(strip: Strip, colour: QColor) -> int:
    """How many pixels have nearly this colour: the edges of letters are blended with the paper."""
    away = np.abs(colours(strip) - np.array(colour.getRgb()[:3])).max(axis=2)
    return int(np.sum(away < 60.0))


def make_impossible(hands: Hands) -> None:
    hands.document.edit_design(
        edits.with_grooves(hands.design, replace(hands.design.grooves, mouth_mm=60.0)), "Too wide"
    )
    hands.settle()


# an impossible design


def test_an_impossible_design_keeps_the_last_picture_greyed(hands: Hands) -> None:
    before = pixels(hands.page.grooves)
    shown = hands.evaluation
    make_impossible(hands)
    assert hands.evaluation.shape is None and hands.page.scene().shown is shown
    after = pixels(hands.page.grooves)
    paper = before.max()
    assert 0.2 < (paper - after).sum() / (paper - before).sum() < 0.6  # a third of the ink ...
    below = slice(40, None)  # on top stand the words that it is older than the last change
    assert np.corrcoef(before[below].ravel(), after[below].ravel())[0, 1] > 0.9  # ... in the same places


def test_it_says_why_in_a_sentence(hands: Hands) -> None:
    make_impossible(hands)
    assert hands.worst == hands.evaluation.findings[0].text == hands.page.scene().trouble
    assert "overlap" in hands.worst


def test_the_reason_stands_across_the_section(hands: Hands) -> None:
    stop = QColor(LIGHT.roles[Role.STOP])
    before = inked(hands.page.section, stop)  # a mark of what is too narrow may have that colour too
    make_impossible(hands)
    assert inked(hands.page.section, stop) > before + 100  # the letters are not faded with the picture


def test_knots_stay_draggable_while_the_design_is_impossible(hands: Hands) -> None:
    make_impossible(hands)
    dots = [i for i in hands.angle.picture(hands.angle.scene).items if isinstance(i, Dot) and i.role is Role.KNOT]
    assert len(dots) == 4
    hands.drag_knot(1, hands.place(140.0, 20.0))
    assert hands.knots[1].angle_deg == pytest.approx(20.0, abs=0.2)
    assert hands.steps == 2


def test_numbers_show_dashes_while_the_design_is_impossible(hands: Hands) -> None:
    make_impossible(hands)
    assert hands.page.duty_bar.summary.text().startswith("–")
    hands.hover(hands.page.section, QPoint(20, round(hands.page.pointer.now.axis.y(100.0))))
    assert {label.text() for label in hands.page.readout._values} == {"–"}


def test_undo_brings_the_picture_back(hands: Hands) -> None:
    before = pixels(hands.page.section)
    make_impossible(hands)
    hands.undo()
    hands.settle()
    assert np.array_equal(pixels(hands.page.section), before)
    assert not hands.page.scene().stale


def test_a_study_that_was_impossible_from_the_start_still_opens(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from profiler.study.files import examples

    study = examples.read(examples.DEFAULT)
    broken = edits.with_grooves(study.design, replace(study.design.grooves, mouth_mm=60.0))
    hands = Hands(qtbot, tmp_path, monkeypatch, edits.with_design(study, broken))
    assert "overlap" in hands.worst
    hands.drag_knot(1, hands.place(140.0, 20.0))
    assert hands.steps == 1


# a fault of the program


@pytest.mark.parametrize("name", STRIPS)
def test_an_exception_inside_a_picture_is_shown_logged_and_survived(
    hands: Hands, name: str, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    strip = getattr(hands.page, name)
    before = pixels(strip)

    def broken(scene: object) -> None:
        raise RuntimeError("a fault made on purpose")

    with monkeypatch.context() as patch:
        patch.setattr(strip, "picture", broken)
        during = pixels(strip)
        assert strip.failure == "a fault made on purpose"
        assert "could not be painted" in caplog.text and "a fault made on purpose" in caplog.text
        assert not np.array_equal(during, before) and during.min() < during.max()  # it says so
        pixels(strip)
        assert caplog.text.count("could not be painted") == 1  # logged once, not with every repaint
        hands.drag_knot(1, hands.place(140.0, 20.0))
        assert hands.steps == 1
    after = pixels(strip)
    assert strip.failure == "" and abs(after.mean() - before.mean()) < 5.0


def test_the_other_strips_go_on_while_one_is_broken(hands: Hands, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(hands.page.section, "picture", lambda scene: 1 / 0)
    before = pixels(hands.page.grooves)
    hands.drag_knot(1, hands.place(120.0, 24.0))
    assert not np.array_equal(pixels(hands.page.grooves), before)
    assert hands.page.section.failure


# what is true meanwhile, and what is not any more


def test_while_nothing_can_be_built_the_curve_and_the_lengths_are_the_present_ones(hands: Hands) -> None:
    """Arcs and eased spans as they are, the wall's length and the free radius as they come out; all else is marked."""
    make_impossible(hands)
    hands.document.edit_design(KNOT_EASED.at(1).set(KNOT_ANGLE.at(0).set(hands.design, 31.0), True), "Turn and ease")
    hands.settle()
    wall, axis, scale = wall_of(hands.design), hands.page.pointer.now.axis, hands.angle.scale()
    part = hands.angle.present_part(hands.angle.scene)
    curve = next(i.points for i in part.items if isinstance(i, Line) and i.role is Role.WALL)
    seen = [(scale.angle(x), axis.height(y)) for x, y in curve.tolist()]
    for angle, height in seen:
        assert angle == pytest.approx(np.degrees(wall.angle_at(height)), abs=1e-6)
    eased = [(a, z) for a, z in seen if 125.0 < z < 235.0]
    straight = [17.0 + (8.0 - 17.0) * (z - 120.0) / 120.0 for _, z in eased]
    assert len(eased) > 8 and max(abs(a - s) for (a, _), s in zip(eased, straight, strict=True)) > 0.05
    forms = hands.page.forms
    forms.open(forms.grooves)
    assert f"{float(wall.length[-1]):.1f} mm long" in forms.grooves.ends.text()
    forms.open(forms.wall)
    assert forms.wall.radii.boxes[FLOOR_RADIUS].value == pytest.approx(float(wall.radius[0]), abs=0.01)


def test_without_even_a_wall_line_no_length_and_no_radius_is_given(hands: Hands) -> None:
    hands.document.edit_design(KNOT_ANGLE.at(0).set(hands.design, 120.0), "Past the horizontal")
    hands.settle()
    forms = hands.page.forms
    assert forms.wall.radii.boxes[FLOOR_RADIUS].value is None
    forms.open(forms.grooves)
    assert "no length" in forms.grooves.ends.text()


def test_an_older_picture_says_that_it_is_older(hands: Hands) -> None:
    faint = QColor(LIGHT.roles[Role.FAINT])
    before = inked(hands.page.grooves, faint)
    make_impossible(hands)
    assert hands.page.grooves.scene.stale
    rows = colours(hands.page.grooves)[round(hands.page.pointer.now.axis.top) + STALE_DOWN_PX :][:18]
    assert int(np.sum(np.abs(rows - np.array(faint.getRgb()[:3])).max(axis=2) < 60.0)) > 30 and before > 0
