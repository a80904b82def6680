"""Every file a body, a mould or a gauge can be made from says that it must not be spun, and whether it was checked."""

import zipfile

import pytest

from profiler.assess import evaluate
from profiler.assess.findings.finding import NEVER_SPIN, stops
from profiler.output.writing import export, preview
from profiler.pictures.sheet.clashes import texts_of
from profiler.study.files import examples

CASES = [("stl", "solid"), ("3mf", "solid"), ("csv", "table"), ("dxf", "profile"), ("dxf", "gauge"), ("pdf", "gauge"),
         ("step", "step"), ("dxf", "drawing")]  # fmt: skip
WORDS = ("never spin a", "approval")


@pytest.fixture(scope="module", params=["graded", "faulty"])
def e(request):
    study = examples.read(request.param)
    return evaluate(study.design, study.machine, study.duty)


def text_of(path):
    if path.suffix == ".3mf":
        with zipfile.ZipFile(path) as package:
            return package.read("3D/3dmodel.model")[:2000].decode()
    if path.suffix == ".pdf":
        import pypdf

        return " ".join(pypdf.PdfReader(path).pages[0].extract_text().split())
    if path.suffix == ".stl":
        return path.read_bytes()[:80].decode("ascii")
    return path.read_text("utf-8")


@pytest.mark.parametrize(("suffix", "kind"), CASES)
def test_the_file_says_so(e, tmp_path, suffix, kind):
    path = tmp_path / f"out.{suffix}"
    export(path, e, kind=kind)
    said = text_of(path)
    if kind == "drawing":
        assert "CAUTION: SPINNING BOWLS" in said
    else:
        assert all(word in said.lower() for word in WORDS)
    assert ("NOT CHECKED" in said) == bool(stops(e.findings))


def test_the_head_of_the_stl_has_its_eighty_bytes_and_is_not_taken_for_text(e, tmp_path):
    path = tmp_path / "out.stl"
    export(path, e, kind="solid")
    head = path.read_bytes()[:80]
    assert len(head) == 80 and not head.lower().startswith(b"solid") and NEVER_SPIN.encode() in head


def test_it_stands_where_one_looks_before_writing(e):
    said = " ".join(t.text for sheet in preview("solid", e) for t in texts_of(sheet.items)).lower()
    assert all(word in said for word in WORDS)
    assert all(word in preview("table", e).about.lower() for word in WORDS)


def test_whoever_casts_or_cuts_is_warned_of_vapour_and_dust(e, tmp_path):
    export(tmp_path / "p.dxf", e, kind="profile")
    assert "VAPOUR AND DUST" in (tmp_path / "p.dxf").read_text("ascii")
