"""Every worked example in a docstring of the program, run: what documentation shows must come out."""

import doctest
from importlib import import_module
from pathlib import Path

import pytest

import profiler

HOUSE = Path(profiler.__file__).parent
SHOWING = sorted(p.relative_to(HOUSE) for p in HOUSE.rglob("*.py") if ">>> " in p.read_text(encoding="utf-8"))


@pytest.mark.parametrize("module", SHOWING, ids=str)
def test_the_examples_of_a_docstring_come_out_as_printed(module: Path) -> None:
    done = doctest.testmod(import_module(".".join(("profiler", *module.with_suffix("").parts))))
    assert done.attempted > 0 and done.failed == 0


def test_the_pages_of_the_handbook_show_examples() -> None:
    assert len(SHOWING) > 10
