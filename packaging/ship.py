"""Make one folder and one archive of Bowl Profiler that need no Python: the program, its packages, icon and licences.

    python3 packaging/ship.py [FOLDER]     builds into FOLDER (dist/ by default)

Run it on the oldest system the archive shall work on: what it needs at least of the C library is printed at the end.
The same recipe works on Windows and macOS as far as it goes; it was run and tried on Linux only.
"""

import os
import re
import shutil
import subprocess
import sys
import tarfile
import tempfile
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
NAME = "bowl-profiler"
FREEZER = "pyinstaller>=6.10,<7"
LEFT_OUT = (  # what packages would take along though the program never asks for it
    "tkinter", "IPython", "pytest", "setuptools", "pip", "PySide6.QtQml", "PySide6.QtQuick", "PySide6.QtNetwork",
    "matplotlib.backends.backend_tkagg", "matplotlib.tests", "numpy.tests", "scipy.tests", "PIL.ImageQt",
)  # fmt: skip
FILES_LEFT_OUT = re.compile(  # Qt's parts for what the program does not do, and another toolkit's theme
    r"libQt6(Qml|Quick|VirtualKeyboard|Pdf|Designer|Test|Sql|Multimedia)|libqgtk3|libg[td]k-3|qt(base)?_[a-z_]+\.qm"
)
DESKTOP = """[Desktop Entry]
Type=Application
Name=Bowl Profiler
Comment=Shape the inside of a spinning bowl
Exec=bowl-profiler %f
Icon=bowl-profiler
Terminal=false
Categories=Science;Engineering;
MimeType=application/x-bowl-profiler;
"""
MIME = """<?xml version="1.0" encoding="UTF-8"?>
<mime-info xmlns="http://www.freedesktop.org/standards/shared-mime-info">
  <mime-type type="application/x-bowl-profiler">
    <comment>Bowl study</comment>
    <glob pattern="*.bowl"/>
    <icon name="bowl-profiler"/>
  </mime-type>
</mime-info>
"""
INSTALL = """#!/bin/sh
# Put Bowl Profiler into the menu of this user, and let .bowl files open with it. Nothing outside $HOME is touched.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
share=${XDG_DATA_HOME:-$HOME/.local/share}
mkdir -p "$HOME/.local/bin" "$share/applications" "$share/mime/packages" "$share/icons/hicolor/scalable/apps"
ln -sf "$here/bowl-profiler" "$HOME/.local/bin/bowl-profiler"
sed "s|^Exec=.*|Exec=\\"$here/bowl-profiler\\" %f|" "$here/share/bowl-profiler.desktop" \\
    > "$share/applications/bowl-profiler.desktop"
cp "$here/share/bowl-profiler.xml" "$share/mime/packages/"
cp "$here/share/bowl-profiler.svg" "$share/icons/hicolor/scalable/apps/"
for tool in "update-mime-database $share/mime" "update-desktop-database $share/applications"; do
    $tool >/dev/null 2>&1 || true
done
echo "Bowl Profiler is in the menu; .bowl files open with it."
"""


def main(arguments: list[str]) -> int:
    out = Path(arguments[0] if arguments else "dist").resolve()
    out.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(prefix="ship-") as work:
        python = environment(Path(work) / "env")
        folder = freeze(python, out, Path(work))
    if sys.platform.startswith("linux"):
        add_desktop(folder)
    archive = pack(folder)
    size = sum(f.stat().st_size for f in folder.rglob("*") if f.is_file() and not f.is_symlink())
    print(f"{folder}: {size / 1e6:.0f} MB; {archive.name}: {archive.stat().st_size / 1e6:.0f} MB")
    if sys.platform.startswith("linux"):
        print(f"The C library must be glibc {'.'.join(map(str, least_glibc(folder)))} or newer.")
    return 0


def environment(place: Path) -> Path:
    """A Python of its own with the project, what it needs as it was tested, and the freezer."""
    venv.create(place, with_pip=True)
    python = place / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    constraints = ROOT / "packaging" / "constraints.txt"
    install = [python, "-m", "pip", "install", "--quiet", "--constraint", constraints]
    subprocess.run([*install, ROOT, FREEZER], check=True)
    return python


def freeze(python: Path, out: Path, work: Path) -> Path:
    """The folder with the program in it."""
    entry = work / f"{NAME}.py"
    entry.write_text("from profiler.cli.main import main\n\nraise SystemExit(main())\n", encoding="utf-8")
    options = ["--onedir", "--noconfirm", "--clean", "--log-level", "WARN", "--name", NAME]
    options += ["--distpath", out, "--workpath", work / "build", "--specpath", work]
    options += ["--collect-data", "profiler", "--collect-submodules", "profiler", "--recursive-copy-metadata", NAME]
    for name in LEFT_OUT:
        options += ["--exclude-module", name]
    subprocess.run([python, "-m", "PyInstaller", *map(str, options), str(entry)], check=True, cwd=work)
    folder = out / NAME
    for part in folder.rglob("*"):
        if part.is_file() and FILES_LEFT_OUT.match(part.name):
            part.unlink()
    return folder


def add_desktop(folder: Path) -> None:
    """Menu entry, file type and icon, and the script that puts them where this user's desktop looks."""
    share = folder / "share"
    share.mkdir(exist_ok=True)
    (share / f"{NAME}.desktop").write_text(DESKTOP, encoding="utf-8")
    (share / f"{NAME}.xml").write_text(MIME, encoding="utf-8")
    shutil.copy(ROOT / "assets" / "icon.svg", share / f"{NAME}.svg")
    script = folder / "install.sh"
    script.write_text(INSTALL, encoding="utf-8")
    script.chmod(0o755)


def pack(folder: Path) -> Path:
    """The folder as one archive beside it."""
    archive = folder.with_name(f"{folder.name}-{sys.platform}.tar.gz")
    with tarfile.open(archive, "w:gz", compresslevel=6) as packed:
        packed.add(folder, arcname=folder.name)
    return archive


def least_glibc(folder: Path) -> tuple[int, ...]:
    """The newest version of the C library that any part asks for."""
    found = {(2, 0)}
    for part in folder.rglob("*"):
        if part.is_file() and not part.is_symlink() and (".so" in part.name or part.name == NAME):
            asked = re.findall(rb"GLIBC_(\d+)\.(\d+)", part.read_bytes())
            found |= {(int(major), int(minor)) for major, minor in asked}
    return max(found)


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
