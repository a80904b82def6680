"""The program itself killed at any moment while somebody works in it: the copy lacks at most the last 5 s."""

import random
import signal
import sys
import time
from pathlib import Path

import pytest

from profiler.study import read_study, write_study
from profiler.study.files import examples
from tests.ui.safety.test_started import said, started

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="ends otherwise there")
FEW, MANY = 2, 100
LONGEST_S = 5.0


def killed_at_work(folder: Path, after_s: float) -> float:
    """Kill it so long after its first edit; how old the oldest edit is that no copy holds, s."""
    mine = folder / "mine.bowl"
    write_study(examples.read("cone"), mine)
    before, edits = mine.read_bytes(), dict[float, float]()
    with started(folder / "home", "work", mine) as program:
        start = time.monotonic()
        while time.monotonic() - start < after_s:
            speed = float(said(program, "speed")[-1].removeprefix("speed "))
            edits[speed] = time.monotonic()
            start = min(edits.values())
        program.send_signal(signal.SIGKILL)
        end = time.monotonic()
    assert mine.read_bytes() == before
    copies = list((folder / "home").rglob("recovery/*.bowl"))
    kept = read_study(copies[0]).duty.speed_rpm if copies else 0.0  # whole, or this raises
    lost = [end - when for speed, when in edits.items() if speed > kept]
    for copy in copies:  # the next session is a new one
        for path in copy.parent.iterdir():
            path.unlink()
    return max(lost, default=0.0)


def test_a_kill_loses_at_most_the_last_seconds(tmp_path: Path) -> None:
    chance = random.Random(FEW)
    assert max(killed_at_work(tmp_path, chance.uniform(3.0, 7.0)) for _ in range(FEW)) < LONGEST_S


@pytest.mark.long
def test_a_hundred_kills_lose_at_most_the_last_seconds(tmp_path: Path) -> None:
    chance = random.Random(MANY)
    lost = [killed_at_work(tmp_path, chance.uniform(0.0, 9.0)) for _ in range(MANY)]
    print(f"{MANY} kills of the program at work: at most the last {max(lost):.1f} s of edits are in no copy")
    assert max(lost) < LONGEST_S
