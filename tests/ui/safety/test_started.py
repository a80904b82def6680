"""The program itself, started as a user starts it and ended as nobody wants it: what it leaves, and what it says next.

Each start is a process of its own, with a home of its own and the real times of the autosave.
"""

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from profiler.study import BowlFileError, read_study, write_study
from profiler.study.files import examples
from tests.conftest import FOLDER_VARIABLES, HOME_VARIABLES

# Starts the window, acts once it has begun, and says each thing on a line; questions are answered and said too.
PROGRAM = """
import os
import signal
import sys
import threading
from pathlib import Path
from PySide6.QtCore import QTimer
from profiler.study.records.duty import SPEED
from profiler.ui import app
from profiler.ui.dialogs import dialogs, questions
from profiler.ui.dialogs.questions import Fate, Shared, Trouble

def say(*words):
    print(*words, flush=True)

def answered(name, answer):
    def asked(*given):
        say(name, *given[1:])
        return answer(*given)
    setattr(questions, name, asked)

answered("ask_leftovers", lambda parent, found, opened: {each: Fate.OPEN for each in found[:1]})
answered("ask_shared_open", lambda *_: Shared[sys.argv[3]])
answered("ask_trouble", lambda *_: Trouble.QUIT)

def edit(window, keeper):
    window.document.change(SPEED, 655.0)
    def look():
        if keeper.session.copy.exists():
            say("kept", keeper.session.copy)
        else:
            QTimer.singleShot(50, look)
    look()

def change(window, keeper):
    window.document.change(SPEED, 655.0)
    say("changed")

def work(window, keeper, speed=600.0):
    window.document.change(SPEED, speed)
    say("speed", speed)
    QTimer.singleShot(120, lambda: work(window, keeper, speed + 0.1))

def change_in_a_busy_slot(window, keeper):
    change(window, keeper)
    try:
        for _ in range(20_000_000):
            pass
    except BaseException:
        say("interrupted")
        raise

def change_under_a_question(window, keeper):
    QTimer.singleShot(0, lambda: dialogs.ask_unsaved(window, "mine.bowl"))
    QTimer.singleShot(300, lambda: change(window, keeper))

def tell(window, keeper):
    document = window.document
    say("study", document.name, document.duty.speed_rpm, document.modified, document.path)
    say("copy", keeper.session.copy.exists())
    say("done")

def fail(window, keeper):
    edit(window, keeper)
    raise RuntimeError("a fault made on purpose")

def fail_and_die(window, keeper):
    window.document.change(SPEED, 655.0)
    try:
        raise RuntimeError("a fault made on purpose")
    except RuntimeError:
        sys.excepthook(*sys.exc_info())  # as the system calls it, say from a paint event ...
    os.kill(os.getpid(), signal.SIGSEGV)  # ... whose painter, left alive, then takes the program down

end = threading.Timer(60, lambda: os._exit(9))  # a start that hangs is no test that hangs
end.daemon = True
end.start()
begin = app._begin
def begun(window, keeper, opened, notes):
    begin(window, keeper, opened, notes)
    globals()[sys.argv[1]](window, keeper)
app._begin = begun
code = app.run(Path(sys.argv[2]) if sys.argv[2] else None)
say("ended", code)
sys.exit(code)
"""


@contextmanager
def started(home: Path, act: str, file: Path | None = None, shared: str = "CANCEL") -> Iterator[subprocess.Popen[str]]:
    """The program with a home of its own; killed on leaving."""
    folders = dict.fromkeys((*HOME_VARIABLES, *FOLDER_VARIABLES), str(home))
    surroundings = os.environ | {"QT_QPA_PLATFORM": "offscreen"} | folders
    home.mkdir(mode=0o700, exist_ok=True)
    words = [sys.executable, "-c", PROGRAM, act, str(file or ""), shared]
    pipe = subprocess.PIPE
    with subprocess.Popen(words, stdout=pipe, stderr=pipe, text=True, env=surroundings) as program:
        try:
            yield program
        finally:
            program.kill()


