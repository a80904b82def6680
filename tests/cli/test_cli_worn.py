"""worn in the terminal: a profile read, asked about and kept; its bowl beside new; one sentence for what fails."""

import json

import pytest

from profiler.assess.shape.shape_stage import shape_of
from profiler.assess.worn.wear import PROMISE
from profiler.cli.main import main
from profiler.study import read_study, write_study
from profiler.study.files.examples import read

SHAPE = shape_of(read("graded").design, read("graded").machine)[0]
LANDS = [0.5 * (low + high) for low, high in zip(SHAPE.mouths.upper[:-1], SHAPE.mouths.lower[1:], strict=True)]
ROWS = [(float(SHAPE.wall.radius_at(z)) + 0.9 + 0.002 * z, z) for z in LANDS[::2]] + [(218.5, 330.0)]
POINTS = "r mm,z mm\n" + "".join(f"{r:.3f},{z:.3f}\n" for r, z in ROWS)


@pytest.fixture(scope="module")
def file(tmp_path_factory):
    path = tmp_path_factory.mktemp("worn") / "study.bowl"
    write_study(read("graded"), path)
    return path


@pytest.fixture
def points(tmp_path):
    path = tmp_path / "points.csv"
    path.write_text(POINTS)
    return str(path)


def test_a_profile_is_kept_and_its_bowl_seen_worn(file, points, tmp_path, capsys):
    out = tmp_path / "measured.bowl"
    measured = ("--read", points, "--serial", "A1", "--date", "2026-03-31", "--age", "2000", "--how", "invented")
    assert main(["worn", str(file), *measured, "--keep-as", "Worn", "--save", str(out)]) == 0
    said = capsys.readouterr().out
    first = said[: said.index("Rate:")]
    assert "after 2000 h" in first and "±" in first and "New beside worn" in said
    assert " ".join(said.split()).count(PROMISE) == 1 and "licensed engineer" in said
    study = read_study(out)
    assert study.profiles[0].name == "A1, 2000 h" and study.profiles[0].design == study.designs[0]
    assert study.design.name == "Worn" and len(study.profiles[0].points) == len(ROWS)


def test_as_json_it_has_the_keys_that_were_promised(file, points, capsys):
    assert main(["worn", str(file), "--rate", "0.3..0.5", "--hours", "3000", "--limit", "4", "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["profile"] is None and answer["accepted"] is None and answer["promise"] == PROMISE
    assert answer["rate"]["mm_per_1000_h"] == [pytest.approx(0.4)] and "8000 h to 13" in answer["until"]
    assert answer["worn"]["gone_mm"] == pytest.approx(1.2) and answer["worn"]["plus_minus_mm"] == pytest.approx(0.3)
    mass = answer["worn"]["quantities"]["mass_kg"]
    assert mass["worn"] < mass["new"] and answer["lands"][0]["without_mm"][1] < answer["lands"][0]["deepest_bed_mm"][1]


@pytest.mark.parametrize("age", ["0", "2000"])
@pytest.mark.parametrize("doubt", [("--tolerance", "-1"), ("--tolerance", "0"), ("--off-by", "-1")])
def test_a_doubt_below_nothing_is_refused_whatever_the_age(file, points, capsys, age, doubt):
    """Taken off the rate's band it would make the bowl last longer the less is known."""
    assert main(["worn", str(file), "--read", points, "--age", age, "--hours", "3000", "--rate", "0.4", *doubt]) == 2
    assert "A tolerance is above 0 mm" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (("--rate", "50:5,50:1"), "one height twice"),
        (("--rate", "0.4", "--keep-as", "Worn"), "--save"),
        (("--rate", "0.4", "--keep-as", " ", "--save", "never.bowl"), "name"),
    ],
)
def test_nothing_asked_is_dropped_without_a_word(file, capsys, more, words):
    assert main(["worn", str(file), "--hours", "300", *more]) == 2
    assert words in capsys.readouterr().err


def test_a_new_casting_that_is_refused_exits_with_1(file, points, capsys):
    assert main(["worn", str(file), "--read", points, "--json"]) == 1
    answer = json.loads(capsys.readouterr().out)
    assert answer["accepted"] is False and answer["worn"] is None and len(answer["profile"]["deviations"]) == len(ROWS)


@pytest.mark.parametrize(
    ("text", "words", "said"),
    [
        ("", (), "nothing in"),
        ("r,z\n4.7,0\n6,4\n8.56,12.99\n", (), "--unit"),
        ("r mm,z\n217,0\n200,100\n160,250\n120,330\n", (), "--upside-down"),
        (POINTS, ("--date", "yesterday"), "not a day"),
        (POINTS, ("--age", "long"), "not a number"),
        (POINTS, ("--tolerance", "0"), "above 0"),
        (POINTS, ("--hours", "100"), "need a rate"),
        (POINTS, ("--limit", "3"), "needs a rate"),
        (POINTS, ("--rate", "0.4", "--limit", "gold>=3"), "no quantity"),
        (POINTS, ("--against", "B7"), "no profile"),
        (POINTS, ("--keep-as", "Worn"), "no worn bowl"),
        (POINTS, ("--age", "2000", "--hours", "1000"), "lie before"),
        (POINTS, ("--rate", "40", "--hours", "9000"), "more than the wall's"),
    ],
)  # fmt: skip
def test_what_cannot_be_used_is_one_sentence(file, tmp_path, capsys, text, words, said):
    path = tmp_path / "points.csv"
    path.write_text(text)
    assert main(["worn", str(file), "--read", str(path), *words]) == 2
    told = capsys.readouterr().err
    assert said in told and told.count("\n") == 1
