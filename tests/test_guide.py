"""The developers' page: every file and folder it names is there, and holds the names told beside it."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
NAMED = re.compile(r"`([a-z_.]+(?:/[A-Za-z_.*-]+)+/?|[a-z_]+\.py)`(?: `([A-Za-z_]+)`)?")
LISTS = ("A new finding", "A new output", "A new quantity", "A new page", "A new field")


def places(path: str) -> list[Path]:
    """Files or folders of that name, as one looks for them: from the root, from the package, from one of its rooms."""
    found = [p for base in (ROOT, ROOT / "profiler") for p in base.glob(path)]
    return found or list((ROOT / "profiler").glob(f"**/{path}"))


@pytest.mark.parametrize("named", sorted({m.groups() for m in NAMED.finditer(GUIDE)}, key=str), ids=str)
def test_what_the_page_names_is_there(named: tuple[str, str | None]) -> None:
    path, name = named
    found = places(path)
    assert found, f"DEVELOPERS.md names {path}, which is not there"
    if name is not None:
        assert any(re.search(rf"\b{name}\b", p.read_text(encoding="utf-8")) for p in found if p.is_file())


def test_a_wrong_path_would_be_seen() -> None:
    assert places("assess/flow/flow_stage.py") and not places("assess/stations.py")
    assert NAMED.findall("`assess/flow/flow_stage.py` `groove_buried`") == [
        ("assess/flow/flow_stage.py", "groove_buried")
    ]


@pytest.mark.parametrize("title", LISTS)
def test_each_checklist_names_its_steps_and_the_test_that_proves_it(title: str) -> None:
    text = GUIDE.split(f"### {title}\n")[1].split("\n#")[0]
    assert re.findall(r"^(\d)\.", text, re.MULTILINE)[:2] == ["1", "2"] and "`tests/" in text
