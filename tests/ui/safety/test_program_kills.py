"""The program itself killed at any moment while somebody works in it: the copy lacks at most the last 5 s."""

import random
import signal
import sys
from pathlib import Path

import pytest

from profiler.study import read_study, write_study
from profiler.study.files import examples
from tests.ui.safety.test_started import said, started

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="ends otherwise there")
FEW, MANY = 2, 100
EVERY_S, LONGEST_S = 0.12, 5.0  # an edit comes so often or more slowly; no copy is older


def lost_edits(folder: Path, count: int) -> int:
    """Kill it after so many edits; how many of them no copy holds."""
    mine = folder / "mine.bowl"
    write_study(examples.read("cone"), mine)
    before = mine.read_bytes()
    with started(folder / "home", "work", mine) as program:
        for _ in range(count):
            said(program, "speed")
        program.send_signal(signal.SIGKILL)
    assert mine.read_bytes() == before
    copies = list((folder / "home").rglob("recovery/*.bowl"))
    kept = read_study(copies[0]).duty.speed_rpm if copies else 600.0 - 0.1  # whole, or this raises
    for path in (folder / "home").rglob("recovery/*"):  # the next session is a new one
        path.unlink()
    return max(round((600.0 + 0.1 * (count - 1) - kept) / 0.1), 0)


@pytest.mark.long  # it starts or fills too much for every run
def test_a_kill_loses_at_most_the_last_seconds(tmp_path: Path) -> None:
    chance = random.Random(FEW)
    assert max(lost_edits(tmp_path, chance.randint(45, 60)) for _ in range(FEW)) * EVERY_S < LONGEST_S


@pytest.mark.long
def test_a_hundred_kills_lose_at_most_the_last_seconds(tmp_path: Path) -> None:
    chance = random.Random(MANY)
    lost = [lost_edits(tmp_path, chance.randint(1, 80)) for _ in range(MANY)]
    print(f"{MANY} kills of the program at work: {max(lost)} edits at most in no copy, {EVERY_S} s each or slower")
    assert max(lost) * EVERY_S < LONGEST_S
