"""Random hands on every page in a real X display: the program itself under Xvfb, driven by xdotool.

What became of it is asked of the program's own words: no trace on stderr, no fault in the log, an answer at the end.
Its home is its own, so whatever a dialog writes lands there. Skipped, with the reason, where either tool is absent.
"""

import os
import random
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from profiler.study import read_study, write_study
from profiler.study.files import examples
from profiler.ui import page_stack
from tests.conftest import FOLDER_VARIABLES, HOME_VARIABLES

TOOLS = ("Xvfb", "xdotool")
pytestmark = pytest.mark.skipif(
    any(shutil.which(tool) is None for tool in TOOLS), reason=f"needs {' and '.join(TOOLS)} of the system"
)
FEW, MANY = 160, 10_000
PAGES = len(page_stack.PAGES)
SIZE = (1280, 800)
KEYS = ("Up", "Down", "Left", "Right", "Tab", "Return", "Escape", "Delete", "space", "ctrl+z", "ctrl+shift+z", "F8",
        "F6", "shift+Up", "ctrl+Left", "Home", "End", "1", "5", "minus", "comma", "x", "BackSpace")  # fmt: skip
NEXT_PAGE = f"key Escape\nkey Escape\nmousemove 400 {SIZE[1] - 10} click 1\nkey ctrl+Next\nsleep 0.3\n"
PACE = "\nsleep 0.04\n"  # quicker than any hand, and yet each step meets what the one before has made
PROGRAM = """
import sys
from pathlib import Path
from profiler.ui import app
begin = app._begin
def begun(window, keeper, opened, notes):
    begin(window, keeper, opened, notes)
    window.move(0, 0)
    window.resize(1280, 800)
    window.document.evaluated.connect(lambda e: done.append(e.design.name))
    window.pages.currentChanged.connect(seen.add)
    print("begun", flush=True)
done, seen = [], {0}
app._begin = begun
code = app.run(Path(sys.argv[1]))
print("did", len(done), *seen, flush=True)
sys.exit(code)
"""


@contextmanager
def display() -> Iterator[str]:
    """A screen of its own; Xvfb names the first number that is free."""
    reader, writer = os.pipe()
    words = ["Xvfb", "-displayfd", str(writer), "-screen", "0", f"{SIZE[0]}x{SIZE[1]}x24", "-nolisten", "tcp"]
    quiet = subprocess.DEVNULL
    with subprocess.Popen(words, pass_fds=[writer], stdout=quiet, stderr=quiet) as server:
        os.close(writer)
        with os.fdopen(reader) as told:
            number = told.readline().strip()
        try:
            yield f":{number}"
        finally:
            server.terminate()


class Run:
    """The program on a display, started anew whenever the hands have closed it."""

    def __init__(self, folder: Path, screen: str) -> None:
        self.folder, self.starts, self.evaluations, self.pages = folder, 0, 0, set[int]()
        home = folder / "home"
        home.mkdir(mode=0o700)
        folders = dict.fromkeys((*HOME_VARIABLES, *FOLDER_VARIABLES), str(home))
        self.surroundings = os.environ | {"DISPLAY": screen, "QT_QPA_PLATFORM": "xcb"} | folders
        self.stderr = (folder / "stderr.txt").open("ab")
        self.study = folder / "mine.bowl"
        write_study(examples.read("trial"), self.study)
        self.program = self._start()

    def _start(self) -> "subprocess.Popen[str]":
        self.starts += 1
        words = [sys.executable, "-c", PROGRAM, str(self.study)]
        pipe = subprocess.PIPE
        program = subprocess.Popen(words, stdout=pipe, stderr=self.stderr, text=True, env=self.surroundings)
        assert program.stdout is not None
        assert program.stdout.readline() == "begun\n", self.trouble
        return program

    def act(self, script: str) -> None:
        """Several steps at once, as xdotool reads them."""
        subprocess.run(
            ["xdotool", "-"], input=script, text=True, env=self.surroundings, capture_output=True, check=False
        )
        if self.program.poll() is not None:
            assert self.program.returncode == 0, self.trouble
            self.program = self._start()

    @property
    def resident_mb(self) -> float:
        pages = int(Path(f"/proc/{self.program.pid}/statm").read_text().split()[1])
        return pages * os.sysconf("SC_PAGE_SIZE") / 1e6

    @property
    def trouble(self) -> str:
        """What it complained of."""
        logs = [path.read_text(errors="replace") for path in (self.folder / "home").rglob("*.log")]
        said = "\n".join([(self.folder / "stderr.txt").read_text(errors="replace"), *logs])
        return said if any(word in said for word in ("Traceback", "Segmentation", "Fatal", "ERROR")) else ""

    def _ended(self) -> int:
        """Its exit code; what it says at its end is added up."""
        out, _ = self.program.communicate(timeout=30)
        for line in out.splitlines():
            word, *numbers = line.split()
            if word == "did":
                self.evaluations += int(numbers[0])
                self.pages |= {int(number) for number in numbers[1:]}
        return self.program.returncode

    def end(self) -> int:
        self.program.send_signal(signal.SIGTERM)
        code = self._ended()
        self.stderr.close()
        return code


