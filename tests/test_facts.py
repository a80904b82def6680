"""What may stand in one place only: colours, keys, settings, message boxes, the number of lessons.

Read from the program text itself. Each finder is shown, beside its check, to find what it is there for.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import profiler
from tests.tiers import each

HOUSE = Path(profiler.__file__).parent
ROOT = HOUSE.parent
PALETTE, KEYS = "pictures/basics/palette.py", "ui/widgets/keys.py"
SETTINGS, BOX = "ui/files/settings.py", "ui/dialogs/box.py"
MODULES = {p.relative_to(HOUSE).as_posix(): p.read_text(encoding="utf-8") for p in HOUSE.rglob("*.py")}
PAGES = {p.name: p.read_text(encoding="utf-8") for p in (HOUSE / "data").rglob("*.html")}

HEX = re.compile(r"(?<![\w&])#(?:[0-9a-fA-F]{8}|[0-9a-fA-F]{6}|[0-9a-fA-F]{3})\b")
NAMES = "white|black|red|green|blue|yellow|orange|purple|brown|gr[ae]y|silver|navy|maroon|teal"
IN_STYLE = re.compile(
    rf"\b(?:color|background|fill|stroke|border[\w-]*)\s*[:=]\s*[\"']?[\w .]*\b(?:{NAMES})\b|\brgba?\("
)
PAINTED = re.compile(r".*(?:colou?r|colors|foreground)$", re.IGNORECASE)


def strings_in(text: str) -> list[str]:
    nodes = ast.walk(ast.parse(text))
    return [n.value for n in nodes if isinstance(n, ast.Constant) and isinstance(n.value, str)]


def colours_in(text: str) -> Iterator[str]:
    """Colours written out in a module: in strings, in style sheets, as arguments of what paints."""
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield from (m.group() for m in (*HEX.finditer(node.value), *IN_STYLE.finditer(node.value)))
        if isinstance(node, ast.Attribute) and node.attr == "GlobalColor":
            yield "GlobalColor"
        if isinstance(node, ast.Call):
            yield from _painted(node)


def _painted(call: ast.Call) -> Iterator[str]:
    name = call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")
    given = [k.value for k in call.keywords if k.arg is not None and PAINTED.match(k.arg)]
    given += call.args if PAINTED.match(name) else []
    for value in given:
        written = isinstance(value, ast.Constant) and (isinstance(value.value, str) or name == "QColor")
        if written and value.value != "none":
            yield f"{name}({value.value!r})"


@pytest.mark.parametrize(
    "text",
    ['x = "#a4161a"', 'x = f"td {{ color: #eee; }}"', "QColor(1, 2, 3)", 'figure.set_facecolor("white")',
     'add(colors="black")', "x = '<rect fill=\"white\"/>'", 'x = "border: 1px solid black"', "Qt.GlobalColor.red"],
)  # fmt: skip
def test_a_colour_is_found_where_there_is_one(text: str) -> None:
    assert list(colours_in(text))


@pytest.mark.parametrize(
    "text", ['x = "#stripHeader { border: 0 }"', 'f(facecolor="none")', 'x = f"color: {theme.text}"', "QColor(name)",
             'x = "color: var(--text)"', 'x = "&#160;"', 'x = "a black cone"'],
)  # fmt: skip
def test_what_is_no_colour_is_left_alone(text: str) -> None:
    assert not list(colours_in(text))


@each(sorted(set(MODULES) - {PALETTE}))
def test_no_colour_is_written_outside_the_palette(module: str) -> None:
    assert list(colours_in(MODULES[module])) == []


def test_no_page_of_the_help_has_a_colour_of_its_own() -> None:
    assert PAGES and not any(HEX.search(text) or IN_STYLE.search(text) for text in PAGES.values())


@pytest.mark.parametrize(
    ("word", "home"),
    [
        (r"Qt\.Key\b|\.key\(\)|\.matches\(|QShortcut", KEYS),  # keys are answered by their table
        (r"QSettings", SETTINGS),
        (r"QMessageBox", BOX),
    ],
)
def test_it_stands_in_one_file_alone(word: str, home: str) -> None:
    found = {m for m, text in MODULES.items() if m.startswith("ui/") and re.search(word, text)}
    assert found == {home}


NUMBER = r"(?:\d+|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)"
COUNTED = re.compile(rf"\b{NUMBER}\s+(?:\w+\s+)?lessons\b|\blessons\W{{1,8}}{NUMBER}\b", re.IGNORECASE)


@pytest.mark.parametrize("text", ["Six short lessons", "6 lessons", "**Study > Lessons**: six short ones"])
def test_a_typed_number_of_lessons_is_found_where_there_is_one(text: str) -> None:
    assert COUNTED.search(text)


def test_the_number_of_lessons_is_counted_and_never_typed() -> None:
    prose = {name: (ROOT / name).read_text(encoding="utf-8") for name in ("README.md", "DEVELOPERS.md")}
    said = {name: "\n".join(strings_in(text)) for name, text in MODULES.items()}
    assert [name for name, text in {**said, **PAGES, **prose}.items() if COUNTED.search(text)] == []


TESTS = {p.relative_to(ROOT).as_posix(): p.read_text(encoding="utf-8") for p in Path(__file__).parent.rglob("*.py")}


@pytest.mark.parametrize("word", ["perf_counter", "monotonic", "process_time", "import" + "orskip"])
def test_no_test_passes_or_fails_by_the_clock_nor_is_passed_over_for_want_of_a_package(word: str) -> None:
    """How long things take stands in the benchmarks; what a test needs stands in the [test] extra."""
    tests = {name for name in TESTS if not name.startswith("tests/benchmarks/") and name != "tests/test_facts.py"}
    assert [name for name in sorted(tests) if word in TESTS[name]] == []
