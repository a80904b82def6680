"""The invented studies that come with the program, to start from and to practise on."""

from importlib.resources import files

from profiler.study.files.file import SUFFIX, decode_study
from profiler.study.records.study import Study

DEFAULT = "graded"


def names() -> tuple[str, ...]:
    """Names of the examples, the default first."""
    found = [item.name.removesuffix(SUFFIX) for item in _FOLDER.iterdir() if item.name.endswith(SUFFIX)]
    return tuple(sorted(found, key=lambda name: (name != DEFAULT, name)))


def read(name: str) -> Study:
    """The example of that name. Raises ValueError for a name that is not among them."""
    if name not in names():
        raise ValueError(f'There is no example "{name}"; there are {", ".join(names())}.')
    return decode_study((_FOLDER / f"{name}{SUFFIX}").read_bytes(), f"{name}{SUFFIX}")


_FOLDER = files("profiler.data") / "examples"
