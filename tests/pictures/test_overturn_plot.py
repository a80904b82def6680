"""Why a groove overturns, as a picture: states by pattern and legend, every number readable, every word explained."""

import itertools
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from profiler.assess import Stages, evaluate
from profiler.assess.flow.flow_stage import HIGH, LOW
from profiler.explore.why_overturn import why
from profiler.physics.slurry.overturn import State
from profiler.pictures.basics.display import Area, Label, Role, Strokes
from profiler.pictures.basics.state_marks import SHORT_WORDS, STATE_ROLES, pattern_role
from profiler.pictures.charts.overturn_plot import LETTER_PX, LINE_PX, MARK_PX, power_plot, ratio_plot, stepped_plot
from profiler.study.files import examples
from profiler.ui.eddy.why_pane import overfall_words, words_of
from profiler.units import MM
from tests.pictures.scenes import of_kind

CASES = [(n, d.name) for n in ("cone", "graded", "upright") for d in examples.read(n).duties]


@cache
def evaluated(name: str, duty: str):
    study = examples.read(name)
    return evaluate(study.design, study.machine, next(d for d in study.duties if d.name == duty), Stages.FLOW)


@pytest.mark.parametrize(("name", "duty"), CASES)
def test_every_groove_has_a_patterned_mark_and_a_number_that_meets_nothing(name: str, duty: str) -> None:
    e = evaluated(name, duty)
    if e.flow is None or not len(e.shape.mouths):
        return
    found = why(e, 1)
    for plot, size in itertools.product((ratio_plot, power_plot), ((697.0, 580.0), (430.0, 260.0))):
        picture = plot(found, *size)
        numbers = [i for i in of_kind(picture, Label) if i.text.isdigit() and i.align.name == "LEFT"]
        texts = [int(i.text) for i in numbers]
        assert len(texts) == len(set(texts)) and set(texts) <= set(range(1, len(e.shape.mouths) + 1)) and 1 in texts
        if len(e.shape.mouths) <= 16:
            assert len(texts) == len(e.shape.mouths), (name, duty, plot.__name__)
        boxes = [(i.x, i.y - LINE_PX / 2, i.x + LETTER_PX * len(i.text), i.y + LINE_PX / 2) for i in numbers]
        marks = [i for i in of_kind(picture, Area) if i.role in STATE_ROLES.values()]
        square = [m.points for m in marks if np.ptp(m.points[:, 0]) == pytest.approx(2.0 * MARK_PX)]
        boxes += [(*p.min(axis=0), *p.max(axis=0)) for p in square]
        for a, b in itertools.combinations(boxes[: len(numbers)], 2):
            assert not meet(a, b)
        for a, b in itertools.product(boxes[: len(numbers)], boxes[len(numbers) :]):
            assert not meet(a, b)


def meet(a: tuple[float, ...], b: tuple[float, ...]) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def test_the_states_are_told_by_pattern_and_by_a_legend() -> None:
    found = why(evaluated("graded", "As designed"), 6)
    picture = ratio_plot(found, 697.0, 580.0)
    words = [i.text for i in of_kind(picture, Label)]
    assert all(words.count(SHORT_WORDS[state]) == 1 for state in State)
    patterned = int(np.sum(found.grooves_state != State.SHELTERED)) + 4  # and in the legend, where no state is dotted
    assert len([s for s in of_kind(picture, Strokes) if s.role in (Role.INK, pattern_role(State.NONE))]) == patterned
    explained = " ".join(i.text for i in of_kind(stepped_plot(found, 500.0, 280.0), Label))
    assert "springs clear" in explained and "slides over" in explained


def test_matched_is_told_by_its_two_overfalls() -> None:
    seen = 0
    for name, duty in CASES:
        e = evaluated(name, duty)
        if e.flow is None:
            continue
        for i in np.flatnonzero(e.flow.groove_state[0] == State.MATCHED).tolist():
            low, high = (float(e.flow.groove_overfall[0, level, i]) / MM for level in (LOW, HIGH))
            words = words_of(why(e, i + 1))
            assert low > 0.0 >= high and f"falls {low:.1f} mm at low friction" in words
            assert f"is buried {-high:.1f} mm at high" in words
            seen += 1
    assert seen > 5


def test_what_is_told_of_a_groove_reads_as_what_it_is() -> None:
    """A fall that is small is no 0.0, and a ratio that is not strong does not read as the least that is."""
    assert [overfall_words(mm) for mm in (0.04, -0.02, 1.26)] == ["falls 0.04 mm", "is buried 0.02 mm", "falls 1.3 mm"]
    found = why(evaluated("graded", "As designed"), 5)
    ratios = found.grooves_ratio.copy()
    ratios[4] = 1.9971
    assert "weak" in words_of(found) and "ratio 1.997," in words_of(replace(found, grooves_ratio=ratios))
