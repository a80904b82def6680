"""The house: which room may use which, what may be imported where, and how long a file or a function may be.

Arrows run downward only. A room may use any room below it; the four on the ground know nothing of each other; units,
numbers, words and the progress records belong to everybody. Inside a room the folders stand above each other too, and
no two files lean on one another, by whatever detour. Read from the program text itself, for every module.
"""

import ast
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from statistics import median

import profiler
from tests.house_names import unused
from tests.tiers import each

HOUSE = Path(profiler.__file__).parent
MODULES = sorted(p.relative_to(HOUSE) for p in HOUSE.rglob("*.py"))

GROUND = ("study", "geometry", "physics", "statistics")
FLOORS = (GROUND, ("assess",), ("explore",), ("pictures",), ("output", "lessons"))
TOP = ("ui", "cli")
EVERYBODYS = ("units", "numbers", "progress", "words")
FLOOR_OF = {room: floor for floor, rooms in enumerate((*FLOORS, TOP)) for room in rooms}

AT_HOME = {  # heavy packages and the rooms they live in
    "PySide6": ("ui",),
    "shiboken6": ("ui",),
    "shapely": ("geometry",),
    "skfem": ("physics",),
    "ezdxf": ("output", "assess"),  # output writes drawings, assess reads what a machine or a bowl is in one
    "matplotlib": ("output", "ui"),
}
ANY_ALLOWED = (Path("study/files/file.py"),)  # where JSON is decoded
MOST_LINES = 400
MOST_FILES_OF_A_FOLDER = 20
MOST_LINES_OF_A_FUNCTION = 60


@dataclass(frozen=True, slots=True)
class Import:
    """One import of a module, by its full name, and whether it waits inside a function or serves types only."""

    target: str
    inside_function: bool
    types_only: bool


@cache
def parsed(module: Path) -> ast.Module:
    return ast.parse((HOUSE / module).read_text(encoding="utf-8"))


def room_of(module: Path) -> str:
    return module.parts[0].removesuffix(".py")


@cache
def imports_of(module: Path) -> tuple[Import, ...]:
    here = ("profiler", *module.parts[:-1])
    return tuple(_imports(parsed(module), here, False, False))


def _imports(node: ast.AST, here: tuple[str, ...], inside: bool, types_only: bool) -> Iterator[Import]:
    if isinstance(node, ast.Import):
        yield from (Import(alias.name, inside, types_only) for alias in node.names)
    if isinstance(node, ast.ImportFrom):
        base = ".".join(here[: len(here) - node.level + 1]) if node.level else ""
        module = ".".join(part for part in (base, node.module) if part)
        yield from (Import(f"{module}.{alias.name}", inside, types_only) for alias in node.names)
    inside = inside or isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda)
    types_only = types_only or (isinstance(node, ast.If) and ast.unparse(node.test).endswith("TYPE_CHECKING"))
    for child in ast.iter_child_nodes(node):
        yield from _imports(child, here, inside, types_only)


def room_in(target: str) -> str | None:
    """The room an import of ours leads to; None for other people's packages."""
    parts = target.split(".")
    return parts[1] if parts[0] == "profiler" and len(parts) > 1 else None


def test_the_program_has_the_modules_this_file_speaks_of() -> None:
    assert len(MODULES) > 80
    assert {room_of(m) for m in MODULES} >= {"study", "geometry", "physics", "statistics", "assess", "pictures", "ui"}


def test_every_room_has_its_floor() -> None:
    rooms = {room_of(m) for m in MODULES} - {"__init__", "__main__", "data", *EVERYBODYS}
    assert rooms <= set(FLOOR_OF)


@each(MODULES)
def test_the_module_uses_only_rooms_below_its_own(module: Path) -> None:
    room = room_of(module)
    for found in imports_of(module):
        used = room_in(found.target)
        if used is None or used == room or used in EVERYBODYS or used == "__version__":
            continue
        if room == "__main__":
            assert used == "cli", found
            continue
        assert room in FLOOR_OF, f"{module} belongs to everybody and imports {found.target}"
        if (room, used) == ("cli", "ui"):
            assert found.inside_function, "the terminal loads the window only when it opens one"
            continue
        assert FLOOR_OF[used] < FLOOR_OF[room], f"{module} imports {found.target}, which does not lie below it"


