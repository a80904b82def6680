"""Files as other programs leave them: other letters, keys twice, numbers and nestings without end, no plain files.

Each is refused in one sentence that says what is the matter, or loads as what it says. What could not be read again is
not written either.
"""

import json
import os
import sys
from collections.abc import Iterator
from pathlib import Path

import msgspec
import pytest
from msgspec.structs import replace

from profiler.study import BowlFileError, Knot, Study, read_study, write_study
from profiler.study.edits import design_edits as edits
from profiler.study.files import examples
from profiler.study.files.file import LARGEST_INTEGER, LONGEST_SENTENCE, MOST, decode_study, encode_study

STUDY = examples.read("graded")
GOOD = encode_study(STUDY)


def refused(data: bytes) -> str:
    with pytest.raises(BowlFileError) as caught:
        decode_study(data, "odd.bowl")
    sentence = str(caught.value)
    assert sentence.startswith("odd.bowl") and sentence.endswith(".")
    assert sentence.isprintable() and len(sentence) <= LONGEST_SENTENCE
    return sentence


def with_text(old: str, new: str) -> bytes:
    assert old.encode() in GOOD
    return GOOD.replace(old.encode(), new.encode(), 1)


# letters


@pytest.mark.parametrize("coding", ["utf-16", "utf-16-le", "utf-16-be", "utf-32", "utf-32-le", "utf-32-be"])
def test_wide_letters_are_refused_as_such(coding: str) -> None:
    sentence = refused(GOOD.decode().encode(coding))
    assert "UTF-8" in sentence or "not a study file" in sentence


def test_a_byte_order_mark_before_utf_8_does_no_harm() -> None:
    assert decode_study(GOOD.decode().encode("utf-8-sig"), "odd.bowl") == STUDY


def test_other_line_ends_do_no_harm() -> None:
    assert decode_study(GOOD.replace(b"\n", b"\r\n"), "odd.bowl") == STUDY


@pytest.mark.parametrize("half", [b"\\ud800", b"\\udc00", b"\\ud800\\ud800", b"\xed\xa0\x80", b"\xff", b"\xc3"])
def test_half_a_character_is_refused(half: bytes) -> None:
    refused(GOOD.replace(b"Plain cone", half, 1))


def test_letters_beyond_the_basic_plane_are_kept() -> None:
    name = "Kegel \U0001f9ea \u0e01 \u05d0\u200f"
    study = edits.with_design(STUDY, replace(STUDY.design, name=name))
    assert decode_study(encode_study(study), "odd.bowl").design.name == name
    escaped = json.dumps(json.loads(encode_study(study))).encode("ascii")  # pairs of \u escapes
    assert decode_study(escaped, "odd.bowl") == study


def test_names_with_line_breaks_do_not_break_the_sentence() -> None:
    twice = with_text('"Plain cone"', '"two\\nlines"').replace(b'"Graded, first try"', b'"two\\nlines"')
    assert r"two\nlines" in refused(twice)
    assert r"a\tb" in refused(with_text('"schema": 3', '"schema": 3, "a\\tb": 2'))


# keys twice


@pytest.mark.parametrize(
    ("once", "twice"),
    [
        ('"schema": 3', '"schema": 3, "schema": 3'),
        ('"schema": 3', '"title": "another", "schema": 3'),
        ('"lip_radius_mm": 217.6', '"lip_radius_mm": 217.6, "lip_radius_mm": 100'),
        ('"speed_rpm": 580.0', '"speed_rpm": 580.0, "speed_rpm": 580.0'),
        ('"name": "Plain cone"', '"name": "Plain cone", "n\\u0061me": "Plain cone"'),
    ],
)
def test_a_key_that_stands_twice_is_refused_by_name(once: str, twice: str) -> None:
    assert "twice in one record" in refused(with_text(once, twice))


# numbers


@pytest.mark.parametrize("digits", [17, 25, 309, 400, 4299, 4300, 4301, 100_000])
def test_whole_numbers_without_end_are_refused(digits: int) -> None:
    for sign in ("", "-"):
        refused(with_text('"count": 14', f'"count": {sign}{"9" * digits}'))
        refused(with_text('"schema": 3', f'"schema": {sign}{"9" * digits}'))


def test_the_largest_whole_number_is_a_finding_and_no_failure() -> None:
    study = decode_study(with_text('"count": 14', f'"count": {LARGEST_INTEGER}'), "odd.bowl")
    assert study.designs[0].grooves.count == LARGEST_INTEGER


