"""ore-window in the terminal."""

from pathlib import Path

import pytest

from profiler.cli.main import main
from profiler.study import read_study, write_study
from profiler.study.files.examples import read


def test_a_window_is_written_and_what_makes_none_is_one_sentence(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    file, out = tmp_path / "s.bowl", tmp_path / "w.bowl"
    write_study(read("graded"), file)
    words = ["ore-window", str(file), "--save", str(out)]
    assert main([*words, "--vary", "solids=4", "--vary", "d50=20", "--way", "crossed"]) == 0
    assert len(read_study(out).window) == 9 and "solids −4" in capsys.readouterr().out
    assert main([*words, "--vary", "colour=4"]) == 2
    assert "write one of solids" in capsys.readouterr().err