def said(program: subprocess.Popen[str], until: str) -> list[str]:
    """Its lines up to the one that begins so."""
    assert program.stdout is not None
    lines = []
    for line in program.stdout:
        lines.append(line.rstrip("\n"))
        if lines[-1].startswith(until):
            return lines
    assert program.stderr is not None
    raise AssertionError(f"{lines}\n{program.stderr.read()}")


@pytest.fixture
def home(tmp_path: Path) -> Path:
    return tmp_path / "home"


@pytest.fixture
def mine(tmp_path: Path) -> Path:
    path = tmp_path / "mine.bowl"
    write_study(examples.read("cone"), path)
    return path


@pytest.mark.long
def test_a_killed_program_has_kept_the_work_and_the_next_start_brings_it_back(home: Path, mine: Path) -> None:
    before = mine.read_bytes()
    with started(home, "edit", mine) as program:
        copy = Path(said(program, "kept")[-1].removeprefix("kept "))
    assert mine.read_bytes() == before and read_study(copy).duty.speed_rpm == 655.0
    with started(home, "tell", mine) as program:
        lines = said(program, "done")
        assert any(line.startswith("ask_leftovers") and str(mine) in line for line in lines)
        assert "study mine.bowl 655.0 True None" in lines  # unsaved, and no file is overwritten unasked
        assert "copy True" in lines and not copy.exists()  # safe in the new session's copy
    assert mine.read_bytes() == before


@pytest.mark.long  # test_outside_changes says the same within one program
def test_a_second_window_on_one_file_is_told_of_the_first(home: Path, mine: Path) -> None:
    with started(home, "tell", mine) as first:
        said(first, "done")
        for answer, place in (("GO_ON", str(mine)), ("COPY", "None"), ("CANCEL", "None")):
            with started(home, "tell", mine, answer) as second:
                lines = said(second, "done")
                asked = f"ask_shared_open mine.bowl process {first.pid}"
                assert asked in lines and any(line.startswith("study") and line.endswith(place) for line in lines)
    with started(home, "tell", mine) as third:
        assert not any(line.startswith("ask_shared") for line in said(third, "done"))  # the first is gone


@pytest.mark.long
def test_trouble_is_logged_and_kept_and_the_work_outlives_quitting(home: Path, mine: Path) -> None:
    with started(home, "fail", mine) as program:
        lines = said(program, "ended")
        assert any(line.startswith("ask_trouble RuntimeError: a fault made on purpose") for line in lines)
        assert program.wait() == 3
        assert program.stderr is not None and "a fault made on purpose" in program.stderr.read()
    (log,) = home.rglob("bowl-profiler.log")
    assert "a fault made on purpose" in log.read_text(encoding="utf-8")
    with started(home, "tell", mine) as program:
        assert "study mine.bowl 655.0 True None" in said(program, "done")


@pytest.mark.long
@pytest.mark.skipif(sys.platform == "win32", reason="ends otherwise there")
def test_log_and_copy_are_made_before_the_next_instant_can_take_the_program_down(home: Path, mine: Path) -> None:
    with started(home, "fail_and_die", mine) as program:
        assert program.wait() == -signal.SIGSEGV
    (log,) = home.rglob("bowl-profiler.log")
    assert "a fault made on purpose" in log.read_text(encoding="utf-8")
    (faults,) = home.rglob("faults.log")
    assert "Segmentation fault" in faults.read_text(encoding="utf-8")
    with started(home, "tell", mine) as program:
        assert "study mine.bowl 655.0 True None" in said(program, "done")


def test_a_file_that_cannot_be_read_is_said_and_no_window_opens(home: Path, tmp_path: Path) -> None:
    broken = tmp_path / "broken.bowl"
    broken.write_bytes(b"{")
    with pytest.raises(BowlFileError) as caught:
        read_study(broken)
    with started(home, "tell", broken) as program:
        assert program.wait() == 2 and program.stderr is not None
        assert program.stderr.read().strip() == str(caught.value)