def name_of(module: Path) -> str:
    return ".".join(("profiler", *module.with_suffix("").parts))


NAMES = {name_of(m) for m in MODULES}


def files_used_by(module: Path) -> Iterator[str]:
    """Full names of our own files it imports, whenever and wherever; a name from a package's face leads to the face."""
    for found in imports_of(module):
        for target in (found.target, found.target.rpartition(".")[0]):
            if target in NAMES or f"{target}.__init__" in NAMES:
                yield target if target in NAMES else f"{target}.__init__"
                break


def circle_in(arrows: dict[str, set[str]]) -> list[str] | None:
    """A way that leads back to its start, or None."""
    done: set[str] = set()

    def walk(here: str, way: list[str]) -> list[str] | None:
        if here in way:
            return [*way[way.index(here) :], here]
        if here in done:
            return None
        for there in sorted(arrows.get(here, ())):
            found = walk(there, [*way, here])
            if found:
                return found
        done.add(here)
        return None

    return next((found for start in sorted(arrows) if (found := walk(start, []))), None)


def test_a_circle_is_found_where_there_is_one() -> None:
    assert circle_in({"a": {"b"}, "b": {"c"}, "c": {"b"}}) == ["b", "c", "b"]
    assert circle_in({"a": {"b", "c"}, "b": {"c"}, "c": set()}) is None


def test_no_two_files_lean_on_one_another() -> None:
    assert circle_in({name_of(m): set(files_used_by(m)) for m in MODULES}) is None


def test_no_two_folders_lean_on_one_another() -> None:
    arrows: dict[str, set[str]] = {}
    for module in MODULES:
        here = name_of(module).rpartition(".")[0]
        if module.name != "__init__.py":
            used = {name.rpartition(".")[0] for name in files_used_by(module) if not name.endswith("__init__")}
            arrows.setdefault(here, set()).update(used - {here, "profiler"})
    arrows.pop("profiler")  # what lies there belongs to everybody, or starts the program
    assert circle_in(arrows) is None


NAMED_AS_TYPED = ("cli", "ui")  # commands are named as one types them; pages not yet apart from what they show


@each([m for m in MODULES if room_of(m) not in NAMED_AS_TYPED])
def test_no_two_files_of_one_name_meet_in_a_file(module: Path) -> None:
    """Neither among what it imports nor with itself: 'sizes' in one sentence must be one thing."""
    met = {*files_used_by(module), name_of(module)} - {
        name for name in files_used_by(module) if name.endswith("__init__")
    }
    names = [name.rpartition(".")[2] for name in met]
    assert {name for name in names if names.count(name) > 1} == set()


@each([m for m in MODULES if m.name != "__init__.py"])
def test_nobody_comes_in_by_the_front_door_of_the_own_room(module: Path) -> None:
    """A room's face hands names to others; used inside, it would load the whole room for one of its files."""
    assert f"profiler.{room_of(module)}.__init__" not in set(files_used_by(module)) or len(module.parts) == 1


@each(sorted({m.parent for m in MODULES}))
def test_a_folder_can_be_taken_in_at_a_glance(folder: Path) -> None:
    files = [m for m in MODULES if m.parent == folder and m.name != "__init__.py"]
    assert len(files) <= MOST_FILES_OF_A_FOLDER


TESTS = Path(__file__).parent


@each(sorted({p.parent.relative_to(TESTS) for p in TESTS.rglob("test_*.py")}))
def test_a_folder_of_tests_can_be_taken_in_at_a_glance(folder: Path) -> None:
    assert len(list((TESTS / folder).glob("*.py"))) <= MOST_FILES_OF_A_FOLDER + 1


@each([m for m in MODULES if room_of(m) not in ("ui", "cli")])
def test_nothing_but_the_window_and_the_terminal_knows_the_window(module: Path) -> None:
    assert not [i for i in imports_of(module) if room_in(i.target) == "ui"]


@each(MODULES)
def test_heavy_packages_stay_in_their_rooms(module: Path) -> None:
    for found in imports_of(module):
        package = found.target.split(".")[0]
        assert room_of(module) in AT_HOME.get(package, (room_of(module),)), f"{module} imports {found.target}"


@each(MODULES)
def test_the_file_is_short_enough_to_be_read_in_one_go(module: Path) -> None:
    assert len((HOUSE / module).read_text(encoding="utf-8").splitlines()) <= MOST_LINES


