"""Whose work is bundled: every package the program brings along, its version, and its licence as it tells it."""

import re
from dataclasses import dataclass
from html import escape
from importlib.metadata import Distribution, PackageNotFoundError, distribution
from platform import python_version

PROJECT = "bowl-profiler"
FONTS = ("DejaVu Sans, DejaVu Sans Bold", "", "Bitstream Vera licence; changes in the public domain")
NO_LICENCE = "The owner of Bowl Profiler has not granted a licence for it yet."
QT = (
    "Qt and PySide6 are used under the GNU Lesser General Public License, version 3: they are separate files of this "
    "installation and may be replaced by other builds of the same version; their sources are at code.qt.io."
)


@dataclass(frozen=True, slots=True)
class Notice:
    name: str
    version: str
    licence: str


def notices() -> tuple[Notice, ...]:
    """Python, the packages in the order of their names, the fonts. A package that is not installed is left out."""
    found: dict[str, Notice] = {}
    open_names = [PROJECT]
    while open_names:
        name = open_names.pop()
        key = re.sub(r"[-_.]+", "-", name).lower()
        if key in found:
            continue
        try:
            package = distribution(name)
        except PackageNotFoundError:
            continue
        found[key] = Notice(package.metadata["Name"], package.version, licence_of(package))
        open_names += [n for n in map(_needed, package.requires or ()) if n]
    found.pop(PROJECT, None)
    packages = sorted(found.values(), key=lambda n: n.name.lower())
    return (Notice("Python", python_version(), "PSF-2.0"), *packages, Notice(*FONTS))


def licence_of(package: Distribution) -> str:
    """As the package tells it: an expression, its classifiers, or the name it gives."""
    data = package.metadata
    classified = [c.rsplit(" :: ", 1)[-1] for c in data.get_all("Classifier") or () if c.startswith("License ::")]
    told = {
        key: next(iter(data.get_all(key) or ()), "").strip().split("\n")[0] for key in ("License-Expression", "License")
    }
    return told["License-Expression"] or ", ".join(classified) or told["License"] or "stated in the package"


def notices_html() -> str:
    rows = "".join(
        f"<tr><td>{escape(n.name)}</td><td>{escape(n.version)}</td><td>{escape(n.licence)}</td></tr>" for n in notices()
    )
    head = "<tr><th>Part</th><th>Version</th><th>Licence</th></tr>"
    return f"<p>{NO_LICENCE}</p><p>{QT}</p><table cellpadding='3'>{head}{rows}</table>"


def _needed(requirement: str) -> str:
    """The name a requirement asks for; none where only an extra or another system asks for it."""
    if "extra ==" in requirement:
        return ""
    return re.split(r"[\s<>=!~;\[(]", requirement, maxsplit=1)[0]
