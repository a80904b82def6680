"""What tests lean on: a failing case among many is named, and every case left out of a short list stays in the long."""

import pytest

from tests.tiers import each, kept


def test_every_case_that_fails_is_named() -> None:
    @each((1, 2, 3, 4))
    def even(number: int) -> None:
        assert number % 2 == 0

    with pytest.raises(AssertionError, match=r"(?s)1: .*3: "):
        even()


def test_no_cases_are_a_fault_too() -> None:
    @each(())
    def nothing(_: object) -> None: ...

    with pytest.raises(AssertionError):
        nothing()


def test_all_cases_stay_and_the_others_are_long() -> None:
    first, second = kept(("a", "b"), ["b"])
    assert second == "b" and first.values == ("a",) and first.marks[0].name == "long"
