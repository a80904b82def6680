"""The program killed while it saves, again and again: the file is always a whole study, the old one or the new."""

import os
import random
import subprocess
import sys
import time
from pathlib import Path

import pytest
from msgspec.structs import replace

from profiler.study import Study, read_study, write_study
from profiler.study.files import examples
from profiler.study.files.disk import PART, STRAY_S

FEW, MANY = 12, 500
LONG_NOTE = "A note that makes the file long enough to be caught half written. " * 8000
SAVER = """
import sys
from pathlib import Path
from profiler.study import read_study, write_study
here = Path(sys.argv[1])
two = read_study(here / "one.bowl"), read_study(here / "two.bowl")
write_study(two[0], here / "saved.bowl")
print("saving", flush=True)
while True:
    for study in two:
        write_study(study, here / "saved.bowl")
"""


def two_studies(folder: Path) -> tuple[Study, Study]:
    study = examples.read(examples.DEFAULT)
    two = replace(study, title="The first", note=LONG_NOTE), replace(study, title="The other", note=LONG_NOTE + "!")
    write_study(two[0], folder / "one.bowl")
    write_study(two[1], folder / "two.bowl")
    return two


def kill_while_saving(folder: Path, after_s: float) -> None:
    """Start a program that does nothing but save, and kill it so long after its first save."""
    with subprocess.Popen([sys.executable, "-c", SAVER, str(folder)], stdout=subprocess.PIPE) as saver:
        try:
            assert saver.stdout is not None and saver.stdout.readline().strip() == b"saving"
            time.sleep(after_s)
        finally:
            saver.kill()


def strays(folder: Path) -> list[Path]:
    return [path for path in folder.iterdir() if path.name.endswith(PART)]


def kill_again_and_again(folder: Path, count: int) -> int:
    """How many of the kills came in the midst of a save."""
    two, chance = two_studies(folder), random.Random(count)
    for _ in range(count):
        kill_while_saving(folder, chance.uniform(0.0, 0.05))
        assert read_study(folder / "saved.bowl") in two
    return len(strays(folder))


def tidies_up(folder: Path) -> bool:
    """Whether the next save an hour later takes away what the killed ones left."""
    for path in strays(folder):
        os.utime(path, (time.time() - 2 * STRAY_S,) * 2)
    write_study(examples.read("cone"), folder / "saved.bowl")
    return not strays(folder)


def test_a_kill_during_a_save_leaves_a_whole_study(tmp_path: Path) -> None:
    assert kill_again_and_again(tmp_path, FEW) > 0  # else no save was caught, and nothing was tried
    assert tidies_up(tmp_path)


@pytest.mark.long
def test_five_hundred_kills_leave_a_whole_study_each_time(tmp_path: Path) -> None:
    caught = kill_again_and_again(tmp_path, MANY)
    print(f"{caught} of {MANY} came in the midst of a save")
    assert caught > MANY // 20 and tidies_up(tmp_path)
