"""Where a study's friction is measured nothing calls the model uncalibrated: every output, help, terminal."""

import re
import zipfile

import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.assess.evidence.words import standing_short
from profiler.assess.quantities.table import QUANTITIES
from profiler.cli.main import main
from profiler.output.outputs import OUTPUTS
from profiler.output.writing import export
from profiler.study import Calibrated, write_study
from profiler.study.files.examples import read
from profiler.ui.help.help_window import HelpWindow
from profiler.ui.help.record_page import record_html

MEASURED = Calibrated(36.0, 110.0, 217.6, "<Angle> & stop: 95 % interval 0.55 to 0.62")
STUDY = read("watered")
DUTY = replace(STUDY.duty, friction=0.58, friction_low=0.55, friction_high=0.62, calibrated=MEASURED)
STUDY = STUDY.having("duties", (DUTY, *STUDY.duties[1:])).having("shown", STUDY.shown.having("duty", DUTY.name))
SAME = (".html", ".svg")  # what an output's PDF says too, and quicker
EVERY = [
    pytest.param(o.key, s, marks=pytest.mark.long if s == ".pdf" and set(SAME) & set(o.suffixes) else ())
    for o in OUTPUTS
    for s in o.suffixes
]
UNREADABLE = {".png"}  # pictures of what the others hold as text
WORD = "uncalibrated"


@pytest.fixture(scope="module")
def e():
    return evaluate(STUDY.design, STUDY.machine, STUDY.duty)


def text_of(path):
    if path.suffix == ".3mf":
        with zipfile.ZipFile(path) as package:
            return package.read("3D/3dmodel.model").decode()
    if path.suffix == ".pdf":
        import pypdf

        return " ".join(" ".join(page.extract_text() for page in pypdf.PdfReader(path).pages).split())
    return path.read_bytes().decode("utf-8", "replace")


@pytest.mark.parametrize(("kind", "suffix"), EVERY, ids=lambda word: word)
def test_no_output_calls_a_measured_model_uncalibrated(e, tmp_path, kind, suffix):
    if suffix in UNREADABLE:
        pytest.skip("a picture")
    path = tmp_path / f"out{suffix}"
    export(path, e, kind=kind)
    said = re.sub(r"-\s+", "", text_of(path)).lower()
    assert WORD not in said
    if (kind, suffix) in (("profile", ".dxf"), ("drawing", ".pdf"), ("report", ".html"), ("gauge", ".dxf")):
        assert "friction measured" in said


def test_findings_and_quantities_follow(e):
    assert WORD not in " ".join(f.source + f.text for f in e.findings)
    resting = [f.source for f in e.findings if f.source.startswith("slurry model, ")]
    assert resting and set(resting) == {f"slurry model, {standing_short(DUTY)}"}
    before = [f.source for f in evaluate(STUDY.design, STUDY.machine, replace(DUTY, calibrated=None)).findings]
    assert any(WORD in source for source in before)
    assert any(WORD in q.limits for q in QUANTITIES) and WORD not in " ".join(q.limits_under(DUTY) for q in QUANTITIES)


def test_terminal_and_json_follow(tmp_path, capsys):
    path = tmp_path / "measured.bowl"
    write_study(STUDY, path)
    for words in (
        ("check",),
        ("check", "--json"),
        ("worn", "--rate", "0.4", "--hours", "900"),
    ):
        main([words[0], str(path), *words[1:]])
        said = capsys.readouterr().out
        assert said and WORD not in said.lower(), words


def test_help_follows_and_writes_what_was_typed_as_plain_text(qtbot, e):
    window = HelpWindow(())
    qtbot.addWidget(window)
    assert any(WORD in page for page in window._pages.values())
    window.show_standing(DUTY)
    told = " ".join(window._pages.values())
    assert WORD not in told.lower() and "&lt;Angle&gt; &amp; stop" in told and "<Angle>" not in told
    assert WORD not in record_html(e).lower() and "<Angle>" not in record_html(e)
    window.show_standing(replace(DUTY, calibrated=None))
    assert any(WORD in page for page in window._pages.values())
