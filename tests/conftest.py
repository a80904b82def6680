"""What holds for every test: no screen is needed, and nobody's own folders are touched.

Nothing of Qt is imported here: what concerns windows is in tests/ui/conftest.py.
"""

import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")  # Qt reads it once, when its first application is made

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("same", derandomize=True)

HOME_VARIABLES = ("HOME", "USERPROFILE")
FOLDER_VARIABLES = (
    "XDG_CONFIG_HOME",
    "XDG_DATA_HOME",
    "XDG_CACHE_HOME",
    "XDG_STATE_HOME",
    "XDG_RUNTIME_DIR",
    "APPDATA",
    "LOCALAPPDATA",
)


def pytest_configure(config: pytest.Config) -> None:
    """Every run tries the same random examples, so that red speaks of the change; the long tier draws new ones."""
    if config.option.markexpr != "long":
        settings.load_profile("same")


@pytest.fixture(scope="session", autouse=True)
def home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Give the whole run a home of its own: settings, recovery files and user lists land there."""
    home = tmp_path_factory.mktemp("home")
    with pytest.MonkeyPatch.context() as patch:
        for name in HOME_VARIABLES:
            patch.setenv(name, str(home))
        for name in FOLDER_VARIABLES:
            folder = home / name.lower()
            folder.mkdir(mode=0o700)  # Qt warns of a runtime folder that others may read
            patch.setenv(name, str(folder))
        yield home
