"""Which cases of a test run every time, and which in the long tier only."""

from collections.abc import Iterable, Sequence
from typing import Any

import pytest


def kept(cases: Iterable[Any], every_run: Sequence[Any]) -> list[Any]:
    """All of `cases` as parameters; those not of `every_run`, which start a program or fill a page, are marked long."""
    cases = list(cases)
    assert all(case in cases for case in every_run)
    return [case if case in every_run else _long(case) for case in cases]


def _long(case: Any) -> Any:
    return pytest.param(*(case if isinstance(case, tuple) else (case,)), marks=pytest.mark.long)
