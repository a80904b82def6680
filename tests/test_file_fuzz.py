"""Study files mutated at random: each is refused in one sentence, or loads whole and can be worked with."""

import json
import random

import pytest

from profiler.assess import Evaluation, evaluate
from profiler.study import BowlFileError, Study, examples
from profiler.study.file import LONGEST_SENTENCE, decode_study, encode_study

FEW, MANY = 400, 10_000
VALUES = (
    None, True, False, 0, -1, 1, 2.5, -0.0, 1e-300, 1e300, 2**53, 2**64, "", "x", "\ud800", "a\nb", [], {}, [[]],
    {"name": "x"}, 89.999999, -3000, 999, 1001,
)  # fmt: skip
FACTORS = (-1.0, 0.0, 1e-9, 0.5, 0.9, 1.1, 2.0, 1e6)


def mutated(data: bytes, chance: random.Random) -> bytes:
    """The bytes of a study with one to three things wrong."""
    for _ in range(chance.randint(1, 3)):
        data = chance.choice((flipped, cut, doubled, stuffed, ended, revalued, revalued, revalued))(data, chance)
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


def outcome(data: bytes) -> Study | str:
    try:
        return decode_study(data, "mutant.bowl")
    except BowlFileError as error:
        return str(error)


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
