"""Start Bowl Profiler from a fresh copy of the project; nothing but Python is needed beforehand.

    python3 packaging/launch.py [FILE]         open the window on FILE, or on the default example
    python3 packaging/launch.py test [ARGS]    check the project: ruff, mypy and pytest (which gets ARGS)

Four steps: find a Python that fits, see to the system libraries Qt wants, install the packages into `.venv`,
start. On Linux with no display the last step checks the study and draws its section into `out/` instead.
Any other arguments go to the program, as in `launch.py check FILE`; as a command of its own it lies in
`.venv/bin/bowl-profiler` (on Windows `.venv\\Scripts\\bowl-profiler.exe`). The first start fetches some 250 MB, which
takes a minute or two, on a slow line longer; later ones take a moment.

Exit code: 0; or 2 when something is missing that only you can put right; or else that of the program or of
the first check that failed; 130 after Ctrl+C.
"""
# An old Python 3 must be able to run the beginning and say which Python is wanted: no f-strings, nothing new.
# ruff: noqa: UP031, RUF005
# What gets installed is not decided here: pyproject.toml says what may be, constraints.txt what was tested.

import collections.abc
import contextlib
import hashlib
import importlib
import importlib.util
import os
import platform
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from child_signals import signals_to
from pip_hints import hint_for

PYTHONS = ((3, 11), (3, 12), (3, 13), (3, 14))
CONSTRAINTS = "packaging/constraints.txt"
LOCK_NAME = "launch.lock"
STAMP_NAME = "launch.stamp"
LOG_NAME = "launch-pip.log"
MISLEADING_VARIABLES = ("PYTHONHOME", "PYTHONPATH")  # they would mix another Python's packages in
IN_TWO = ["-n", "2", "--dist", "loadfile"]  # on two cores half the time; what a file shares is made once
CHECKS = (
    ("ruff", ["ruff", "check"]),
    ("format", ["ruff", "format", "--check"]),
    ("mypy", ["mypy"]),
    ("pytest", ["pytest", "--assert=plain"] + IN_TWO),  # what an assertion compared costs to keep; told of failures
)
EXPLAINED = ["pytest", "--last-failed", "--last-failed-no-failures=none"]

# (file the dynamic linker looks for, Debian package that holds it)
QT_LIBRARIES = (
    ("libGL.so.1", "libgl1"),
    ("libEGL.so.1", "libegl1"),
    ("libglib-2.0.so.0", "libglib2.0-0"),
    ("libfontconfig.so.1", "libfontconfig1"),
    ("libdbus-1.so.3", "libdbus-1-3"),
    ("libxkbcommon.so.0", "libxkbcommon0"),
)
SCREEN_LIBRARIES = (
    ("libxcb-cursor.so.0", "libxcb-cursor0"),
    ("libxkbcommon-x11.so.0", "libxkbcommon-x11-0"),
    ("libxcb-icccm.so.4", "libxcb-icccm4"),
    ("libxcb-keysyms.so.1", "libxcb-keysyms1"),
    ("libxcb-shape.so.0", "libxcb-shape0"),
)
WAYLAND_LIBRARIES = (("libwayland-cursor.so.0", "libwayland-cursor0"),)


class CannotStart(Exception):
    """Something is missing that only the user can put right; the text says what and how."""


