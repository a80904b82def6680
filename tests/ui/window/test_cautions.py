"""Cautions stand where the decision is made: the window's frame, the export dialog, beside a part, in a protocol."""

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from profiler.assess.cautions import OF_TRIALS, Caution, of_output
from profiler.assess.checks.check_fit import SPINNING_CAUTION
from profiler.output import outputs
from profiler.output.report.content import Job, report_of
from profiler.output.trials.trial_protocol import protocol_html
from profiler.study.records.trial import Trial
from profiler.ui.dialogs import box, dialogs
from profiler.ui.dialogs.export_dialog import ExportChoice, ExportDialog
from profiler.ui.page_stack import DRAWING, PAGES
from tests.ui.hands import Hands

REAL_ABOUT = dialogs.tell_about
DEFERS = ("code", "licensed", "rules", "limits", "procedures")


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch)


def test_each_is_one_sentence_and_defers_to_who_answers_for_it() -> None:
    for caution in Caution:
        assert caution.words.endswith(".") and caution.words.count(". ") == 0, caution
        assert any(word in caution.words for word in DEFERS), caution


def test_the_mark_in_the_frame_stands_on_every_page_and_opens_them_all(hands: Hands, monkeypatch) -> None:
    told: list[str] = []
    monkeypatch.setattr(dialogs, "tell_about", REAL_ABOUT)
    monkeypatch.setattr(box, "tell", lambda parent, title, text, *_, **__: told.append(text))
    for entry in PAGES:
        hands.window.pages.open(entry)
        hands.settle()
        assert hands.window.message.cautions.isVisible(), entry.title
        hands.click(hands.window.message.cautions)
        assert SPINNING_CAUTION.text in told[-1] and all(c.words in told[-1] for c in Caution)
    assert len(told) == len(PAGES)


def test_the_export_dialog_says_so_for_every_output(hands: Hands) -> None:
    dialog = ExportDialog(hands.window, ExportChoice(hands.folder / "a.dxf"))
    for index, output in enumerate(outputs.OUTPUTS):
        dialog.kind.setCurrentIndex(index)
        for words in (SPINNING_CAUTION.text, *(c.words for c in of_output(output.key))):
            assert words in dialog.caution.text(), output.key


def test_who_makes_a_former_reads_of_casting_and_who_turns_a_profile_of_cutting(hands: Hands) -> None:
    page = hands.window.pages.open(DRAWING)
    page.open_kind("profile")
    for part, caution in (("liner", Caution.CUTTING), ("former", Caution.CASTING)):
        page._keep("part", part)
        assert caution.words in page.parts.caution.text()
    page.open_kind("drawing")
    assert page.parts.caution.text() == Caution.SPINNING_BODY.words


def test_the_protocol_and_the_report_hold_theirs(hands: Hands) -> None:
    html = protocol_html(Trial("T"), ("A", "B"), 3, 1).replace("&#x27;", "'")
    assert all(c.words in html for c in OF_TRIALS)
    told = [getattr(b, "text", "") for b in report_of(hands.evaluation, Job("", "", "")).blocks]
    assert all(c.words in told for c in Caution)
