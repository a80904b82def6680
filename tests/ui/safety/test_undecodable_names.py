"""A study whose file name is no text (POSIX allows any bytes): every page, every output, every list goes on with it."""

import os
import sys
from pathlib import Path

import pytest
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from profiler.output import outputs
from profiler.output.record.option import Request
from profiler.output.writing import export
from profiler.study import read_study, write_study
from profiler.study.files import examples
from profiler.study.files.disk import shown_name
from profiler.study.records.duty import SPEED
from profiler.ui.document.safekeeping import Safekeeping
from profiler.ui.files.recent import recent_files
from profiler.ui.files.recovery import Session
from profiler.ui.page_stack import PAGES
from tests.tiers import kept
from tests.ui.hands import Hands

pytestmark = pytest.mark.skipif(sys.platform in ("win32", "darwin"), reason="file systems there hold text alone")
NAME = os.fsdecode(b"caf\xe9 \xff.bowl")
FOLDER = os.fsdecode(b"caf\xe9")


@pytest.fixture
def odd(tmp_path: Path) -> Path:
    folder = tmp_path / FOLDER
    folder.mkdir()
    write_study(examples.read("watered"), folder / NAME)
    return folder / NAME


@pytest.fixture
def hands(qtbot: QtBot, odd: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    hands = Hands(qtbot, tmp_path, monkeypatch)
    assert hands.window.filing.open_path(odd)
    hands.settle()
    return hands


def test_what_is_shown_of_it_is_text(hands: Hands, odd: Path) -> None:
    assert shown_name(odd) == "caf\ufffd \ufffd.bowl"
    assert hands.window.windowTitle().startswith("caf\ufffd \ufffd.bowl")


@pytest.mark.parametrize("page", kept((entry.title for entry in PAGES), ["Shape", "Find"]))
def test_every_page_works(hands: Hands, odd: Path, page: str) -> None:
    hands.window.pages.open_titled(page)
    hands.rest()
    for _ in range(100):
        if not hands.window.jobs.busy:
            break
        QTest.qWait(20)
    assert hands.document.change(SPEED, 655.0)
    hands.rest()
    hands.do("Save")
    assert read_study(odd).duty.speed_rpm == 655.0 and not hands.answers.told
    assert "saved" in hands.said


@pytest.mark.parametrize("kind", kept((output.key for output in outputs.OUTPUTS), ["profile", "table"]))
def test_every_output_can_be_written_beside_it(hands: Hands, odd: Path, kind: str) -> None:
    """What pytest-qt hears of a fault in a slot fails this too."""
    output = outputs.output(kind)
    for suffix in output.suffixes:
        request = Request({}, hands.document.name, hands.study)
        target = odd.with_suffix(suffix)
        assert export(target, hands.document.whole_evaluation, request, kind) and target.exists()


def test_it_is_remembered_and_its_work_kept_beside(hands: Hands, odd: Path, tmp_path: Path) -> None:
    assert recent_files(hands.window.settings)[0].name  # as far as settings can hold such a name
    keeper = Safekeeping(hands.document, Session(tmp_path / "recovery"))
    hands.document.change(SPEED, 655.0)
    hands.settle()
    assert keeper.keep_now() and read_study(keeper.session.copy) == hands.study
    keeper.end()
    assert hands.window.exporting.stem() and hands.window.exporting.suggestion(".dxf")