class Machine:
    """All the launcher asks of the computer it runs on, so that a test can hand in another computer."""

    def __init__(self) -> None:
        self.platform = sys.platform
        self.version = tuple(sys.version_info[:3])
        self.executable = str(getattr(sys, "_base_executable", None) or sys.executable)
        self.environ = {key: text for key, text in os.environ.items() if key not in MISLEADING_VARIABLES}
        self.processor = platform.machine().lower()
        self.is_root = getattr(os, "geteuid", lambda: -1)() == 0

    def say(self, text: str) -> None:
        """Print, unless the reader of our output has gone, as `head` does."""
        try:
            print(text, flush=True)
        except OSError:
            with contextlib.suppress(OSError, ValueError):
                os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())

    def run(self, command: "list[str]", folder: "Path | None" = None, **extra: str) -> int:
        """Run a command to its end, with these extra environment variables, and return its exit code."""
        process = subprocess.Popen(command, cwd=folder and str(folder), env=dict(self.environ, **extra))
        with signals_to(process):
            code = process.wait()
        return code if code >= 0 else 128 - code  # ended by a signal: the number a shell would give

    def has_command(self, name: str) -> bool:
        return shutil.which(name) is not None

    def has_library(self, file_name: str) -> bool:
        import ctypes

        try:
            ctypes.CDLL(file_name)
        except OSError:
            return False
        return True

    def has_module(self, name: str) -> bool:
        importlib.invalidate_caches()
        return importlib.util.find_spec(name) is not None

    def version_of(self, command: "list[str]") -> "tuple[int, ...]":
        """Return (major, minor) of the Python behind a command; () for a store alias or an empty shim."""
        question = ["-c", "import sys; print('%d.%d' % sys.version_info[:2])"]
        try:
            answer = subprocess.check_output(command + question, stderr=subprocess.DEVNULL, env=self.environ)
            return tuple(int(part) for part in answer.decode().split("."))
        except (OSError, ValueError, subprocess.CalledProcessError):
            return ()


def main(arguments: "list[str]", machine: Machine) -> int:
    if arguments and arguments[0] in ("-h", "--help"):
        machine.say(str(__doc__).strip())
        return 0
    try:
        return launch(arguments, machine)
    except CannotStart as reason:
        machine.say("\n" + str(reason))
        return 2
    except KeyboardInterrupt:
        return 130


def launch(arguments: "list[str]", machine: Machine) -> int:
    """Take the four steps and return the exit code of the last."""
    if machine.version[:2] not in PYTHONS:
        other = find_python(machine)
        machine.say("1/4 This is Python %s; going on with %s." % (dotted(machine.version), " ".join(other)))
        return machine.run(other + [__file__] + arguments)
    machine.say("1/4 Python %s: %s" % (dotted(machine.version), machine.executable))

    testing = arguments[:1] == ["test"]
    root = Path(__file__).resolve().parent.parent
    home = root if is_writable(root) else user_data_folder(machine)
    if testing and home != root:
        raise CannotStart("%s is read-only, and the checks write there. Copy the project first." % root)

    provide_system_packages(machine, testing)
    python = provide_environment(machine, root, home / ".venv", "test" if testing else "")

    if home != root:  # nothing can be installed from there "editable", so the sources are named instead
        machine.environ["PYTHONPATH"] = str(root)
    if testing:
        return run_checks(machine, python, root, arguments[1:])
    if wants_window(arguments) and not has_display(machine):
        return work_without_display(machine, python, home / "out", arguments)
    machine.say("4/4 Starting Bowl Profiler.")
    return machine.run([python, "-m", "profiler"] + arguments)


def find_python(machine: Machine) -> "list[str]":
    """Return the command of a Python that fits, looked for on PATH and with the Windows launcher `py`."""
    for command in other_pythons(machine):
        if machine.version_of(command) in PYTHONS:
            return command
    raise CannotStart(
        "This is Python %s. Bowl Profiler needs Python %s to %s, and there is none on PATH.\n"
        "Install one (python.org; on Debian 12 or later: sudo apt-get install python3), then start again."
        % (dotted(machine.version), dotted(PYTHONS[0]), dotted(PYTHONS[-1]))
    )


def other_pythons(machine: Machine) -> "collections.abc.Iterator[list[str]]":
    names = ["python" + dotted(version) for version in PYTHONS] + ["python3"]
    for name in names:
        for folder in machine.environ.get("PATH", "").split(os.pathsep):
            path = shutil.which(name, path=folder)
            if path:
                yield [path]
    if machine.platform == "win32":
        for version in PYTHONS:
            yield ["py", "-" + dotted(version)]


def dotted(version: "tuple[int, ...]") -> str:
    return ".".join(str(part) for part in version)


