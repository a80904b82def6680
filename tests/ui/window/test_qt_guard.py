"""A guard against a Qt release that kills the program in long use.

In PySide6 6.12.0 every Qt call that returns nothing gives back one reference to None too many. On Python 3.11
the interpreter ends with "deallocating None" once the few thousand it started with are used up, while a short
test run stays green. From Python 3.12 on None is immortal (PEP 683), so nothing is lost and nothing can be
seen. Measured on Python 3.11: one lost in each call with 6.12.0, none with 6.11.3; hence the exact version in
pyproject.toml. This test tells whether a newer release may be taken.
"""

import sys

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

CALLS = 500
NOISE = 50  # references to None that come and go in the interpreter meanwhile


@pytest.mark.skipif(sys.version_info >= (3, 12), reason="None is immortal from Python 3.12 on")
def test_qt_calls_do_not_lose_references_to_none(qtbot: QtBot) -> None:
    widget = QWidget()
    qtbot.addWidget(widget)
    before = sys.getrefcount(None)
    for _ in range(CALLS):
        widget.update()
    assert sys.getrefcount(None) > before - NOISE
