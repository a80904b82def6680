"""The launcher on computers that lack something. No network, no installation: each computer here is a small fake."""

import ast
import importlib.util
import re
import signal
import sys
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement

ROOT = Path(__file__).resolve().parents[2]
SPEC = importlib.util.spec_from_file_location("launch", ROOT / "packaging" / "launch.py")
sys.path.insert(0, str(ROOT / "packaging"))  # as it is where the script itself is run
launch = importlib.util.module_from_spec(SPEC)
SPEC.loader.exec_module(launch)

ALL_FILES = {name for name, _ in launch.QT_LIBRARIES + launch.SCREEN_LIBRARIES + launch.WAYLAND_LIBRARIES}


class Fake(launch.Machine):
    """A Debian machine on which nothing is missing, where commands only get written down."""

    def __init__(self, **differences):
        self.platform, self.version, self.executable = "linux", (3, 11, 7), "/usr/bin/python3"
        self.processor, self.environ, self.is_root = "x86_64", {"DISPLAY": ":0"}, False
        self.commands, self.libraries, self.modules = {"apt-get"}, set(ALL_FILES), {"ensurepip"}
        self.pythons, self.codes, self.said, self.ran = {}, {}, "", []
        vars(self).update(differences)

    def say(self, text):
        self.said += text + "\n"

    def run(self, command, folder=None, **extra):
        self.ran.append(command)
        if command[1:3] == ["-m", "venv"]:
            python = launch.python_in(Path(command[3]), self.platform)
            python.parent.mkdir(parents=True)
            python.touch()
        if command[:2] == ["apt-get", "install"]:
            self.libraries, self.modules = set(ALL_FILES), {"ensurepip"}
        return next((code for word, code in self.codes.items() if word in command), 0)

    def has_command(self, name):
        return name in self.commands

    def has_library(self, file_name):
        return file_name in self.libraries

    def has_module(self, name):
        return name in self.modules

    def version_of(self, command):
        return self.pythons.get(Path(command[0]).name if len(command) == 1 else " ".join(command), ())


@pytest.fixture
def project(tmp_path, monkeypatch):
    """A project folder with just what the launcher reads, which takes it for its own."""
    (tmp_path / "packaging").mkdir()
    monkeypatch.setattr(launch, "__file__", str(tmp_path / "packaging" / "launch.py"))
    (tmp_path / "pyproject.toml").write_text('[project]\ndependencies = ["numpy>=2"]\n')
    (tmp_path / launch.CONSTRAINTS).write_text("numpy==2.4.6\n")
    return tmp_path


def install(machine, project, extra=""):
    return launch.provide_environment(machine, project, project / ".venv", extra)


@pytest.mark.parametrize("name", ["launch.py", "pip_hints.py", "child_signals.py"])
def test_the_launcher_parses_on_python_3_4(name):
    tree = ast.parse((ROOT / "packaging" / name).read_text(encoding="utf-8"), feature_version=(3, 4))
    assert not [node for node in ast.walk(tree) if isinstance(node, (ast.JoinedStr, ast.AnnAssign, ast.NamedExpr))]


def test_an_old_python_says_which_is_wanted():
    machine = Fake(version=(3, 9, 2))
    assert launch.main([], machine) == 2
    assert "This is Python 3.9.2. Bowl Profiler needs Python 3.11 to 3.14" in machine.said
    assert machine.ran == []


def test_a_python_too_new_is_not_taken_either():
    assert launch.main([], Fake(version=(3, 15, 0))) == 2


def test_an_old_python_goes_on_with_one_that_fits(tmp_path):
    for name in ("python3.11", "python3.12"):
        (tmp_path / name).touch(mode=0o755)
    pythons = {"python3.11": (3, 9), "python3.12": (3, 12)}  # the first is not what its name says
    machine = Fake(version=(3, 9, 2), environ={"PATH": str(tmp_path)}, pythons=pythons, codes={"-q": 5})
    assert launch.main(["test", "-q"], machine) == 5
    assert machine.ran == [[str(tmp_path / "python3.12"), launch.__file__, "test", "-q"]]


