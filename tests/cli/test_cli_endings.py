"""How commands end: stopped, piped into a reader that leaves, onto a full disk, by a fault of the program."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from profiler.cli import main as cli
from profiler.cli.command import FAULTY, INTERRUPTED, UNUSABLE, Command
from profiler.cli.main import COMMANDS
from profiler.study import write_study
from profiler.study.files import examples
from tests.tiers import kept

POSIX = pytest.mark.skipif(sys.platform == "win32", reason="Windows has no pipes and devices of this kind")
PROGRAM = [sys.executable, "-m", "profiler"]


@pytest.fixture(scope="module")
def mine(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("studies") / "mine.bowl"
    write_study(examples.read("trial"), path)
    return path


def every_command(mine: Path) -> dict[str, list[str]]:
    """A run of each, which prints something and writes nothing: its help, where nothing else is simply run."""
    file = str(mine)
    return {name: [name, "--help"] for name in COMMANDS} | {
        "check": ["check", file], "compare": ["compare", file], "fit": ["fit", file], "trial": ["trial", file],
        "map": ["map", file, "--x", "solids=20:40", "--y", "d50=50:90", "--count", "2"],
        "example": ["example", "--list"], "schema": ["schema"],
    }  # fmt: skip


@POSIX
@pytest.mark.parametrize("command", kept(COMMANDS, ["check"]))
def test_a_reader_that_leaves_early_hears_nothing(mine: Path, command: str) -> None:
    words = every_command(mine)[command]
    usual = subprocess.run([*PROGRAM, *words], capture_output=True, check=False).returncode
    reader, writer = os.pipe()
    os.close(reader)  # has gone before the first word
    done = subprocess.run([*PROGRAM, *words], stdout=writer, stderr=subprocess.PIPE, check=False)
    os.close(writer)
    assert (done.returncode, done.stderr) == (usual, b"") and usual in (0, 1)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device here is always full")
@pytest.mark.parametrize("command", kept(["check", "example", "schema", "export"], ["check"]))
def test_a_full_device_is_named_and_the_exit_code_is_two(mine: Path, command: str) -> None:
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [*PROGRAM, *every_command(mine)[command]], stdout=full, stderr=subprocess.PIPE, text=True, check=False
        )
    assert done.returncode == UNUSABLE
    assert done.stderr == "bowl-profiler: the standard output cannot be written: no space left on device.\n"


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device here is always full")
def test_where_nothing_can_be_said_at_all_the_exit_code_still_tells(mine: Path) -> None:
    with Path("/dev/full").open("w") as full:
        words = [*PROGRAM, "check", str(mine.with_name("absent.bowl"))]
        assert subprocess.run(words, stdout=full, stderr=full, check=False).returncode == UNUSABLE


@POSIX
@pytest.mark.parametrize("stream", ["stdout", "stderr"])
def test_a_stream_that_was_closed_before_the_start_is_done_without(mine: Path, stream: str) -> None:
    number = {"stdout": 1, "stderr": 2}[stream]
    words = f"exec {number}>&-; exec {sys.executable} -m profiler check {mine}"
    assert subprocess.run(["sh", "-c", words], stdin=subprocess.DEVNULL, check=False).returncode in (0, 1)


STOPPED = """
import os, signal, sys
from profiler.assess import evaluate
from profiler.cli import main
from profiler.cli.check import CHECK
from profiler.study.files import disk
def stop(*_, **__):
    os.kill(os.getpid(), signal.SIGINT)
    while True:
        pass
if sys.argv[1] == "in the midst of the work":
    import profiler.assess as a
    a.evaluate = stop
else:
    disk._filled = stop
sys.exit(main.main(sys.argv[2:]))
"""


@POSIX
@pytest.mark.parametrize("where", ["in the midst of the work", "in the midst of writing"])
def test_ctrl_c_is_one_line_and_leaves_nothing_half_written(tmp_path: Path, mine: Path, where: str) -> None:
    out = tmp_path / "out.dxf"
    out.write_text("as it was")
    words = [sys.executable, "-c", STOPPED, where, "export", str(mine), str(out)]
    done = subprocess.run(words, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout) == (INTERRUPTED, "")
    assert done.stderr == "bowl-profiler: stopped by Ctrl+C; nothing is half written.\n"
    assert out.read_text() == "as it was" and list(tmp_path.iterdir()) == [out]


def test_a_fault_of_the_program_is_no_stop_finding(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def wrong(_: object) -> int:
        raise RuntimeError("a fault made on purpose")

    monkeypatch.setitem(COMMANDS, "check", Command("check", str, lambda _: None, wrong))
    assert cli.main(["check"]) == FAULTY
    out, err = capsys.readouterr()
    assert out == "" and "a fault of the program" in err and "Traceback" in err


@POSIX
def test_sigint_is_what_the_exit_code_says() -> None:
    assert 128 + signal.SIGINT == INTERRUPTED
