"""An output is one record: added to the table, it is in the terminal, in "Write all", in every list."""

import subprocess
import sys
from pathlib import Path

import pytest

from profiler.assess import evaluate
from profiler.cli.main import COMMANDS, main
from profiler.output import outputs, writing
from profiler.output.record.option import Amount, Choice, Day, Group, Offer, Only, Request, Words, flag_of
from profiler.output.record.output import Made, Output, TableShown
from profiler.study import Field, write_study
from profiler.study.files import examples

UNIT = Choice("card_unit", "Unit", "What the mass is told in", (Offer("kg", "Kilograms"), Offer("lb", "Pounds")))
COPIES = Amount(Field("copies", "Copies", "", 1.0, 9.0, 1.0, 0, "How many are written on it"), 1.0)
SIGNED = Words("signed", "Signed by", "Who answers for it", only=Only(UNIT, "lb"))


def text_of(e, request):
    return f"{e.design.name}: {e.body.mass_kg:.1f} {request[UNIT]} x {request[COPIES]:.0f} {request[SIGNED]}"


def make(path, e, request):
    path.write_text(text_of(e, request))
    return [Made(path, "weight card")]


CARD = Output(
    "card", "Weight card", "The mass on a card, made up by a test", (".txt", ".md"), make=make,
    preview=lambda e, request: TableShown(("Card",), ((text_of(e, request),),)), tabled=True,
    groups=(Group("On the card", (UNIT, COPIES, SIGNED)),),
)  # fmt: skip


@pytest.fixture
def card(monkeypatch):
    monkeypatch.setattr(outputs, "OUTPUTS", (*outputs.OUTPUTS, CARD))


@pytest.fixture
def study(tmp_path):
    path = tmp_path / "s.bowl"
    write_study(examples.read("graded"), path)
    return path


def test_a_new_output_is_in_the_terminals_help_with_its_options_and_in_the_list_of_commands(card, capsys):
    assert main(["export", "--help"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    for words in ("weight card: The mass on a card", "--card-unit {kg,lb}", "(default: kg)", "--copies",
                  "1 to 9", "--signed TEXT", ".txt", "step,drilling,card}",
                  "card .txt .md The mass on a card"):  # fmt: skip
        assert words in said
    main(["--help"])
    assert "drilling or weight card" in " ".join(capsys.readouterr().out.split())


def test_a_new_output_is_written_from_the_terminal_with_what_was_said(card, study, tmp_path, capsys):
    assert main(["export", str(study), str(tmp_path / "c.txt"), "--card-unit", "lb", "--signed", "X"]) == 0
    assert (tmp_path / "c.txt").read_text().endswith(" lb x 1 X")
    for flags, said in ((("--copies", "10"), "must lie between 1 and 9"), (("--card-unit", "st"), "none of kg, lb"),
                        (("--signed", "X"), "--signed belongs to --card-unit lb")):  # fmt: skip
        assert main(["export", str(study), str(tmp_path / "d.md"), *flags]) == 2
        assert said in capsys.readouterr().err and not (tmp_path / "d.md").exists()


def test_a_new_output_is_among_what_is_written_into_a_folder(card):
    names = [t.path.name for t in writing.all_targets(Path("x"), "bowl", Request())]
    assert names[-1] == "bowl-card.txt" and len(names) == 12


# the table as it is


def test_no_two_outputs_have_a_key_and_options_of_one_key_are_one_option():
    keys = [o.key for o in outputs.OUTPUTS]
    assert len(set(keys)) == len(keys)
    told = [option for o in outputs.OUTPUTS for option in (o.file_type, *o.options)]
    for option in told:
        alike = [o for o in told if o.key == option.key]
        assert {(o.label, o.help, o.usual, flag_of(o)) for o in alike} == {
            (option.label, option.help, option.usual, flag_of(option))
        }
    flags = {option.key: flag_of(option) for option in told if option.in_terminal}
    assert len(set(flags.values())) == len(flags)


def test_every_option_takes_its_usual_value_and_refuses_nonsense_to_it():
    for option in outputs.options().values():
        assert option.taken(option.usual) == option.usual
        if not isinstance(option, Words):
            assert option.taken("no such value") in (option.usual, None)
        if isinstance(option, Amount):
            assert option.taken(option.field.high + 1.0) == option.usual
    assert [o.key for o in outputs.options().values() if isinstance(o, Day)] == ["date"]


def test_an_extension_alone_means_the_output_it_is_foremost_a_type_of():
    meant = {suffix: outputs.outputs_of(suffix)[0].key for suffix in outputs.suffixes()}
    assert meant == {".pdf": "drawing", ".dxf": "profile", ".svg": "drawing", ".png": "drawing", ".html": "report",
                     ".csv": "table", ".stl": "solid", ".3mf": "solid", ".step": "step", ".stp": "step"}  # fmt: skip


def test_an_option_that_does_not_count_has_its_usual_value():
    request = Request({"part": "liner", "shrinkage": 2.0, "gauge_type": ".pdf", "release": "R12"})
    shrinkage, release = outputs.options()["shrinkage"], outputs.output("gauge").options[0]
    assert request[shrinkage] == 0.0 and request[release] == "R2000"
    assert Request({"part": "former", "shrinkage": 2.0})[shrinkage] == 2.0


def test_each_output_is_told_in_the_readme_as_the_table_has_it():
    text = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    for line in outputs.listed():
        assert f"\n    {line}\n" in text


def test_window_and_terminal_start_without_loading_the_outputs():
    code = (
        "import sys, profiler.cli.main, profiler.ui.window; print([m for m in sys.modules if 'profiler.output' in m])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=True)
    assert done.stdout.strip() == "[]"


def test_every_command_is_told_in_the_readme():
    text = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    assert all(f"bowl-profiler {name} " in text for name in COMMANDS)


def test_every_output_says_what_it_needs_of_a_design_that_cannot_be_drawn():
    from profiler.study import GrooveRule
    from profiler.study.edits.design_edits import with_grooves

    loaded = examples.read("graded")
    broken = evaluate(with_grooves(loaded.design, GrooveRule(mouth_mm=40.0)), loaded.machine, loaded.duty)
    assert broken.shape is None
    assert [o.key for o in outputs.OUTPUTS if o.objection(broken, Request()) is None] == ["report"]
    assert outputs.output("table").objection(broken, Request({"table": "findings"})) is None