def test_on_windows_the_py_launcher_is_asked():
    machine = Fake(version=(3, 9, 2), platform="win32", environ={}, pythons={"py -3.13": (3, 13)})
    assert launch.find_python(machine) == ["py", "-3.13"]


def test_a_python_is_believed_only_after_it_ran(tmp_path):
    shim = tmp_path / "python3.12"
    shim.write_text("#!/bin/sh\nexit 127\n")
    shim.chmod(0o755)
    machine = launch.Machine()
    assert machine.version_of([sys.executable]) == sys.version_info[:2]
    assert machine.version_of([str(shim)]) == ()
    assert machine.version_of([str(tmp_path / "absent")]) == ()


def test_where_nothing_is_missing_nothing_is_installed():
    machine = Fake()
    launch.provide_system_packages(machine, testing=True)
    assert machine.ran == []
    assert "nothing is missing" in machine.said


def test_root_installs_exactly_what_is_missing_and_shows_the_commands():
    machine = Fake(is_root=True, libraries=ALL_FILES - {"libEGL.so.1", "libxcb-cursor.so.0"})
    launch.provide_system_packages(machine, testing=False)
    line = "apt-get install -y --no-install-recommends libegl1 libxcb-cursor0"
    assert machine.ran == [["apt-get", "update"], line.split()]
    assert f"    apt-get update\n    {line}\n" in machine.said


def test_others_get_one_line_to_copy():
    machine = Fake(libraries=ALL_FILES - {"libGL.so.1"})
    assert launch.main([], machine) == 2
    assert "    sudo apt-get update && sudo apt-get install -y --no-install-recommends libgl1\n" in machine.said
    assert machine.ran == []


def test_python_without_ensurepip_gets_its_own_venv_package():
    machine = Fake(modules=set())
    assert launch.main([], machine) == 2
    assert "--no-install-recommends python3.11-venv\n" in machine.said


def test_without_apt_the_packages_are_named():
    machine = Fake(is_root=True, commands=set(), libraries=ALL_FILES - {"libGL.so.1"})
    assert launch.main([], machine) == 2
    assert "Debian packages, then start again:\n    libgl1" in machine.said
    assert machine.ran == []


def test_an_installation_that_did_not_help_is_reported():
    machine = Fake(is_root=True, libraries=set())
    machine.has_library = lambda file_name: file_name != "libGL.so.1"
    assert launch.main([], machine) == 2
    assert "Still missing: libgl1." in machine.said


@pytest.mark.parametrize(
    ("platform", "environ", "testing", "wanted"),
    [
        ("linux", {}, False, launch.QT_LIBRARIES),
        ("linux", {}, True, launch.QT_LIBRARIES + launch.SCREEN_LIBRARIES),
        ("linux", {"DISPLAY": ":0"}, False, launch.QT_LIBRARIES + launch.SCREEN_LIBRARIES),
        (
            "linux",
            {"WAYLAND_DISPLAY": "wayland-0"},
            False,
            launch.QT_LIBRARIES + launch.SCREEN_LIBRARIES + launch.WAYLAND_LIBRARIES,
        ),
        ("win32", {}, True, ()),
        ("darwin", {}, True, ()),
    ],
)
def test_a_screen_asks_for_more_libraries(platform, environ, testing, wanted):
    assert launch.wanted_libraries(Fake(platform=platform, environ=environ), testing) == list(wanted)


def test_a_failed_install_is_cleared_and_tried_again(project):
    machine = Fake(codes={"pip": 1})
    with pytest.raises(launch.CannotStart, match="pip could not install"):
        install(machine, project)
    (project / ".venv" / "half.txt").touch()
    machine.codes = {}
    python = install(machine, project)
    assert Path(python).exists()
    assert not (project / ".venv" / "half.txt").exists()
    assert machine.ran[-1][-6:-2] == ["-c", launch.CONSTRAINTS, "--log", str(project / ".venv" / launch.LOG_NAME)]
    assert machine.ran[-1][-2:] == ["-e", "."]


