"""What the window remembers of its user from one day to the next: one record a setting, always read with its type.

Nobody else reads or writes QSettings. What a study says of itself stands in its own file, not here.
"""

from dataclasses import dataclass
from pathlib import Path
from typing import Generic, TypeVar

from PySide6.QtCore import QSettings

Value = TypeVar("Value", bool, str, list[str])


@dataclass(frozen=True, slots=True)
class Setting(Generic[Value]):
    """`default` gives the type: what is stored as something else is read as this, or is the default."""

    key: str
    default: Value
    meaning: str


@dataclass(frozen=True, slots=True)
class Family:
    """Settings made while the program runs, one for each place, stored as text; what it says is for its reader."""

    prefix: str
    meaning: str

    def of(self, place: str) -> Setting[str]:
        return Setting(f"{self.prefix}/{place}", "", self.meaning)


DARK = Setting("dark", False, "Dark colours")
INCHES = Setting("inches", False, "Lengths are shown and typed in inches")
TEXT_SIZE = Setting("text_size", "", "Size of text and pictures in percent, none for the usual one")
PLACE = Setting("window/place", "", "Where the window stood and how large it was, in Qt's own words")
PAGE = Setting("window/page", "", "The page in view when the window was closed")
FOLDER = Setting("folder", "", "Where a study was opened or saved last")
RECENT: Setting[list[str]] = Setting("recent", [], "Studies opened or saved lately, latest first")
EXPORT_FOLDER = Setting("export/folder", "", "Where an output was written last")
EXPORT_KIND = Setting("export/kind", "profile", "The output the export dialog proposes: what was written last")
EXPORT = Family("export", "An option the export dialog asks for itself, as it was last set")
OUTPUT = Family("output", "An option of an output as it was last set; by design where it belongs to one design")
SPLIT = Family("split", "How the parts of a page share their room")


class Settings:
    def __init__(self, store: QSettings) -> None:
        self._store = store

    @classmethod
    def of_user(cls) -> "Settings":
        return cls(QSettings(QSettings.Format.IniFormat, QSettings.Scope.UserScope, "bowl-profiler", "bowl-profiler"))

    @classmethod
    def in_file(cls, path: Path) -> "Settings":
        return cls(QSettings(str(path), QSettings.Format.IniFormat))

    def get(self, setting: Setting[Value]) -> Value:
        kind = type(setting.default)
        value = self._store.value(setting.key, setting.default, type=kind)
        return value if isinstance(value, kind) else setting.default

    def put(self, setting: Setting[Value], value: Value) -> None:
        self._store.setValue(setting.key, value)

    def has(self, setting: Setting[Value]) -> bool:
        return self._store.contains(setting.key)

    def folder(self, setting: Setting[str]) -> Path:
        """A folder that was remembered; the user's own where none was, or where it is gone."""
        stored = self.get(setting)
        return Path(stored) if stored and Path(stored).is_dir() else Path.home()

    @property
    def keys(self) -> list[str]:
        """What is stored now."""
        return self._store.allKeys()

    def sync(self) -> None:
        """Write what waits, and read what other windows wrote."""
        self._store.sync()