@pytest.mark.parametrize(
    "number", ["NaN", "Infinity", "-Infinity", "1e400", "-1e400", "1e999999999", "0x10", "01", "1."]
)
def test_what_is_no_number_of_json_is_refused(number: str) -> None:
    refused(with_text('"speed_rpm": 580.0', f'"speed_rpm": {number}'))


@pytest.mark.parametrize("number", ["1e308", "-1e308", "5e-324", "-0", "1e-999999"])
def test_very_large_and_very_small_numbers_load_as_they_are(number: str) -> None:
    study = decode_study(with_text('"speed_rpm": 580.0', f'"speed_rpm": {number}'), "odd.bowl")
    assert study.duties[0].speed_rpm == float(number)
    assert decode_study(encode_study(study), "again") == study


# nesting, length, count


@pytest.mark.parametrize("deep", [10, 500, *range(900, 1000, 10), 1100, 100_000])
def test_nesting_without_end_is_refused(deep: int) -> None:
    for opening, closing in (("[", "]"), ('{"a":', "}")):
        refused(with_text('"schema": 3', f'"schema": 3, "x": {opening * deep}0{closing * deep}'))
        refused((opening * deep + "0" + closing * deep).encode())


def test_endless_words_are_cut_short_in_the_sentence() -> None:
    assert refused(with_text('"schema": 3', f'"schema": 3, "{"k" * 1_000_000}": 1')).endswith("….")


def crowded() -> Iterator[tuple[str, Study]]:
    design, count = STUDY.design, MOST + 1
    height = design.wall.height_mm
    knots = tuple(Knot(height * i / MOST, 10.0) for i in range(count))
    yield "knots", edits.with_design(STUDY, edits.with_knots(design, knots))
    yield (
        "groove heights",
        edits.with_design(STUDY, edits.with_grooves(design, replace(design.grooves, heights_mm=(1.0,) * count))),
    )
    yield "designs", replace(STUDY, designs=tuple(replace(design, name=str(i)) for i in range(count)))
    yield "duties", replace(STUDY, duties=tuple(replace(STUDY.duty, name=str(i)) for i in range(count)))


@pytest.mark.parametrize(("what", "study"), list(crowded()), ids=lambda value: value if isinstance(value, str) else "")
def test_more_than_can_be_worked_with_is_neither_read_nor_written(tmp_path: Path, what: str, study: Study) -> None:
    raw = json.loads(GOOD) | unchecked(study)
    assert f"{MOST + 1} {what}" in refused(json.dumps(raw).encode())
    assert f"{MOST + 1} {what}" in not_written(tmp_path, study)


def unchecked(study: Study) -> dict[str, object]:
    return json.loads(msgspec.json.encode(study))


# what could not be read again is not written


def not_written(folder: Path, study: Study) -> str:
    path = folder / "kept.bowl"
    path.write_bytes(GOOD)
    with pytest.raises(BowlFileError) as caught:
        write_study(study, path)
    assert path.read_bytes() == GOOD and list(folder.iterdir()) == [path]
    assert str(caught.value).startswith("kept.bowl") and str(caught.value).endswith(".")
    return str(caught.value)


def test_two_designs_of_one_name_are_not_written(tmp_path: Path) -> None:
    study = replace(STUDY, designs=(STUDY.design, STUDY.design))
    assert STUDY.design.name in not_written(tmp_path, study)


def test_half_a_character_is_not_written(tmp_path: Path) -> None:
    assert "study.title" in not_written(tmp_path, replace(STUDY, title="half \ud83e"))


# no plain files


@pytest.mark.skipif(sys.platform == "win32", reason="has no such files")
def test_what_is_no_plain_file_is_refused_and_not_waited_for(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe.bowl"
    os.mkfifo(pipe)
    for path in (pipe, Path("/dev/zero")):
        with pytest.raises(BowlFileError, match="not a plain file"):
            read_study(path)
    with pytest.raises(BowlFileError, match="left alone"):
        write_study(STUDY, pipe)
    assert pipe.is_fifo()


@pytest.mark.skipif(sys.platform == "win32", reason="links need rights there")
def test_a_link_that_leads_round_in_a_circle_is_refused(tmp_path: Path) -> None:
    one, other = tmp_path / "one.bowl", tmp_path / "other.bowl"
    one.symlink_to(other)
    other.symlink_to(one)
    with pytest.raises(BowlFileError, match=r"one\.bowl"):
        read_study(one)


def test_the_longest_name_a_folder_takes_can_be_written(tmp_path: Path) -> None:
    path = tmp_path / ("n" * 250 + ".bowl")
    write_study(STUDY, path)
    assert read_study(path) == STUDY and list(tmp_path.iterdir()) == [path]