def test_a_second_start_installs_nothing(project):
    machine = Fake()
    first = install(machine, project)
    machine.ran.clear()
    assert install(machine, project) == first
    assert machine.ran == []


@pytest.mark.parametrize(("first", "second", "commands"), [("test", "", 2), ("", "test", 4)])
def test_an_environment_for_the_tests_serves_the_program_too(project, first, second, commands):
    machine = Fake()
    install(machine, project, first)
    install(machine, project, second)
    assert len(machine.ran) == commands


@pytest.mark.parametrize("stale", ["requirements", "tested releases", "python", "folder", "broken link"])
def test_a_stale_environment_is_made_anew(project, stale):
    machine = Fake()
    python = Path(install(machine, project))
    machine.ran.clear()
    if stale == "requirements":
        (project / "pyproject.toml").write_text("[project]\ndependencies = []\n")
    if stale == "tested releases":
        (project / launch.CONSTRAINTS).write_text("numpy==2.4.5\n")
    if stale == "python":
        machine.version = (3, 12, 1)
    if stale == "folder":
        project = project.rename(project.with_name("moved"))
    if stale == "broken link":
        python.unlink()
    install(machine, project)
    assert [command[2] for command in machine.ran] == ["venv", "pip"]


def test_an_environment_made_by_others_is_left_alone(project):
    (project / ".venv").mkdir()
    (project / ".venv" / "pyvenv.cfg").touch()
    with pytest.raises(launch.CannotStart, match="not made by this launcher"):
        install(Fake(), project)
    assert [path.name for path in (project / ".venv").iterdir()] == ["pyvenv.cfg"]


def test_an_environment_half_removed_is_not_taken_for_a_whole_one(project, monkeypatch):
    install(Fake(), project)

    def refuse(path):
        raise PermissionError("in use")

    monkeypatch.setattr(launch.shutil, "rmtree", refuse)
    monkeypatch.setattr(Path, "iterdir", lambda folder: iter([folder / "bin", folder / launch.STAMP_NAME]))
    with pytest.raises(launch.CannotStart, match="in use"):
        install(Fake(version=(3, 12, 1)), project)
    assert not launch.is_ready(Fake(), project, project / ".venv", "")


def test_two_first_starts_do_not_install_at_once(project):
    lock = launch.claim(project / ".venv")
    with lock.open("r+b") as second:
        with launch.locked(lock, Fake()):
            assert not launch.try_lock(second.fileno())
        assert launch.try_lock(second.fileno())


def test_from_a_read_only_folder_the_requirements_are_installed_elsewhere(project, monkeypatch, tmp_path):
    monkeypatch.setattr(launch, "is_writable", lambda folder: False)
    machine = Fake(environ={"DISPLAY": ":0", "XDG_DATA_HOME": str(tmp_path / "data")})
    assert launch.main([], machine) == 0
    assert machine.ran[1][-1] == "numpy>=2"
    assert machine.environ["PYTHONPATH"] == str(project)
    assert machine.ran[2] == [str(tmp_path / "data" / "bowl-profiler" / ".venv" / "bin" / "python"), "-m", "profiler"]
    assert launch.main(["test"], machine) == 2
    assert "read-only" in machine.said


@pytest.mark.parametrize(
    ("arguments", "environ", "last_words"),
    [
        ([], {"DISPLAY": ":0"}, ["-m", "profiler"]),
        (["mine.bowl"], {"WAYLAND_DISPLAY": "wayland-0"}, ["-m", "profiler", "mine.bowl"]),
        (["check", "mine.bowl"], {}, ["-m", "profiler", "check", "mine.bowl"]),
        ([], {}, ["-m", "profiler", "export", "out/graded.bowl", "out/graded.dxf"]),
        (["test", "-x"], {}, ["-m", "pytest", "--assert=plain", *launch.IN_TWO, "-x"]),
    ],
)
def test_the_last_step_is_what_was_asked_for(project, arguments, environ, last_words):
    machine = Fake(environ=environ)
    assert launch.main(arguments, machine) == 0
    assert [word.replace(f"{project}/", "") for word in machine.ran[-1]] == [".venv/bin/python", *last_words]
    assert re.findall(r"^\d/4", machine.said, re.M) == ["1/4", "2/4", "3/4", "4/4"]


