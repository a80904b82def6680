"""A figure that leaves out what is not given is marked, the right way: given things are taken away one by one."""

import json

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.assess.quantities.left_out import Bound, bound_of, missing, told
from profiler.assess.quantities.spin_quantities import SPIN_QUANTITIES
from profiler.assess.quantities.table import quantity
from profiler.output.report.content import Job, report_of
from profiler.output.terminal.check_json import check_json
from profiler.output.terminal.check_text import check_text
from profiler.study import HolePlan
from profiler.study.files import examples

STUDY = examples.read("graded")
GIVEN = replace(STUDY.machine, supply_kpa=180.0, supply_l_min=240.0)
NO_DIRECTION = {"rotor_centre_mm"}  # moves either way, with where the missing part is
UNKNOWN = {"supply": {"supply_kpa": None}, "shell": {"shell_mm": None},
           "shell floor": {"shell_floor_mm": None}, "jacket inlet": {"jacket_inlet_mm": None},
           "further mass": {"further_mass_kg": None}, "further inertia": {"further_inertia_kg_m2": None}}  # fmt: skip


EVENLY = replace(STUDY.design, holes=HolePlan())  # then the supply's own pressure stands in the jacket


@pytest.fixture(scope="module")
def whole():
    return evaluate(EVENLY, GIVEN, STUDY.duty)


@pytest.mark.parametrize("what", UNKNOWN)
def test_every_figure_that_would_be_another_with_it_says_which_way(whole, what):
    less = evaluate(EVENLY, replace(GIVEN, **UNKNOWN[what]), STUDY.duty)
    moved = 0
    for q in SPIN_QUANTITIES:
        a, b = float(q.get(whole)[0]), float(q.get(less)[0])
        assert bound_of(q, whole) is None and missing(q, whole) == ""
        if np.isnan(b) or np.isclose(a, b, rtol=1e-9) or q.key in NO_DIRECTION:
            continue
        moved += 1
        assert bound_of(q, less) is (Bound.LEAST if b < a else Bound.MOST), q.key
        assert told(q, less).startswith(bound_of(q, less).value) and "given" in missing(q, less)
    assert moved >= 3


def test_the_mark_stands_wherever_the_figure_does():
    """Terminal, JSON, report: the thrust without the supply's pressure is a least one, the strength factor a most."""
    e = evaluate(STUDY.design, replace(GIVEN, supply_kpa=None), STUDY.duty)
    thrust, factor = (told(quantity(key), e) for key in ("thrust_kn", "strength_factor"))
    assert thrust.startswith("at least") and factor.startswith("at most")
    text = " ".join(check_text(e).split())
    assert f"end thrust {thrust}" in text and "strength factor at most" in text
    rotor = json.loads(check_json(e))["rotor"]
    assert rotor["bounds"]["thrust_kn"] == "at least" and rotor["bounds"]["strength_factor"] == "at most"
    cells = [cell for b in report_of(e, Job("", "", "")).blocks for row in getattr(b, "rows", ()) for cell in row]
    assert thrust in cells and factor in cells
    assert any("at least" in f.text for f in e.findings if f.code in ("flange_capacity_unknown", "flange_thrust"))


@pytest.mark.parametrize("name", examples.names())
def test_safety_comes_first_and_nothing_is_called_safe(name):
    study = examples.read(name)
    lines = check_text(evaluate(study.design, study.machine, study.duty)).splitlines()
    text = " ".join(lines)
    assert text.index("can kill") < text.index("Rotating assembly") < text.index("overfall")
    assert " safe" not in text.lower().replace("safety", "")
