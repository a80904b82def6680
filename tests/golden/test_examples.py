"""The examples' own numbers, pinned, so that a change of them is seen and meant.

    python -m tests.golden.test_examples     write them anew, then look at what changed

Beside them stands what an independent calculation of the same model gave for the default example.
"""

import json
from collections import Counter
from pathlib import Path

import msgspec
import pytest
from msgspec.structs import replace

from profiler.assess import Severity, evaluate
from profiler.output.terminal.check_json import check_of
from profiler.study.files import examples
from profiler.study.files.file import decode_study, encode_study

PINNED = Path(__file__).with_name("examples.json")
LETTERS = {None: "?", "strong": "S", "weak": "w", "matched": "m", "sheltered": "-"}


def cases():
    for name in examples.names():
        study = examples.read(name)
        for design in study.designs:
            for duty in study.duties:
                yield f"{name} / {design.name} / {duty.name}", evaluate(design, study.machine, duty)


def numbers_of(evaluation):
    """What is pinned of a case: closed forms in full, the model's figures where they tell most."""
    check, shape = check_of(evaluation), evaluation.shape
    return {
        "floor_radius_mm": shape.floor_radius,
        "lip_radius_mm": shape.lip_radius,
        "area_mm2": check.body.section_area_mm2,
        "volume_mm3": evaluation.body.volume_mm3,
        "inertia_kg_m2": check.body.inertia_kg_m2,
        "states": "".join(LETTERS[g.state] for g in check.grooves),
        "repose_deg": [round(w.repose_deg, 3) for w in check.wall[::100]],
        "buried_mm": [round(g.buried_mm, 3) for g in check.grooves],
        "faults": [f"{f.severity} {f.code}" for f in check.findings if f.severity != "note"],
        # numbers alone: which of them are bounds is held by tests/assess/test_left_out.py
        "rotor": {key: held for key, held in msgspec.to_builtins(check.rotor).items() if key != "bounds"},
    }


ALL = dict(cases())


@pytest.mark.parametrize("case", ALL)
def test_an_example_gives_the_numbers_it_gave(case):
    pinned, found = json.loads(PINNED.read_text("utf-8"))[case], numbers_of(ALL[case])
    for key in ("floor_radius_mm", "lip_radius_mm", "area_mm2", "volume_mm3", "inertia_kg_m2"):
        assert found[key] == pytest.approx(pinned[key], rel=1e-9), key  # closed forms and boundary integrals
    for key in ("repose_deg", "buried_mm"):
        assert found[key] == pytest.approx(pinned[key], abs=2e-3), key  # as rounded
    assert found["states"] == pinned["states"]
    assert found["faults"] == pinned["faults"]
    assert found["rotor"] == pytest.approx(pinned["rotor"], rel=1e-5)  # the slurry's mass follows the model's figures


def test_every_pinned_case_is_still_an_example():
    assert set(json.loads(PINNED.read_text("utf-8"))) == set(ALL)


@pytest.mark.parametrize(
    ("duty", "counts"),
    [("As designed", (3, 4, 4, 3)), ("Thin and fine", (6, 2, 4, 2)), ("Thick and coarse", (0, 7, 5, 2))],
)
def test_the_default_design_has_the_states_an_independent_calculation_gave(duty, counts):
    """Counts of strong, weak, matched and sheltered grooves, from a calculation by another hand.

    It had another hole plan, so that each count may differ by one, and it claimed a state from the floor up.
    """
    given = ALL[f"graded / Graded, first try / {duty}"]
    claimed = evaluate(given.design, replace(given.machine, entry_mm=0.0), given.duties)
    states = [g.state for g in check_of(claimed).grooves]
    found = Counter(states)
    for state, count in zip(("strong", "weak", "matched", "sheltered"), counts, strict=True):
        assert abs(found[state] - count) <= 1, state
    assert states == sorted(states, key=list(LETTERS).index)  # from the floor up, in this order


@pytest.mark.parametrize("case", [c for c in ALL if not c.startswith("faulty")])
def test_the_sound_examples_fit_their_machine(case):
    assert not [f.text for f in ALL[case].findings if f.severity is Severity.STOP]


def test_the_faulty_example_has_several_stops_and_checks_and_can_still_be_drawn():
    shown = examples.read("faulty")
    evaluation = evaluate(shown.design, shown.machine, shown.duty)
    found = Counter(f.severity for f in evaluation.findings)
    assert found[Severity.STOP] >= 3 and found[Severity.CHECK] >= 2
    assert evaluation.shape is not None
    assert "on purpose" in shown.title and "on purpose" in shown.note


@pytest.mark.parametrize("name", examples.names())
def test_an_example_says_that_it_is_invented_and_survives_its_file(name):
    study = examples.read(name)
    assert "invented" in study.title.lower() and "invented" in study.note.lower()
    assert "invented" in study.machine.name and "invented" in study.machine.note.lower()
    assert all("invented" in design.note.lower() for design in study.designs)
    assert study.shown.design in {d.name for d in study.designs}
    assert study.shown.duty in {d.name for d in study.duties}
    assert decode_study(encode_study(study), name) == study


def test_an_unknown_example_lists_the_known_ones():
    with pytest.raises(ValueError, match="graded, cone, faulty, trial, upright, watered"):
        examples.read("nobody's")


if __name__ == "__main__":
    PINNED.write_text(json.dumps({case: numbers_of(e) for case, e in ALL.items()}, indent=1) + "\n", "utf-8")
    print(f"written: {PINNED}")