def steps(chance: random.Random, count: int) -> str:
    """So many things hands do, anywhere on the screen but where the window is closed."""
    lines = []
    for _ in range(count):
        x, y = chance.randrange(4, SIZE[0] - 4), chance.randrange(4, SIZE[1] - 4)
        kind = chance.random()
        if kind < 0.25:
            lines.append(f"mousemove {x} {y}")
        elif kind < 0.5:
            lines.append(f"mousemove {x} {y} click {chance.choice((1, 1, 1, 3))}")
        elif kind < 0.6:
            to = chance.randrange(4, SIZE[0] - 4), chance.randrange(4, SIZE[1] - 4)
            lines.append(f"mousemove {x} {y} mousedown 1 mousemove {to[0]} {to[1]} mouseup 1")
        elif kind < 0.65:
            lines.append(f"mousemove {x} {y} click --repeat 2 1")
        elif kind < 0.7:
            lines.append(f"mousemove {x} {y} click {chance.choice((4, 5))}")
        else:
            lines.append(f"key {chance.choice(KEYS)}")
    return PACE.join(lines) + PACE


def let_loose(folder: Path, count: int) -> tuple[int, int, float]:
    """How often it was started, what it evaluated, and how much it grew in the second half of the longest life, MB."""
    chance, each = random.Random(count), 20
    with display() as screen:
        run = Run(folder, screen)
        try:
            settled, starts, growth = run.resident_mb, run.starts, 0.0
            for turn in range(count // each):
                run.act(NEXT_PAGE + steps(chance, each))
                assert not run.trouble, run.trouble[-3000:]
                if run.starts != starts:
                    settled, starts = run.resident_mb, run.starts
                elif turn == count // each // 2:
                    settled = run.resident_mb
            time.sleep(1.0)
            growth = run.resident_mb - settled
        finally:
            code = run.end()
        assert code == 128 + signal.SIGTERM, run.trouble
        assert (
            run.pages == set(range(PAGES)) and run.evaluations > count // 80
        )  # on half of the pages there is much to move
        assert not run.trouble, run.trouble[-3000:]
        assert read_study(run.study).machine.name or True
        return run.starts, run.evaluations, growth


@pytest.mark.no_cover  # another process
@pytest.mark.long  # it starts or fills too much for every run
def test_a_few_random_hands_on_every_page(tmp_path: Path) -> None:
    let_loose(tmp_path, FEW)


@pytest.mark.long
def test_ten_thousand_steps_of_random_hands_on_every_page(tmp_path: Path) -> None:
    starts, evaluations, growth = let_loose(tmp_path, MANY)
    print(f"{MANY} steps on {PAGES} pages: no fault, {evaluations} evaluations, {starts} starts, "
          f"{growth:.1f} MB more in the second half")  # fmt: skip
