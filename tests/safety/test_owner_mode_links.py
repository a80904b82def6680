"""What a file keeps when it is written over: owner, group, mode, its other names; what a new one gets; what goes."""

import os
import stat
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from profiler.study import BowlFileError, read_study, write_study
from profiler.study.files import disk, examples
from profiler.study.files.disk import LONGEST_NAME, PART, STRAY_S, private_folder, write_whole

OLD, NEW = examples.read("cone"), examples.read("upright")
pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="files there have no owner, mode or umask of this kind")
AS_ROOT = pytest.mark.skipif(getattr(os, "geteuid", lambda: -1)() != 0, reason="only root may give a file away")
SAVER_INTO_A_LINKED_FILE = """
import os, sys
from pathlib import Path
from profiler.study import write_study
from profiler.study.files import disk, examples
real = disk._write_through
def dies_half_written(path, target, beside, data):
    with target.open("r+b") as file:
        file.write(data[: len(data) // 2])
        file.flush()
        os.kill(os.getpid(), 9)
disk._write_through = dies_half_written
write_study(examples.read("upright"), Path(sys.argv[1]))
"""


def mode_of(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


@pytest.fixture
def umask() -> Iterator[None]:
    before = os.umask(0o027)
    yield
    os.umask(before)


def test_a_new_file_has_what_the_umask_leaves(tmp_path: Path, umask: None) -> None:
    write_study(NEW, tmp_path / "new.bowl")
    assert mode_of(tmp_path / "new.bowl") == 0o640


@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664, 0o666, 0o755])
def test_the_mode_is_kept_whatever_the_umask(tmp_path: Path, umask: None, mode: int) -> None:
    path = tmp_path / "mine.bowl"
    write_study(OLD, path)
    path.chmod(mode)
    write_study(NEW, path)
    assert mode_of(path) == mode and read_study(path) == NEW


def test_what_is_private_is_so_whatever_was_there(tmp_path: Path) -> None:
    path = tmp_path / "copy.bowl"
    write_study(OLD, path)
    path.chmod(0o666)
    write_whole(path, b"mine alone", private=True)
    assert mode_of(path) == 0o600
    folder = tmp_path / "recovery"
    folder.mkdir(mode=0o755)
    private_folder(folder)
    private_folder(tmp_path / "new")
    assert mode_of(folder) == mode_of(tmp_path / "new") == 0o700


@AS_ROOT
def test_owner_and_group_are_kept(tmp_path: Path) -> None:
    path = tmp_path / "theirs.bowl"
    write_study(OLD, path)
    os.chown(path, 12345, 23456)
    path.chmod(0o664)
    write_study(NEW, path)
    status = path.stat()
    assert (status.st_uid, status.st_gid, mode_of(path)) == (12345, 23456, 0o664)


