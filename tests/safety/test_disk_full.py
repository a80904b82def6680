"""A disk that is full, for real: a small one in memory where it may be mounted, a limit of file sizes elsewhere.

Whatever does not fit is refused in a sentence; what was there before is whole, and nothing is left beside it.
"""

import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from profiler.study import read_study, write_study
from profiler.study.files import examples

pytestmark = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="asks Linux for a small disk")
OLD = examples.read("cone")
FEW, MANY = 6, 200
WRITER = """
import random, resource, signal, sys
from pathlib import Path
from msgspec.structs import replace
from profiler.assess import evaluate
from profiler.output.writing import Target, all_targets, write_several
from profiler.output.record.option import Request
from profiler.study import BowlFileError, read_study, write_study
from profiler.ui.files.recovery import Session

folder, most, count = Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3])
chance = random.Random(count)
small, path = read_study(folder / "mine.bowl"), folder / "mine.bowl"
if most:
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)  # else the system kills who writes too much
    resource.setrlimit(resource.RLIMIT_FSIZE, (most, resource.RLIM_INFINITY))
held, refused, session = small, 0, Session(folder / "recovery")
for turn in range(count):
    study = replace(small, note="n" * chance.choice((0, 1000, 100_000, 2_000_000)), title=str(turn))
    for write in (lambda: write_study(study, path), lambda: session.keep(study, path)):
        try:
            write()
        except BowlFileError as error:
            refused += 1
            assert any(words in str(error) for words in ("no space left", "file too large")), error
    try:
        now = read_study(path)
    except BowlFileError as error:
        raise SystemExit(f"lost: {error}")
    assert now in (held, study), "neither the old study nor the new"
    held = now
    assert not [p for p in folder.iterdir() if p.name.endswith(".part")], "something is left beside"
e = evaluate(small.design, small.machine, small.duty)
outcome = write_several(all_targets(folder, "out", Request()), e)
assert all(one.path.stat().st_size > 0 for one in outcome.made)
assert all(str(one.sentence).rstrip().endswith(".") for one in outcome.failed)
print(refused, len(outcome.made), len(outcome.failed))
"""


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[tuple[Path, int]]:
    """A folder with room for a few studies, and the limit of file sizes there, 0 where the disk itself is small."""
    folder = tmp_path / "disk"
    folder.mkdir()
    words = ["mount", "-t", "tmpfs", "-o", "size=512k", "tmpfs", str(folder)]
    mounted = shutil.which("mount") and subprocess.run(words, capture_output=True, check=False).returncode == 0
    yield folder, 0 if mounted else 65536
    if mounted:
        subprocess.run(["umount", str(folder)], check=True)


def fill(folder: Path, most: int, count: int) -> tuple[int, int, int]:
    """Refusals, files written, files refused."""
    write_study(OLD, folder / "mine.bowl")
    words = [sys.executable, "-c", WRITER, str(folder), str(most), str(count)]
    done = subprocess.run(words, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    refused, made, failed = map(int, done.stdout.split())
    assert read_study(folder / "mine.bowl").machine == OLD.machine
    return refused, made, failed


@pytest.mark.long  # it starts or fills too much for every run
def test_a_full_disk_is_said_and_loses_nothing(small_disk: tuple[Path, int]) -> None:
    assert fill(*small_disk, FEW)[0] > 0


@pytest.mark.long  # it writes every output
def test_a_limit_of_file_sizes_is_said_and_loses_nothing(tmp_path: Path) -> None:
    refused, _, failed = fill(tmp_path, 65536, FEW)
    assert refused > 0 and failed > 0


@pytest.mark.long
def test_a_full_disk_loses_nothing_over_many_writes(small_disk: tuple[Path, int]) -> None:
    refused, made, failed = fill(*small_disk, MANY)
    print(f"{'a limit' if small_disk[1] else 'a small disk'}: {refused} of {2 * MANY} writes refused, "
          f"{made} outputs written, {failed} refused")  # fmt: skip
    assert refused > MANY // 10
