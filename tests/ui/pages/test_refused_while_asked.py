"""A question refused while an older one is worked out: its sentence stays, the older answer never takes its place."""

from collections.abc import Callable

import pytest
from PySide6.QtWidgets import QLabel, QLineEdit
from pytestqt.qtbot import QtBot

from profiler.study.files.examples import read
from profiler.ui.compare.sure_pane import SurePane
from profiler.ui.compare.worn_pane import WornPane
from profiler.ui.document.document import Document
from profiler.ui.find.ask import AskPane
from profiler.ui.work.jobs import Jobs

Asking = tuple[QLineEdit, QLabel, Callable[[], None]]  # a number of the question, where the answer stands, asking


def sure(pane: SurePane) -> Asking:
    pane.bowls = 3
    return pane.tolerances["angle_deg"], pane.sentence, pane.ask


def worn(pane: WornPane) -> Asking:
    pane.rate.setText("0.4")
    pane.hours.setText("3000")
    return pane.off_by, pane.answer, pane.ask


def ask(pane: AskPane) -> Asking:
    pane.about("groove_overfall_mm", groove=9)
    return pane.value, pane.sentence, pane.ask


@pytest.mark.parametrize(("kind", "parts"), [(SurePane, sure), (WornPane, worn), (AskPane, ask)])
def test_what_is_refused_is_not_answered_by_an_older_question(
    qtbot: QtBot, kind: Callable[..., SurePane], parts: Callable[..., Asking]
) -> None:
    jobs = Jobs()
    pane = kind(Document(read("graded")), jobs)
    qtbot.addWidget(pane)
    box, sentence, asking = parts(pane)
    asking()
    box.setText("wide")
    asking()
    refused = sentence.text()
    assert "“wide” is not a number" in refused
    qtbot.waitUntil(lambda: not jobs.busy, timeout=30000)
    qtbot.wait(50)
    assert sentence.text() == refused
    jobs.close()