def provide_system_packages(machine: Machine, testing: bool) -> None:
    """Install the missing Debian packages as root, or tell how to; other systems bring what Qt needs."""
    missing = missing_packages(machine, testing)
    if not missing:
        machine.say("2/4 System libraries: nothing is missing.")
        return
    machine.say("2/4 System libraries: missing %s." % ", ".join(missing))
    install = ["apt-get", "install", "-y", "--no-install-recommends"] + missing
    if not machine.has_command("apt-get"):
        raise CannotStart(
            "Install what your system has for these Debian packages, then start again:\n    " + " ".join(missing)
        )
    if not machine.is_root:
        line = "sudo apt-get update && sudo " + " ".join(install)
        raise CannotStart("Copy this line, then start again:\n    " + line)
    for command in (["apt-get", "update"], install):
        machine.say("    " + " ".join(command))
        machine.run(command, DEBIAN_FRONTEND="noninteractive")
    missing = missing_packages(machine, testing)
    if missing:
        raise CannotStart("Still missing: %s. The lines above should say why." % ", ".join(missing))


def missing_packages(machine: Machine, testing: bool) -> "list[str]":
    """Return the Debian packages whose files this machine does not find."""
    missing = []
    if not machine.has_module("ensurepip"):  # Debian ships Python without what `python -m venv` needs
        missing.append("python%s-venv" % dotted(machine.version[:2]))
    libraries = wanted_libraries(machine, testing)
    return missing + [package for file_name, package in libraries if not machine.has_library(file_name)]


def wanted_libraries(machine: Machine, testing: bool) -> "list[tuple[str, str]]":
    if machine.platform != "linux":
        return []
    libraries = list(QT_LIBRARIES)
    if testing or has_display(machine):
        libraries += SCREEN_LIBRARIES
    if machine.environ.get("WAYLAND_DISPLAY"):
        libraries += WAYLAND_LIBRARIES
    return libraries


def has_display(machine: Machine) -> bool:
    names = ("DISPLAY", "WAYLAND_DISPLAY")
    return machine.platform != "linux" or any(machine.environ.get(name) for name in names)


def provide_environment(machine: Machine, root: Path, folder: Path, extra: str) -> str:
    """Return the Python of a virtual environment with the project's packages, making it where need be."""
    if is_ready(machine, root, folder, extra):
        machine.say("3/4 Packages: ready in %s" % folder)
        return str(python_in(folder, machine.platform))
    try:
        with locked(claim(folder), machine):
            if not is_ready(machine, root, folder, extra):  # or else another start has just made it
                make_environment(machine, root, folder, extra)
    except OSError as problem:
        raise CannotStart("Could not write the packages: %s" % problem) from problem
    return str(python_in(folder, machine.platform))


def make_environment(machine: Machine, root: Path, folder: Path, extra: str) -> None:
    """Fill the folder from nothing. The stamp goes first and comes last: half an install is no install."""
    machine.say("3/4 Packages: installing into %s (a minute or two, on a slow line longer; 600 to 900 MB)" % folder)
    (folder / STAMP_NAME).unlink(missing_ok=True)
    for leftover in folder.iterdir():
        if leftover.is_dir() and not leftover.is_symlink():
            shutil.rmtree(str(leftover))
        elif leftover.name != LOCK_NAME:
            leftover.unlink()
    if machine.run([machine.executable, "-m", "venv", str(folder)]) != 0:
        raise CannotStart("Python could not make the virtual environment; the lines above say why.")
    python = str(python_in(folder, machine.platform))
    # compiled is what is imported, when it is: half of what packages hold never is
    pip = [python, "-m", "pip", "install", "--disable-pip-version-check", "--no-compile", "-c", CONSTRAINTS]
    log = folder / LOG_NAME
    if machine.run(pip + ["--log", str(log)] + what_to_install(root, extra), root) != 0:
        hint = hint_for(log, machine.platform, machine.processor, dotted(machine.version))
        raise CannotStart("pip could not install the packages. %s\nThe next start begins afresh." % hint)
    (folder / STAMP_NAME).write_text(stamp(machine, root, folder, extra))


def is_ready(machine: Machine, root: Path, folder: Path, extra: str) -> bool:
    """Tell whether the environment is whole and up to date; one made for tests serves the program too."""
    stamp_file = folder / STAMP_NAME
    if not (stamp_file.is_file() and python_in(folder, machine.platform).exists()):
        return False
    fitting = [stamp(machine, root, folder, name) for name in (extra, "test")]
    return stamp_file.read_text() in fitting


def stamp(machine: Machine, root: Path, folder: Path, extra: str) -> str:
    """Return a digest of all that makes an environment stale; the places too, as it cannot be moved."""
    digest = hashlib.sha256()
    for name in ("pyproject.toml", CONSTRAINTS):
        digest.update((root / name).read_bytes())
    for text in (dotted(machine.version), str(root), str(folder), extra):
        digest.update(b"\0" + text.encode("utf-8", "surrogateescape"))
    return digest.hexdigest()


