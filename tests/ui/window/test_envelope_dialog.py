"""The envelope of a machine from a drawing, by hand: open, see, choose, take; nothing changes until it is taken."""

from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profiler.assess.drawn.read_dxf import read_dxf
from profiler.output.drawings.profile_dxf import write_profile
from profiler.pictures.envelope_picture import window_of
from profiler.ui.envelope.envelope_dialog import EnvelopeDialog
from tests.assess.drawn.written import SEAT, draw_rotor, saved
from tests.ui.hands import Hands


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def opened(hands: Hands, path: Path | None) -> EnvelopeDialog:
    hands.do("Envelope from a drawing…")
    dialog = hands.window.findChild(EnvelopeDialog)
    if path is not None:
        hands.answers.answer("ask_drawing", path)
        hands.click(dialog.open_button)
        done(hands, dialog)
    return dialog


def done(hands: Hands, dialog: EnvelopeDialog) -> None:
    hands.qtbot.waitUntil(lambda: not hands.window.jobs.busy, timeout=20000)
    hands.settle()


def test_a_rotor_is_read_and_taken_in_one_step(hands: Hands, tmp_path: Path) -> None:
    before = hands.study
    dialog = opened(hands, saved(tmp_path / "rotor.dxf", draw_rotor))
    assert "a seat of 3 points" in dialog.sentence.text() and hands.study is before
    hands.type_into(dialog.lip, "190")
    hands.type_into(dialog.bowl_height, "260")
    hands.click(dialog.take)
    machine = hands.study.machine
    assert [(p.height_mm, p.radius_mm) for p in machine.seat] == list(SEAT)
    assert (machine.lip_radius_mm, machine.height_mm) == (190.0, 260.0)
    assert hands.steps == 1
    dialog.close()
    hands.do("Fit the bowl to the machine")
    assert hands.evaluation.shape.height == 260.0 and hands.evaluation.shape.lip_radius == 190.0


def test_a_drawn_bowl_is_kept_as_a_ghost_and_taken_as_a_design(hands: Hands, tmp_path: Path) -> None:
    path = tmp_path / "bowl.dxf"
    write_profile(path, hands.evaluation.shape)
    dialog = opened(hands, path)
    hands.click(dialog.ghost)
    assert hands.page.has_ghost
    hands.click(dialog.take_wall)
    assert hands.design.name == "Drawn bowl" and hands.design.grooves.count == 14
    assert hands.steps == 1
    dialog.close()


def test_points_are_pasted_and_their_unit_said(hands: Hands) -> None:
    dialog = opened(hands, None)
    QApplication.clipboard().setText("0 0\n6.4 0\n9.0 9.8")
    hands.click(dialog.paste)
    done(hands, dialog)
    assert (dialog.unit.isEnabled() and "narrower" in dialog.sentence.text()) or "unit" in dialog.sentence.text()
    dialog.unit.setCurrentIndex(1)
    dialog.unit.activated.emit(1)
    done(hands, dialog)
    hands.type_into(dialog.lip, "190")
    assert dialog.found is not None and dialog.found.machine.seat[0].radius_mm == pytest.approx(162.56)
    dialog.close()


def test_a_click_on_a_chain_makes_it_the_seat(hands: Hands, tmp_path: Path) -> None:
    dialog = opened(hands, saved(tmp_path / "rotor.dxf", draw_rotor))
    dialog.seat.setCurrentIndex(0)
    placed = dialog.laid.placed
    view = window_of(placed, float(dialog.canvas.width()), float(dialog.canvas.height()))
    at = view.to_px(placed.chains[0].points)
    dialog._pointed(float(at[-1, 0]), float(at[-1, 1]))
    assert dialog.seat.currentIndex() == 1 and dialog.found is not None
    dialog.close()


def test_what_cannot_be_read_is_said_and_what_was_read_stays(hands: Hands, tmp_path: Path) -> None:
    dialog = opened(hands, saved(tmp_path / "rotor.dxf", draw_rotor))
    bad = tmp_path / "bad.dxf"
    bad.write_bytes(b"not a drawing")
    dialog.read(bad)
    done(hands, dialog)
    assert "is not a DXF file" in dialog.sentence.text() and dialog.laid.read.name == "rotor.dxf"
    dialog.close()


def test_twenty_thousand_entities_are_drawn_as_one_batch(tmp_path: Path) -> None:
    """How long it takes stands in the benchmarks: here that all of them arrive in the picture."""
    from profiler.assess.drawn.envelope import Roles
    from profiler.assess.drawn.laid_out import Laying, laid_out
    from profiler.pictures.basics.display import Strokes
    from profiler.pictures.envelope_picture import envelope_picture

    def draw(document) -> None:
        for i in range(2000):
            document.modelspace().add_line((i, 0), (i + 0.5, 3))

    laid = laid_out(read_dxf(saved(tmp_path / "many.dxf", draw)), Laying())
    picture = envelope_picture(laid.placed, Roles(), 600.0, 400.0)
    assert sum(len(i.ends) for i in picture.items if isinstance(i, Strokes)) == 2000