@AS_ROOT
def test_a_group_that_cannot_be_kept_hands_its_rights_to_no_other(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "theirs.bowl"
    write_study(OLD, path)
    os.chown(path, 0, 23456)
    path.chmod(0o664)

    def refused(*_: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "chown", refused)
    write_study(NEW, path)
    assert read_study(path) == NEW and mode_of(path) == 0o604


def test_a_symbolic_link_stays_and_what_it_leads_to_changes(tmp_path: Path) -> None:
    file, link, onward = tmp_path / "file.bowl", tmp_path / "link.bowl", tmp_path / "onward.bowl"
    write_study(OLD, file)
    link.symlink_to(file)
    onward.symlink_to(link)
    write_study(NEW, onward)
    assert onward.is_symlink() and link.is_symlink() and read_study(file) == NEW
    ahead = tmp_path / "ahead.bowl"
    ahead.symlink_to(tmp_path / "not-yet.bowl")
    write_study(NEW, ahead)
    assert ahead.is_symlink() and read_study(tmp_path / "not-yet.bowl") == NEW


@pytest.fixture
def linked(tmp_path: Path) -> tuple[Path, Path]:
    """One file under two names."""
    one, other = tmp_path / "one.bowl", tmp_path / "other.bowl"
    write_study(OLD, one)
    os.link(one, other)
    return one, other


def test_a_file_of_two_names_changes_under_both(linked: tuple[Path, Path]) -> None:
    one, other = linked
    one.chmod(0o640)
    for study in (NEW, OLD):  # longer and shorter than what was there
        stamp = write_study(study, one)
        assert read_study(one) == read_study(other) == study and one.samefile(other) and mode_of(one) == 0o640
        assert stamp.agrees(one.stat())
    assert sorted(p.name for p in one.parent.iterdir()) == ["one.bowl", "other.bowl"]


def test_a_file_of_two_names_that_is_cut_off_midway_lies_whole_beside(linked: tuple[Path, Path]) -> None:
    one, _ = linked
    words = [sys.executable, "-c", SAVER_INTO_A_LINKED_FILE, str(one)]
    assert subprocess.run(words, check=False).returncode == -9
    (beside,) = one.parent.glob(f".one.bowl.*{PART}")
    assert read_study(beside) == NEW


def test_where_there_is_no_room_midway_the_sentence_says_where_the_whole_lies(
    linked: tuple[Path, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    one, _ = linked
    seen: list[int] = []

    def full(handle: int) -> None:
        seen.append(handle)
        if len(seen) == 3:  # the whole, its folder, then the file itself
            raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(BowlFileError, match=r"no space left on device\. All of it lies beside") as caught:
        write_study(NEW, one)
    kept = one.parent / str(caught.value).rpartition(" as ")[2].rstrip(".")
    assert read_study(kept) == NEW


def test_what_killed_programs_left_is_swept_and_nothing_else(tmp_path: Path) -> None:
    ours = [tmp_path / f".drawing.pdf.0123abcd{PART}", tmp_path / f".mine.bowl.ffffffff{PART}"]
    fresh = tmp_path / f".mine.bowl.00000000{PART}"
    others = [tmp_path / name for name in ("film.mkv.part", ".hidden.part", ".mine.bowl.0123abcd", "0123abcd.part")]
    folder = tmp_path / f".folder.0123abcd{PART}"
    folder.mkdir()
    for path in (*ours, fresh, *others):
        path.touch()
    for path in (*ours, *others, folder):
        os.utime(path, (time.time() - 2 * STRAY_S,) * 2)
    write_study(NEW, tmp_path / "mine.bowl")
    assert not any(path.exists() for path in ours)
    assert all(path.exists() for path in (fresh, *others, folder))


@pytest.mark.parametrize("name", ["n" * 251 + ".bowl", "ö" * 126 + ".bowl", "n" * 5000])
def test_a_name_too_long_is_refused_with_its_number(tmp_path: Path, name: str) -> None:
    with pytest.raises(BowlFileError, match=f"its name has {len(name)} letters, .* at most {LONGEST_NAME} bytes"):
        write_study(NEW, tmp_path / name)
    assert list(tmp_path.iterdir()) == []


def test_the_longest_name_of_letters_of_several_bytes_can_be_written(tmp_path: Path) -> None:
    path = tmp_path / ("ö" * 125 + ".bowl")
    write_study(NEW, path)
    assert read_study(path) == NEW


def test_a_name_that_is_none_is_refused_in_a_sentence(tmp_path: Path) -> None:
    with pytest.raises(BowlFileError, match="cannot be the name of a file"):
        write_study(NEW, tmp_path / "a\0b.bowl")


def test_a_name_taken_by_chance_is_tried_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    chances = iter(("00000000", "11111111"))
    monkeypatch.setattr(disk.secrets, "token_hex", lambda _: next(chances))
    taken = tmp_path / f".mine.bowl.00000000{PART}"
    taken.write_text("of another program")
    write_study(NEW, tmp_path / "mine.bowl")
    assert read_study(tmp_path / "mine.bowl") == NEW and taken.read_text() == "of another program"
