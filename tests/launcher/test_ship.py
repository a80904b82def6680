"""The archive that needs no Python: its recipe in short, and in the long tier built, started and made to write."""

import importlib.util
import os
import subprocess
import sys
import tomllib
import xml.etree.ElementTree as ET
from configparser import ConfigParser
from pathlib import Path

import pytest

from profiler import __version__
from profiler.study.files.file import SUFFIX
from profiler.ui.help.notices import notices, notices_html

ROOT = Path(__file__).parents[2]
spec = importlib.util.spec_from_file_location("ship", ROOT / "packaging" / "ship.py")
ship = importlib.util.module_from_spec(spec)
spec.loader.exec_module(ship)


def test_the_menu_entry_opens_the_file_type_that_is_told(tmp_path: Path) -> None:
    ship.add_desktop(tmp_path)
    entry = ConfigParser(interpolation=None)
    entry.read(tmp_path / "share" / "bowl-profiler.desktop", encoding="utf-8")
    told = entry["Desktop Entry"]
    mime = ET.parse(tmp_path / "share" / "bowl-profiler.xml").getroot()[0]
    assert told["MimeType"].rstrip(";") == mime.get("type") and told["Exec"].endswith("%f")
    assert [e.get("pattern") for e in mime if e.tag.endswith("glob")] == [f"*{SUFFIX}"]
    assert ET.parse(tmp_path / "share" / f"{told['Icon']}.svg").getroot().tag.endswith("svg")


@pytest.mark.skipif(sys.platform == "win32", reason="a shell script")
def test_the_script_puts_them_under_the_users_own_folders(tmp_path: Path) -> None:
    folder, home = tmp_path / "with space", tmp_path / "home"
    folder.mkdir()
    ship.add_desktop(folder)
    (folder / "bowl-profiler").write_text("#!/bin/sh\n")
    bare = {"HOME": str(home), "PATH": os.environ["PATH"]}
    done = subprocess.run(["sh", folder / "install.sh"], env=bare, capture_output=True, check=True)
    assert b"in the menu" in done.stdout
    entry = (home / ".local/share/applications/bowl-profiler.desktop").read_text()
    assert f'Exec="{folder}/bowl-profiler" %f' in entry
    assert (home / ".local/bin/bowl-profiler").resolve() == folder / "bowl-profiler"


def test_the_newest_symbol_tells_the_least_c_library(tmp_path: Path) -> None:
    (tmp_path / "a.so").write_bytes(b"..GLIBC_2.17\0GLIBC_2.28\0")
    (tmp_path / "b.so.1").write_bytes(b"GLIBC_2.9")
    assert ship.least_glibc(tmp_path) == (2, 28)


def test_every_package_that_is_brought_along_has_its_notice() -> None:
    asked = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["dependencies"]
    names = {n.name.lower().replace("_", "-") for n in notices()}
    for requirement in asked:
        assert requirement.split(">")[0].split("=")[0].lower() in names
    assert all(n.licence for n in notices()) and "LGPL" in next(n.licence for n in notices() if "PySide6" in n.name)
    assert "Lesser General Public License" in notices_html()


@pytest.mark.long
@pytest.mark.skipif(sys.platform != "linux", reason="tried on Linux only")
def test_the_archive_is_built_and_works_where_nothing_is(tmp_path: Path) -> None:
    assert ship.main([str(tmp_path / "out")]) == 0
    program, home = tmp_path / "out" / "bowl-profiler" / "bowl-profiler", tmp_path / "home"
    home.mkdir()

    def run(*arguments: str) -> str:
        bare = {"HOME": str(home), "QT_QPA_PLATFORM": "offscreen"}
        done = subprocess.run([program, *arguments], cwd=home, env=bare, capture_output=True, text=True, timeout=300)
        assert done.returncode == 0, done.stderr
        return done.stdout

    assert __version__ in run("--version")
    run("example", "graded", "g.bowl")
    files = ("a.pdf", "a.dxf", "a.svg", "a.png", "r.html", "r.pdf", "c.csv", "s.stl", "s.3mf", "s.step")
    for file in files:
        run("export", "g.bowl", file)
    assert all((home / file).stat().st_size > 1000 for file in files)
    window = subprocess.Popen([program, "g.bowl"], cwd=home, env={"HOME": str(home), "QT_QPA_PLATFORM": "offscreen"})
    with pytest.raises(subprocess.TimeoutExpired):
        window.wait(20)  # it stands open
    window.terminate()
    window.wait(20)