@each(MODULES)
def test_every_function_is_short_enough_to_be_seen_at_once(module: Path) -> None:
    for node in ast.walk(parsed(module)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            assert node.end_lineno is not None
            assert node.end_lineno - node.lineno + 1 <= MOST_LINES_OF_A_FUNCTION, f"{module}: {node.name}"


@each([m for m in MODULES if m not in ANY_ALLOWED])
def test_no_type_is_left_open(module: Path) -> None:
    named = [n for n in ast.walk(parsed(module)) if isinstance(n, ast.Name) and n.id == "Any"]
    dotted = [n for n in ast.walk(parsed(module)) if isinstance(n, ast.Attribute) and n.attr == "Any"]
    assert not named and not dotted


def test_the_median_file_is_a_page_or_two() -> None:
    """60 to 170 lines: neither crumbs nor scrolls."""
    full = [m for m in MODULES if m.name != "__init__.py"]
    assert 60 <= median(len((HOUSE / m).read_text(encoding="utf-8").splitlines()) for m in full) <= 170


UNUSED_ON_PURPOSE: dict[str, str] = {}  # a definition, and why it may stay though nothing in the program uses it


def test_a_definition_nothing_uses_is_found() -> None:
    text = {
        "profiler.a": "from profiler.b import used\nfrom profiler import b\nX: int = used(b.also())\nprint(X)",
        "profiler.b": "def used(x): return used(x)\ndef also(): ...\ndef dead(dead=1): return dead\nY = dead2 = 2",
        "profiler.c": "def page(): ...\ndef other(): ...",
        "profiler.d": "PAGES = ('profiler.c', 'page')\nfor page in PAGES: print(page)",
    }
    found = unused({name: ast.parse(code) for name, code in text.items()})
    assert found == [("profiler.b", "Y"), ("profiler.b", "dead"), ("profiler.b", "dead2"), ("profiler.c", "other")]


def test_nothing_is_kept_that_nothing_uses() -> None:
    trees = {name_of(m).removesuffix(".__init__"): parsed(m) for m in MODULES}
    found = {f"{module}.{name}" for module, name in unused(trees)}
    assert found - set(UNUSED_ON_PURPOSE) == set(), "used by nothing in profiler: remove it, or move it into tests"
    assert set(UNUSED_ON_PURPOSE) - found == set(), "used, or gone: it needs no leave"


WITHOUT_QT = """
import importlib, pkgutil, sys

class Blocker:
    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] in ("PySide6", "shiboken6"):
            raise ModuleNotFoundError(f"{name} is blocked")

sys.meta_path.insert(0, Blocker())
import profiler
count = 0
for found in pkgutil.walk_packages(profiler.__path__, "profiler.", onerror=lambda name: None):
    if not found.name.startswith("profiler.ui") and found.name != "profiler.__main__":
        importlib.import_module(found.name)
        count += 1
print(count)
"""


def test_everything_but_the_window_imports_where_qt_is_absent() -> None:
    done = subprocess.run([sys.executable, "-c", WITHOUT_QT], capture_output=True, text=True, timeout=120, check=False)
    assert done.returncode == 0, done.stderr
    assert int(done.stdout) == sum(room_of(m) not in ("ui", "__main__", "__init__") for m in MODULES)


def test_the_terminal_starts_without_qt_and_without_heavy_packages() -> None:
    code = "import sys, profiler.cli.main; print(sorted({m.split('.')[0] for m in sys.modules}))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=120, check=True)
    loaded = set(ast.literal_eval(done.stdout))
    assert loaded.isdisjoint({"PySide6", "scipy", "matplotlib", "ezdxf", "shapely", "skfem"})


def test_no_crumb_of_the_window_is_used_by_one_file_alone() -> None:
    """A file of a few lines that one other uses belongs into that one."""
    users: dict[str, set[str]] = {}
    for module in MODULES:
        for used in set(files_used_by(module)):
            users.setdefault(used, set()).add(name_of(module))
    short = [m for m in MODULES if m.name != "__init__.py" and len((HOUSE / m).read_text("utf-8").splitlines()) < 25]
    assert [str(m) for m in short if room_of(m) == "ui" and len(users.get(name_of(m), ())) == 1] == []
