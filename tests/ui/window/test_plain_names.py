"""Names are the designer's: shown as typed on every page, in every list and tooltip, and never read as markup."""

import ast
from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtGui import Qt as Gui
from PySide6.QtWidgets import QLabel, QTextBrowser, QWidget
from pytestqt.qtbot import QtBot

import profiler.ui
from profiler.study import Study
from profiler.study.files import examples
from profiler.ui.page_stack import PAGES
from tests.tiers import kept
from tests.ui.hands import Hands

NAME = "<b>bold</b><img src=x><br>{} &amp; $x^2$"
UI = Path(profiler.ui.__file__).parent


def renamed(study: Study) -> Study:
    """Everything a designer may name, named like markup."""
    designs = tuple(
        replace(d, name=NAME.format(f"d{i}"), note=NAME.format("note")) for i, d in enumerate(study.designs)
    )
    duties = tuple(replace(d, name=NAME.format(f"u{i}"), in_window=True) for i, d in enumerate(study.duties))
    shown = replace(study.shown, design=designs[0].name, duty=duties[0].name)
    trials = tuple(
        replace(t, name=NAME.format("t"), runs=tuple(
            replace(r, excluded=k == 0, exclusion_reason=NAME.format("why"), remarks=NAME.format("r"))
            for k, r in enumerate(t.runs)))
        for t in study.trials
    )  # fmt: skip
    machine = replace(study.machine, name=NAME.format("m"))
    return replace(study, machine=machine, designs=designs, duties=duties, shown=shown, trials=trials, reference="")


@pytest.mark.parametrize("name", kept(["faulty", "trial"], ["faulty"]))
def test_no_page_reads_a_name_as_markup(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    hands = Hands(qtbot, tmp_path, monkeypatch, renamed(examples.read(name)))
    seen = 0
    for entry in PAGES:
        hands.window.pages.open(entry)
        hands.rest()
        qtbot.waitUntil(lambda: not hands.window.jobs.busy, timeout=20000)
        hands.settle()
        for widget in hands.window.findChildren(QWidget):
            assert not (Gui.mightBeRichText(widget.toolTip()) and "<b>bold" in widget.toolTip()), (entry.title, widget)
            if isinstance(widget, QLabel):
                seen += "<b>bold" in widget.text()
                plain = widget.textFormat() is Qt.TextFormat.PlainText
                assert plain or "<b>bold" not in widget.text(), (entry.title, widget.text())
            if isinstance(widget, QTextBrowser):
                assert "<img" not in widget.toHtml()
    assert seen >= 3


def test_every_label_says_whether_it_is_markup() -> None:
    made = []
    for path in UI.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if (
                isinstance(node, ast.Call)
                and isinstance(node.func, ast.Name)
                and node.func.id in ("QLabel", "TextLabel")
            ):
                made.append(str(path.relative_to(UI)))
    assert set(made) == {"widgets/labels.py"}


def test_a_name_in_a_menu_marks_no_key(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    hands = Hands(qtbot, tmp_path, monkeypatch, renamed(examples.read("graded")))
    menu = hands.page.duty_bar.designs.made()
    ghosts = next(a.menu() for a in menu.actions() if a.text() == "Show as a ghost")
    texts = [a.text() for a in ghosts.actions()]
    assert all(design.name.replace("&", "&&") in texts for design in hands.study.designs)
    everywhere = [a.text() for sub in menu.actions() if sub.menu() is not None for a in sub.menu().actions()]
    assert not [text for text in everywhere if "<b>" in text and "& " in text.replace("&&", "")]
