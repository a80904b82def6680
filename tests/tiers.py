"""Which cases of a test run every time, and which in the long tier only; many small cases run as one test."""

from collections.abc import Callable, Iterable, Sequence
from typing import Any

import pytest

from profiler.study.files import examples

TWO = ("graded", "watered")


def two_examples() -> list[Any]:
    """Every example as a parameter; what draws or writes long sheets meets two of them in every run."""
    return kept(examples.names(), TWO)


def of_two_examples(cases: Iterable[tuple[Any, ...]]) -> list[Any]:
    """The same for a fixture's cases that begin with an example's name."""
    return [case if case[0] in TWO else pytest.param(case, marks=pytest.mark.long) for case in cases]


def kept(cases: Iterable[Any], every_run: Sequence[Any]) -> list[Any]:
    """All of `cases` as parameters; those not of `every_run`, which start a program or fill a page, are marked long."""
    cases = list(cases)
    assert all(case in cases for case in every_run)
    return [case if case in every_run else _long(case) for case in cases]


def _long(case: Any) -> Any:
    return pytest.param(*(case if isinstance(case, tuple) else (case,)), marks=pytest.mark.long)


def each(cases: Iterable[Any]) -> Callable[[Callable[[Any], None]], Callable[[], None]]:
    """One test over all the cases, naming every one that fails: thousands of tests of a moment each cost a minute."""
    cases = list(cases)

    def over_all(test: Callable[[Any], None]) -> Callable[[], None]:
        def whole() -> None:
            faults = []
            for case in cases:
                try:
                    test(case)
                except AssertionError as fault:
                    faults.append(f"{case}: {fault}")
            assert cases and not faults, "\n".join(faults)

        whole.__name__, whole.__doc__ = test.__name__, test.__doc__
        return whole

    return over_all
