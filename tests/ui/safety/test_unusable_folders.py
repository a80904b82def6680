"""The program started where the user's own folders cannot be read or written: a sentence, no trace, and it works."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from profiler.study import read_study, write_study
from profiler.study.files import examples
from tests.conftest import FOLDER_VARIABLES, HOME_VARIABLES
from tests.tiers import kept

PROGRAM = """
import sys
from pathlib import Path
from PySide6.QtCore import QTimer
from profiler.study.records.duty import SPEED
from profiler.ui import app
from profiler.ui.dialogs import dialogs

def say(*words):
    print(*words, flush=True)

begin = app._begin
def begun(window, keeper, opened, notes):
    window.document.announced.connect(lambda words: say("said", words))
    begin(window, keeper, opened, notes)
    window.document.change(SPEED, 655.0)
    QTimer.singleShot(1500, lambda: end(window))
def end(window):
    say("saved", window.filing.save())
    window.close()
app._begin = begun
sys.exit(app.run(Path(sys.argv[1])))
"""


def a_file(place: Path) -> Path:
    place.write_text("no folder")
    return place


def below_a_file(place: Path) -> Path:
    return a_file(place) / "home"


def nowhere(place: Path) -> Path:
    return Path("/proc/no/such/place")  # where not even root makes a folder


PLACES = {"a file": a_file, "below a file": below_a_file}
if sys.platform.startswith("linux"):
    PLACES["nowhere"] = nowhere


@pytest.mark.long
@pytest.mark.parametrize("place", kept(PLACES, ["a file"]))
def test_the_program_starts_works_and_saves_without_its_own_folders(tmp_path: Path, place: str) -> None:
    mine = tmp_path / "mine.bowl"
    write_study(examples.read("cone"), mine)
    home = PLACES[place](tmp_path / "place")
    folders = dict.fromkeys((*HOME_VARIABLES, *FOLDER_VARIABLES), str(home))
    surroundings = os.environ | {"QT_QPA_PLATFORM": "offscreen"} | folders
    words = [sys.executable, "-c", PROGRAM, str(mine)]
    done = subprocess.run(words, capture_output=True, text=True, env=surroundings, timeout=90, check=False)
    assert done.returncode == 0, done.stderr
    assert "Traceback" not in done.stderr, done.stderr
    assert read_study(mine).duty.speed_rpm == 655.0
    said = [line for line in done.stdout.splitlines() if line.startswith("said")]
    assert "saved True" in done.stdout
    assert sum("No recovery copy can be kept" in line for line in said) == 1  # said, once


@pytest.mark.parametrize("place", kept(PLACES, []))
def test_commands_work_without_the_users_folders(tmp_path: Path, place: str) -> None:
    mine = tmp_path / "mine.bowl"
    write_study(examples.read("cone"), mine)
    folders = dict.fromkeys((*HOME_VARIABLES, *FOLDER_VARIABLES), str(PLACES[place](tmp_path / "place")))
    outs = [tmp_path / "out.pdf", tmp_path / "out.dxf"]
    words = [sys.executable, "-m", "profiler", "export", str(mine), *map(str, outs)]
    done = subprocess.run(words, capture_output=True, text=True, env=os.environ | folders, timeout=90, check=False)
    assert done.returncode == 0 and "Traceback" not in done.stderr
    assert all(out.exists() for out in outs)