def what_to_install(root: Path, extra: str) -> "list[str]":
    """Return pip's words for the project, or for its requirements alone where the sources are read-only."""
    if is_writable(root):
        return ["-e", ".[%s]" % extra if extra else "."]
    import tomllib

    project = tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    return [str(requirement) for requirement in project["dependencies"]]


def claim(folder: Path) -> Path:
    """Make the folder with its lock file and return that; refuse one that is in use for something else."""
    lock = folder / LOCK_NAME
    if folder.is_dir() and any(folder.iterdir()) and not lock.exists():
        raise CannotStart("%s was not made by this launcher. Move it away, then start again." % folder)
    folder.mkdir(parents=True, exist_ok=True)
    lock.touch()
    return lock


@contextlib.contextmanager
def locked(lock: Path, machine: Machine) -> "collections.abc.Iterator[None]":
    """Keep a second first start waiting until this one is through; a lock dies with its process."""
    with lock.open("r+b") as file:
        if not try_lock(file.fileno()):
            machine.say("3/4 Packages: another start is installing them; waiting for it.")
            while not try_lock(file.fileno()):
                time.sleep(0.5)
        yield


def try_lock(descriptor: int) -> bool:
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


def python_in(folder: Path, platform: str) -> Path:
    return folder / "Scripts" / "python.exe" if platform == "win32" else folder / "bin" / "python"


def is_writable(folder: Path) -> bool:
    try:
        with tempfile.TemporaryFile(dir=str(folder)):
            return True
    except OSError:
        return False


def user_data_folder(machine: Machine) -> Path:
    if machine.platform == "win32":
        base = machine.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local"
    elif machine.platform == "darwin":
        base = Path.home() / "Library" / "Application Support"
    else:
        base = machine.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share"
    return Path(base) / "bowl-profiler"


def wants_window(arguments: "list[str]") -> bool:
    return not arguments or (len(arguments) == 1 and arguments[0].endswith(".bowl"))


def work_without_display(machine: Machine, python: str, folder: Path, arguments: "list[str]") -> int:
    """Check a study and draw its section in the terminal: the one named, or the default example."""
    machine.say(
        "4/4 There is no display here (neither DISPLAY nor WAYLAND_DISPLAY is set), so no window can open.\n"
        "    Checking a study and drawing its section instead."
    )
    folder.mkdir(parents=True, exist_ok=True)
    program = [python, "-m", "profiler"]
    if arguments:
        study = arguments[0]
    else:
        study = str(folder / "graded.bowl")
        code = 0 if Path(study).exists() else machine.run(program + ["example", "graded", study])
        if code != 0:
            return code
    drawing = str(folder / (Path(study).stem + ".dxf"))
    check_code = machine.run(program + ["check", study])
    export_code = machine.run(program + ["export", study, drawing])
    if export_code == 0:
        machine.say("    Study:   %s\n    Drawing: %s" % (study, drawing))
    return check_code or export_code


def run_checks(machine: Machine, python: str, root: Path, pytest_arguments: "list[str]") -> int:
    """Run every check, whatever the others say; pytest last, so that its own summary closes the output."""
    machine.say("4/4 Checks: %s" % ", ".join(name for name, _ in CHECKS))
    codes = {}
    platform = machine.environ.get("QT_QPA_PLATFORM", "offscreen")
    for name, words in CHECKS:
        command = words + (pytest_arguments if name == "pytest" else [])
        machine.say("    " + " ".join(command))
        codes[name] = machine.run([python, "-m"] + command, root, QT_QPA_PLATFORM=platform)
    if codes["pytest"] == 1:
        machine.say("    What failed, once more, with the values it compared: " + " ".join(EXPLAINED))
        machine.run([python, "-m"] + EXPLAINED, root, QT_QPA_PLATFORM=platform)
    failed = [name for name, _ in CHECKS if codes[name] != 0]
    if failed and failed != ["pytest"]:  # pytest has said so itself
        machine.say("FAILED: %s" % ", ".join(failed))
    return codes[failed[0]] if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:], Machine()))
