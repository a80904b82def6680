"""One walk over the accessibility bus, as a screen reader goes: the program itself, on an X display, read from outside.

The interface of Qt (tests/ui/access/test_everywhere.py) is the test of record; this shows that it arrives at the bus.
Skipped, with the reason, where a tool is absent or the bus cannot be started.
"""

import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from profiler.study import write_study
from profiler.study.files import examples
from profiler.ui import page_stack
from tests.conftest import FOLDER_VARIABLES, HOME_VARIABLES
from tests.ui.safety.test_hands_on_x import PROGRAM, display

TOOLS = ("Xvfb", "xdotool", "dbus-daemon", "busctl")
pytestmark = [
    pytest.mark.long,
    pytest.mark.skipif(any(shutil.which(tool) is None for tool in TOOLS), reason=f"needs {', '.join(TOOLS)}"),
]
ROOT = "/org/a11y/atspi/accessible/root"
ACCESSIBLE = "org.a11y.atspi.Accessible"
REGISTRY = "org.a11y.atspi.Registry"
TO_IT = ("search", "--name", "Bowl Profiler", "windowfocus", "--sync")  # there is no window manager to do it
MOST = 900  # things of a tree
Node = tuple[str, str]  # name on the bus, path


@contextmanager
def session(surroundings: dict[str, str]) -> Iterator[dict[str, str]]:
    """A bus of its own, with the accessibility bus beside it; skips where that is not to be had."""
    words = ["dbus-daemon", "--session", "--print-address", "--nofork"]
    pipe, quiet = subprocess.PIPE, subprocess.DEVNULL
    with subprocess.Popen(words, stdout=pipe, stderr=quiet, text=True, env=surroundings) as daemon:
        assert daemon.stdout is not None
        inside = surroundings | {"DBUS_SESSION_BUS_ADDRESS": daemon.stdout.readline().strip()}
        try:
            asked = ["busctl", "--user", "--json=short", "call", "org.a11y.Bus", "/org/a11y/bus", "org.a11y.Bus"]
            told = subprocess.run([*asked, "GetAddress"], capture_output=True, text=True, env=inside, check=False)
            if told.returncode:
                pytest.skip(f"the accessibility bus cannot be started: {told.stderr.strip()}")
            yield inside | {"A11Y": json.loads(told.stdout)["data"][0], "QT_LINUX_ACCESSIBILITY_ALWAYS_ON": "1"}
        finally:
            daemon.terminate()


class Bus:
    """Questions to what is on the bus."""

    def __init__(self, surroundings: dict[str, str]) -> None:
        self._asked = ["busctl", f"--address={surroundings['A11Y']}", "--json=short"]

    def _ask(self, *words: str) -> object:
        told = subprocess.run([*self._asked, *words], capture_output=True, text=True, timeout=20, check=False)
        return json.loads(told.stdout)["data"] if told.returncode == 0 else None

    def children(self, node: Node) -> list[Node]:
        told = self._ask("call", *node, ACCESSIBLE, "GetChildren")
        return [(name, path) for name, path in told[0]] if isinstance(told, list) else []

    def name(self, node: Node) -> str:
        return str(self._ask("get-property", *node, ACCESSIBLE, "Name"))

    def tree(self, node: Node) -> dict[Node, str]:
        """Names of all that can be reached from here."""
        found, waiting = dict[Node, str](), [node]
        while waiting and len(found) < MOST:
            one = waiting.pop(0)
            if one not in found:
                found[one] = self.name(one)
                waiting += self.children(one)
        return found


def program_on(bus: Bus) -> Node:
    """The program's own root, once it has told the registry of itself."""
    for _ in range(100):
        there = bus.children((REGISTRY, ROOT))
        if there:
            return there[0]
        time.sleep(0.2)
    pytest.fail("the program did not come onto the accessibility bus")


def test_a_screen_reader_finds_the_pages_and_hears_the_chosen_knot(tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.mkdir(mode=0o700)
    study = tmp_path / "mine.bowl"
    write_study(examples.read(examples.DEFAULT), study)
    own = dict.fromkeys((*HOME_VARIABLES, *FOLDER_VARIABLES), str(home))
    with display() as screen, session(os.environ | {"DISPLAY": screen, "QT_QPA_PLATFORM": "xcb"} | own) as inside:
        pipe = subprocess.PIPE
        with subprocess.Popen([sys.executable, "-c", PROGRAM, str(study)], stdout=pipe, text=True, env=inside) as run:
            assert run.stdout is not None
            try:
                assert run.stdout.readline() == "begun\n"
                bus = Bus(inside)
                found = bus.tree(program_on(bus))
                names = set(found.values())
                assert {entry.title for entry in page_stack.PAGES} | {"Export section…"} <= names, sorted(names)
                strip = next(node for node, name in found.items() if name.partition(":")[0] == "Wall angle")
                subprocess.run(["xdotool", *TO_IT, "key", "Tab"], env=inside, check=False)
                heard = ""
                for _ in range(50):
                    heard = bus.name(strip)
                    if "knot" in heard:
                        break
                    time.sleep(0.1)
                assert heard.startswith("Wall angle: knot 1 of 4")
                print(f"on the accessibility bus: {len(found)} things, {sum(map(bool, found.values()))} with a name")
            finally:
                run.terminate()
                run.communicate(timeout=30)