def test_without_a_display_the_example_is_checked_and_drawn(tmp_path):
    machine = Fake(environ={})
    assert launch.work_without_display(machine, "python", tmp_path / "out", []) == 0
    study, drawing = str(tmp_path / "out" / "graded.bowl"), str(tmp_path / "out" / "graded.dxf")
    program = ["python", "-m", "profiler"]
    assert machine.ran == [
        [*program, "example", "graded", study],
        [*program, "check", study],
        [*program, "export", study, drawing],
    ]
    assert "There is no display here" in machine.said
    assert machine.said.endswith(f"Study:   {study}\n    Drawing: {drawing}\n")


def test_without_a_display_the_named_study_is_checked_and_drawn(tmp_path):
    machine = Fake(environ={}, codes={"check": 1})
    assert launch.work_without_display(machine, "python", tmp_path, ["mine.bowl"]) == 1
    assert machine.ran[-1][-2:] == ["mine.bowl", str(tmp_path / "mine.dxf")]


@pytest.mark.parametrize("step", ["example", "export"])
def test_without_a_display_a_failure_is_passed_on_and_no_drawing_promised(tmp_path, step):
    machine = Fake(environ={}, codes={step: 3})
    assert launch.work_without_display(machine, "python", tmp_path, []) == 3
    assert "Drawing:" not in machine.said


@pytest.mark.parametrize(
    ("arguments", "window"),
    [([], True), (["mine.bowl"], True), (["--version"], False), (["check", "mine.bowl"], False)],
)
def test_only_a_window_needs_a_display(arguments, window):
    assert launch.wants_window(arguments) is window


@pytest.mark.parametrize(
    ("codes", "result", "last_line"),
    [
        ({}, 0, "    pytest --assert=plain -n 2 --dist loadfile -q"),
        ({"ruff": 1}, 1, "FAILED: ruff, format"),
        ({"mypy": 2, "pytest": 1}, 2, "FAILED: mypy, pytest"),
        ({"pytest": 5}, 5, "    pytest --assert=plain -n 2 --dist loadfile -q"),  # pytest's own summary says it
    ],
)
def test_every_check_runs_whatever_the_others_say(tmp_path, codes, result, last_line):
    machine = Fake(codes=codes)
    assert launch.run_checks(machine, "python", tmp_path, ["-q"]) == result
    explained = ["pytest"] * (codes.get("pytest") == 1)  # what failed is run again, and says what it compared
    assert [command[2] for command in machine.ran] == ["ruff", "ruff", "mypy", "pytest", *explained]
    assert machine.said.splitlines()[-1] == last_line


def test_another_pythons_settings_are_kept_out(monkeypatch):
    monkeypatch.setenv("PYTHONHOME", "/elsewhere")
    monkeypatch.setenv("PYTHONPATH", "/elsewhere")
    assert not {"PYTHONHOME", "PYTHONPATH"} & set(launch.Machine().environ)


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no signals of this kind")
def test_the_exit_code_of_a_crash_is_not_lost():
    crash = [sys.executable, "-c", f"import os; os.kill(os.getpid(), {int(signal.SIGKILL)})"]
    assert launch.Machine().run(crash) == 128 + signal.SIGKILL
    assert launch.Machine().run([sys.executable, "-c", "raise SystemExit(7)"]) == 7


def test_every_requirement_has_a_tested_release_that_it_allows():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    tested = dict(re.findall(r"^([\w.-]+)==(\S+)", (ROOT / launch.CONSTRAINTS).read_text(encoding="utf-8"), re.M))
    for text in project["dependencies"] + project["optional-dependencies"]["test"]:
        requirement = Requirement(text)
        assert requirement.specifier.contains(tested[requirement.name]), text
