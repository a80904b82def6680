"""The program as others install it: a wheel that holds everything, started from an empty folder."""

import os
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from profiler.ui.app import FIRST_PAINT

ROOT = Path(__file__).resolve().parents[2]
HOMES = ("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME", "APPDATA", "LOCALAPPDATA")


def test_the_wheel_is_told_of_every_file_that_is_no_module() -> None:
    """The short twin: what lies in the package must be named as its data."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    patterns = project["tool"]["setuptools"]["package-data"]["profiler"]
    package = ROOT / "profiler"
    named = {path for pattern in patterns for path in package.glob(pattern)}
    there = {p for p in package.rglob("*") if p.is_file() and p.suffix not in (".py", ".pyc")}
    assert there and there <= named


@pytest.mark.long
def test_the_program_starts_from_its_wheel_in_an_empty_folder(tmp_path: Path) -> None:
    place, empty = tmp_path / "installed", tmp_path / "empty"
    empty.mkdir()
    _install(_wheel(tmp_path), place)
    environment = {**os.environ, "PYTHONPATH": str(place), "PYTHONSAFEPATH": "1", "QT_QPA_PLATFORM": "offscreen"}
    environment |= dict.fromkeys(HOMES, str(tmp_path / "home"))

    def run(*words: str, **more: str) -> str:
        done = subprocess.run(
            [sys.executable, *words],
            cwd=empty, env=environment | more, capture_output=True, text=True, timeout=120, check=False,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
        return done.stdout

    assert Path(run("-c", "import profiler; print(profiler.__file__)").strip()).is_relative_to(place)
    names = run("-m", "profiler", "example", "--list").split("\n")
    assert any(line.startswith("graded") for line in names)
    run("-m", "profiler", "example", "graded", "graded.bowl")
    run("-m", "profiler", "check", "graded.bowl")
    run("-m", "profiler", "export", "graded.bowl", "graded.dxf")
    assert float(run("-m", "profiler", **{FIRST_PAINT: "1"})) > 0.0  # the window was painted, and ended
    assert {path.name for path in empty.iterdir()} == {"graded.bowl", "graded.dxf"}


def _wheel(folder: Path) -> Path:
    """Built from a copy, so that nothing is left in the sources; with what is installed, so that nothing is fetched."""
    source = folder / "source"
    shutil.copytree(ROOT / "profiler", source / "profiler", ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md"):
        shutil.copy(ROOT / name, source)
    _pip("wheel", "--no-deps", "--no-build-isolation", "--wheel-dir", str(folder), str(source))
    (wheel,) = folder.glob("*.whl")
    return wheel


def _install(wheel: Path, place: Path) -> None:
    _pip("install", "--no-deps", "--no-index", "--target", str(place), str(wheel))


def _pip(*words: str) -> None:
    command = [sys.executable, "-m", "pip", *words, "--disable-pip-version-check"]
    done = subprocess.run(command, capture_output=True, text=True, timeout=600, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
