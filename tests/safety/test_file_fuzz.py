"""Study files mutated at random: each is refused in one sentence, or loads whole and can be worked with."""

import json
import random

import msgspec
import pytest

from profiler.assess import Evaluation, evaluate
from profiler.study import BowlFileError, Study
from profiler.study.files import examples
from profiler.study.files.file import FORMAT, LONGEST_SENTENCE, SCHEMA, decode_study, encode_study

FEW, MANY = 400, 10_000
VALUES = (
    None, True, False, 0, -1, 1, 2.5, -0.0, 1e-300, 1e300, 2**53, 2**64, "", "x", "\ud800", "a\nb", [], {}, [[]],
    {"name": "x"}, 89.999999, -3000, 999, 1001,
)  # fmt: skip
FACTORS = (-1.0, 0.0, 1e-9, 0.5, 0.9, 1.1, 2.0, 1e6)
CODINGS = ("utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "utf-7", "cp037")
WORDS = ("wall", "axis", "Wall", "sky", "equal pitch along the wall", "listed heights")


def mutated(data: bytes, chance: random.Random) -> bytes:
    """The bytes of a study with one to three things wrong."""
    for _ in range(chance.randint(1, 3)):
        data = chance.choice(MUTATIONS)(data, chance)
    return data


def flipped(data: bytes, chance: random.Random) -> bytes:
    at = chance.randrange(len(data) or 1)
    return data[:at] + bytes([chance.randrange(256)]) + data[at + 1 :]


def cut(data: bytes, chance: random.Random) -> bytes:
    at = chance.randrange(len(data) or 1)
    return data[:at] + data[at + chance.randint(1, 200) :]


def doubled(data: bytes, chance: random.Random) -> bytes:
    at, length = chance.randrange(len(data) or 1), chance.randint(1, 200)
    return data[:at] + data[at : at + length] * 2 + data[at + length :]


def stuffed(data: bytes, chance: random.Random) -> bytes:
    at = chance.randrange(len(data) or 1)
    return data[:at] + chance.choice((b"\0", b"\xff", b"9" * 400, b"[" * 3000, b'"', b",", b"-", b"e9")) + data[at:]


def ended(data: bytes, chance: random.Random) -> bytes:
    return data[: chance.randrange(len(data) or 1)]


def recoded(data: bytes, chance: random.Random) -> bytes:
    """Written by an editor with another idea of letters."""
    return data.decode("utf-8", "replace").encode(chance.choice(CODINGS), "replace")


def twice_keyed(data: bytes, chance: random.Random) -> bytes:
    """One key stands twice in its record, with the same value or another."""
    lines = data.split(b"\n")
    at = chance.choice([i for i, line in enumerate(lines) if b'": ' in line and line.endswith(b",")] or [0])
    other = lines[at].split(b": ")[0] + chance.choice((b": 1.5,", b": null,", b': "x",'))
    return b"\n".join([*lines[:at], chance.choice((lines[at], other)), *lines[at:]])


def nested(data: bytes, chance: random.Random) -> bytes:
    """A value wrapped again and again, on both sides of what a reader follows."""
    deep = chance.choice((1, 2, 50, 500, 900, 990, 1100, 20_000))
    opening, closing = chance.choice(((b"[", b"]"), (b'{"a":', b"}")))
    return data.replace(b'"schema": 1', b'"schema": 1, "x": ' + opening * deep + b"0" + closing * deep, 1)


def reworded(data: bytes, chance: random.Random) -> bytes:
    """A word of a choice exchanged for another, known or not."""
    return data.replace(chance.choice(WORDS).encode(), chance.choice(WORDS).encode(), chance.randint(1, 3))


def revalued(data: bytes, chance: random.Random) -> bytes:
    """One value anywhere in the object, or one key, exchanged; the rest stays sound JSON."""
    try:
        raw = json.loads(data)
    except (ValueError, RecursionError):
        return data
    place = raw
    while isinstance(place, (dict, list)) and place:
        key = chance.choice(list(place)) if isinstance(place, dict) else chance.randrange(len(place))
        if not isinstance(place[key], (dict, list)) or not place[key] or chance.random() < 0.1:
            numeric = type(place[key]) is float and chance.random() < 0.6
            place[key] = place[key] * chance.choice(FACTORS) if numeric else chance.choice(VALUES)
            break
        place = place[key]
    return json.dumps(raw).encode()


MUTATIONS = (
    flipped, cut, doubled, stuffed, ended, recoded, twice_keyed, nested, reworded,
    revalued, revalued, revalued, revalued,
)  # fmt: skip


def outcome(data: bytes) -> Study | str:
    try:
        return decode_study(data, "mutant.bowl")
    except BowlFileError as error:
        return str(error)


def stands_in(written: object, held: object) -> bool:
    """Whether everything a file says is what the study holds: nothing dropped, nothing mended."""
    if isinstance(written, dict):
        return isinstance(held, dict) and all(stands_in(value, held[key]) for key, value in written.items())
    if isinstance(written, list):
        return len(written) == len(held) and all(stands_in(*pair) for pair in zip(written, held, strict=True))
    return written == held


def feed(seed: int, count: int) -> tuple[int, int]:
    """How many were refused and how many loaded; each is judged on the way."""
    chance = random.Random(seed)
    sound = [encode_study(examples.read(name)) for name in examples.names()]
    refused = loaded = 0
    for _ in range(count):
        data = mutated(chance.choice(sound), chance)
        came = outcome(data)
        if isinstance(came, str):
            refused += 1
            assert came.startswith("mutant.bowl") and len(came) <= LONGEST_SENTENCE and came.isprintable(), came
        else:
            loaded += 1
            assert decode_study(encode_study(came), "again") == came
            written = json.loads(data)
            assert written["schema"] in range(1, SCHEMA + 1)  # an older one is read too, and nothing of it is lost
            assert stands_in(written, msgspec.to_builtins(came) | {"format": FORMAT, "schema": written["schema"]})
            assert isinstance(evaluate(came.design, came.machine, came.duty), Evaluation)
    return refused, loaded


def test_mutated_files_are_refused_in_a_sentence_or_load_whole() -> None:
    refused, loaded = feed(1, FEW)
    assert refused > FEW // 5 and loaded > FEW // 50  # both ways were really taken


@pytest.mark.long
def test_ten_thousand_mutated_files_are_refused_in_a_sentence_or_load_whole() -> None:
    refused, loaded = feed(2, MANY)
    print(f"{refused} refused, {loaded} loaded")
    assert refused > MANY // 5 and loaded > MANY // 50
