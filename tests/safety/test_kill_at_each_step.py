"""A program that dies at a known step of a save: the file is whole, the old study before the exchange, the new after.

Where `test_kill_during_save` kills at random times, here each step is hit for sure.
"""

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from profiler.study import read_study, write_study
from profiler.study.files import examples
from profiler.study.files.disk import PART, STRAY_S

OLD, NEW = examples.read("cone"), examples.read("upright")
SAVER = """
import io, os, pathlib, sys
from pathlib import Path
from profiler.study import write_study
from profiler.study.files import disk, examples

def dies(holder, name, before):
    real = getattr(holder, name)
    def dying(*given, **named):
        if before:
            os.kill(os.getpid(), 9)
        real(*given, **named)
        os.kill(os.getpid(), 9)
    setattr(holder, name, dying)

def dies_half_written():
    def half(handle, mode):
        class Half(io.RawIOBase):
            def write(self, data):
                os.write(handle, data[: len(data) // 2])
                os.fsync(handle)
                os.kill(os.getpid(), 9)
        return Half()
    os.fdopen = half

steps = {
    "before the temporary file": lambda: dies(disk, "_opened_beside", True),
    "with an empty temporary file": lambda: dies(disk, "_opened_beside", False),
    "half written": dies_half_written,
    "before it is on the disk": lambda: dies(os, "fsync", True),
    "when it is on the disk": lambda: dies(os, "fsync", False),
    "before it has its mode": lambda: dies(pathlib.Path, "chmod", True),
    "before it has its owner": lambda: dies(os, "chown", True),
    "before the exchange": lambda: dies(pathlib.Path, "replace", True),
    "after the exchange": lambda: dies(pathlib.Path, "replace", False),
    "before the folder is on the disk": lambda: dies(disk, "_settle", True),
}
steps[sys.argv[2]]()
write_study(examples.read("upright"), Path(sys.argv[1]))
"""
STEPS = (
    "before the temporary file",
    "with an empty temporary file",
    "half written",
    "before it is on the disk",
    "when it is on the disk",
    "before it has its mode",
    "before it has its owner",
    "before the exchange",
)
STEPS_AFTER = ("after the exchange", "before the folder is on the disk")


@pytest.mark.skipif(sys.platform == "win32", reason="processes there cannot kill themselves so")
@pytest.mark.parametrize("step", [*STEPS, *STEPS_AFTER])
def test_the_file_is_whole_whenever_the_program_dies(tmp_path: Path, step: str) -> None:
    path = tmp_path / "saved.bowl"
    write_study(OLD, path)
    code = subprocess.run([sys.executable, "-c", SAVER, str(path), step], check=False).returncode
    assert code == -9  # it did die there
    assert read_study(path) == (NEW if step in STEPS_AFTER else OLD)
    strays = [p for p in tmp_path.iterdir() if p != path]
    assert all(p.name.endswith(PART) for p in strays) and len(strays) <= 1
    for stray in strays:
        os.utime(stray, (time.time() - 2 * STRAY_S,) * 2)
    write_study(NEW, path)
    assert read_study(path) == NEW and list(tmp_path.iterdir()) == [path]
