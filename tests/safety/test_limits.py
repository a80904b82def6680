"""What is more than can be worked with is refused before the work, with the number and the most there may be."""

import json
import re
import sys
from collections.abc import Callable
from pathlib import Path

import msgspec
import pytest
from msgspec.structs import replace

from profiler.output.formats import sheet_page
from profiler.output.formats.sheet_page import MOST_PIXELS, sheet_png
from profiler.pictures.sheet.items import Sheet, View
from profiler.study import BowlFileError, Material, Study
from profiler.study.edits import list_edits, machine_edits, trial_edits
from profiler.study.edits.list_edits import Listed
from profiler.study.files import disk, drills, examples, owned_lists
from profiler.study.files.disk import MOST_SMALL_BYTES
from profiler.study.files.drills import read_drills
from profiler.study.files.heading_words import read_words
from profiler.study.files.owned_lists import read_list, shipped
from profiler.study.ledger import table_files, text_tables
from profiler.study.ledger.columns import COLUMNS
from profiler.study.ledger.table_files import read_table_file
from profiler.study.ledger.text_tables import read_table
from profiler.study.records.machine import Machine
from profiler.study.records.record import LONGEST_NAME

STUDY = examples.read("trial")


# names

RENAMES: dict[str, Callable[[str], object]] = {
    "a design": lambda name: list_edits.rename(STUDY, Listed.DESIGN, name).design.name,
    "a duty": lambda name: list_edits.rename(STUDY, Listed.DUTY, name).duty.name,
    "a machine": lambda name: machine_edits.rename(STUDY.machine, name).name,
    "a trial": lambda name: trial_edits.renamed(STUDY.trials[0], name).name,
}


@pytest.mark.parametrize("what", RENAMES)
def test_a_name_of_more_than_200_letters_is_refused_with_the_number(what: str) -> None:
    longest = "ö" * LONGEST_NAME
    assert RENAMES[what](longest) == longest and LONGEST_NAME == 200
    with pytest.raises(ValueError, match=r"at most 200 letters, this one 201; “.*” stays\.$"):
        RENAMES[what](longest + "ö")


def test_copies_of_the_longest_name_have_names_that_differ_and_are_not_longer() -> None:
    study: Study = list_edits.rename(STUDY, Listed.DESIGN, "n" * LONGEST_NAME)
    for _ in range(12):
        study = list_edits.duplicate(study, Listed.DESIGN)
    names = [design.name for design in study.designs]
    assert len(set(names)) == len(names) and max(map(len, names)) <= LONGEST_NAME


# pictures


@pytest.mark.parametrize(
    ("width", "height", "dpi"), [(1189.0, 841.0, 1200.0), (1189.0, 841.0, 400.0), (1e5, 1e5, 20.0)]
)
def test_a_png_above_200_megapixels_is_refused_before_it_is_drawn(
    monkeypatch: pytest.MonkeyPatch, width: float, height: float, dpi: float
) -> None:
    def drawn(_: Sheet) -> None:
        raise AssertionError("it was drawn")

    monkeypatch.setattr(sheet_page, "page", drawn)
    sheet = Sheet(width, height, (), View((0.0, 0.0), 1.0))
    with pytest.raises(ValueError, match=r"would have \d+ megapixels; 200 is the most: ask for \d+ dpi") as caught:
        sheet_png(sheet, dpi)
    most = float(re.findall(r"ask for (\d+) dpi", str(caught.value))[0])
    assert width * height * (most / 25.4) ** 2 <= MOST_PIXELS < width * height * ((most + 1.0) / 25.4) ** 2
    with pytest.raises(AssertionError, match="it was drawn"):
        sheet_png(sheet, most)


# lists


def named(item: Machine | Material, count: int) -> object:
    """So many entries that differ by their name."""
    return msgspec.to_builtins([replace(item, name=str(i)) for i in range(count)])


LISTS: dict[str, tuple[Callable[[Path], str], int, Callable[[int], object]]] = {
    "drills": (lambda path: read_drills(path).trouble, drills.MOST,
               lambda count: [1.0 + i * 0.001 for i in range(count)]),
    "materials": (lambda path: read_list(Material, path).trouble, owned_lists.MOST,
                  lambda count: named(shipped(Material)[0], count)),
    "machines": (lambda path: read_list(Machine, path).trouble, owned_lists.MOST,
                 lambda count: named(shipped(Machine)[0], count)),
}  # fmt: skip


def trouble_of_headings(path: Path) -> str:
    try:
        read_words(path, COLUMNS)
    except BowlFileError as error:
        return str(error)
    return ""


@pytest.mark.parametrize("what", LISTS)
def test_a_list_longer_than_can_be_chosen_from_is_refused_with_the_number(tmp_path: Path, what: str) -> None:
    read, most, entries = LISTS[what]
    path = tmp_path / "list.json"
    path.write_text(json.dumps(entries(most)))
    assert read(path) == ""
    path.write_text(json.dumps(entries(most + 1)))
    assert f"{most + 1}" in read(path) and f"{most} is the most" in read(path)


READ_LISTS = {name: read for name, (read, _, _) in LISTS.items()} | {"headings": trouble_of_headings}


@pytest.mark.parametrize("what", READ_LISTS)
def test_a_list_that_is_far_too_large_is_not_even_read(
    tmp_path: Path, what: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def read_whole(_: Path) -> None:
        raise AssertionError("it was read")

    monkeypatch.setattr(disk, "read_whole", read_whole)
    path = tmp_path / "list.json"
    with path.open("wb") as file:
        file.truncate(MOST_SMALL_BYTES + 1)  # a hole: no disk is filled
    words = READ_LISTS[what](path)
    assert f"{MOST_SMALL_BYTES + 1} bytes" in words and f"at most {MOST_SMALL_BYTES}" in words


@pytest.mark.parametrize("what", READ_LISTS)
def test_a_list_that_is_no_file_is_said_and_not_waited_for(tmp_path: Path, what: str) -> None:
    path = tmp_path / "list.json"
    path.mkdir()
    assert "is a folder" in READ_LISTS[what](path)
    if sys.platform != "win32":
        import os

        pipe = tmp_path / "pipe.json"
        os.mkfifo(pipe)
        assert "not a plain file" in READ_LISTS[what](pipe)


# ledgers


def test_a_paste_larger_than_a_table_can_be_is_refused_before_it_is_parsed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(text_tables, "MOST_BYTES", 1000)
    with pytest.raises(ValueError, match="has 1001 letters; a table of at most 1000 is read"):
        read_table("a" * 1001)


def test_a_ledger_of_a_gigabyte_is_refused_unread(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def read_whole(_: Path) -> None:
        raise AssertionError("it was read")

    monkeypatch.setattr(table_files, "read_whole", read_whole)
    path = tmp_path / "ledger.csv"
    with path.open("wb") as file:
        file.truncate(10**9)
    with pytest.raises(BowlFileError, match="1000 MB; a table of at most 24 MB"):
        read_table_file(path)


def test_names_in_a_file_may_be_longer_since_nothing_is_refused_that_was_once_saved() -> None:
    from profiler.study.files.file import decode_study, encode_study

    study = replace(STUDY, machine=replace(STUDY.machine, name="n" * 1000))
    assert decode_study(encode_study(study), "long") == study
