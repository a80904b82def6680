"""What is given up, or fails midway, leaves what was there: imports, exports, maps, searches, drawings laid out."""

import time
from pathlib import Path

import pytest
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from profiler.progress import Progress
from profiler.study.files import examples
from profiler.ui.page_stack import ORE, TRIALS
from profiler.ui.work.jobs import Jobs
from tests.ui.hands import Hands

LEDGER = "run;design;recovery_pct\n1;A;41\n2;B;43\n"


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    return Hands(qtbot, tmp_path, monkeypatch, examples.read("trial"))


def wait(hands: Hands) -> None:
    for _ in range(500):
        hands.settle()
        if not hands.window.jobs.busy:
            break
        QTest.qWait(10)
    hands.settle()


@pytest.mark.parametrize("bad", [b"", b"\0\0\0\0no table", b"PK\x03\x04cut short", None])
def test_a_table_that_cannot_be_read_leaves_the_one_in_view(hands: Hands, tmp_path: Path, bad: bytes | None) -> None:
    page = hands.window.pages.open(TRIALS)
    bringing = page.importing
    good, worse = tmp_path / "good.csv", tmp_path / "worse.csv"
    good.write_text(LEDGER)
    if bad is not None:
        worse.write_bytes(bad)
    hands.answers.answer("ask_table", good)
    bringing.from_file()
    wait(hands)
    seen, table, source, study = bringing.seen, bringing._table, bringing._source, hands.study
    assert bringing.under_way and seen is not None
    hands.answers.answer("ask_table", worse)
    bringing.from_file()
    wait(hands)
    assert (bringing.seen, bringing._table, bringing._source) == (seen, table, source) and bringing.under_way
    bringing.panel.cancel.click()
    assert hands.study is study and not bringing.under_way and hands.steps == 0


def test_an_import_given_up_while_it_is_read_never_comes_into_view(hands: Hands, tmp_path: Path) -> None:
    page = hands.window.pages.open(TRIALS)
    good = tmp_path / "good.csv"
    good.write_text(LEDGER)
    hands.answers.answer("ask_table", good)
    study = hands.study
    page.importing.from_file()
    page.importing._end()
    wait(hands)
    assert not page.importing.under_way and hands.study is study


def test_a_map_that_cannot_be_worked_out_leaves_the_last_one_greyed(hands: Hands) -> None:
    page = hands.window.pages.open(ORE).map
    page.lines, page._asked = 5, ()
    page._refresh()
    hands.qtbot.waitUntil(lambda: page.map is not None and not hands.window.jobs.busy, timeout=30_000)
    before = page.map
    assert before is not None
    page._fail("Not these ranges.")
    assert page.map is before and not page.canvas.isEnabled() and page.reading.text() == "Not these ranges."
    page._refresh()
    hands.qtbot.waitUntil(page.canvas.isEnabled, timeout=30_000)
    assert page.canvas.isEnabled() and page.map is not None  # and is worked out again when it can be


def test_an_export_given_up_leaves_the_older_file(hands: Hands, tmp_path: Path) -> None:
    from profiler.output.writing import Target

    older = tmp_path / "older.csv"
    older.write_text("as it was")
    hands.window.exporting.start([Target(older, "table", hands.window.exporting.request())])
    hands.window.exporting.cancel()
    wait(hands)
    whole = len(older.read_text().splitlines()) > 10  # it may have been quicker than the hand
    assert whole or older.read_text() == "as it was"
    assert not [p for p in tmp_path.iterdir() if p.name.endswith(".part")]


@pytest.mark.parametrize("wait_s", [0.0, 0.005, 0.1])
def test_a_job_given_up_tells_nobody(hands: Hands, wait_s: float) -> None:
    """Before it begins, in its midst, and when it is answered but the window has not yet looked."""
    key, heard = "a question", list[object]()
    jobs: Jobs = hands.window.jobs

    def work(progress: Progress) -> str:
        for step in range(100):
            progress.at(step / 100)
        return "an answer"

    jobs.ask(key, work, heard.append, failed=heard.append)
    time.sleep(wait_s)
    jobs.cancel(key)
    wait(hands)
    assert heard == []
