"""The ore map: evaluate() at every node, exact where the window is, and the laws along each axis."""

import csv
import io
import json

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import Stages, evaluate
from profiler.assess.evaluate.batch import under
from profiler.assess.quantities.table import STATE_KEYS, quantity
from profiler.explore import ore_map as module
from profiler.explore.ore_map import AT_ONCE, AXES, asked, axis, mappable, ore_map, span
from profiler.output.tables.map_csv import map_csv, map_json, map_text
from profiler.progress import Cancelled, Progress
from profiler.study.files.examples import read
from tests.tiers import kept

STUDY = read("graded")
NOW = evaluate(STUDY.design, STUDY.machine, STUDY.duty)
STEADY_ENTRY = evaluate(STUDY.design, replace(STUDY.machine, entry_mm=27.0), STUDY.duty)  # it hides no groove by turns


def small(x="solids", y="d50", key="share_sheltered_pct", groove=None, count=6, e=NOW):
    return ore_map(asked(span(x, count=count), span(y, count=count), key, groove, e), e)


@pytest.mark.parametrize("q", kept(mappable(NOW), mappable(NOW)[::4]), ids=lambda q: q.key)
def test_the_value_at_the_present_point_equals_the_windows_to_the_last_bit(q):
    m = small(key=q.key, groove=7, count=4)
    row, column = m.at(*m.present)
    assert (m.x[column], m.y[row]) == m.present
    values = q.get(NOW)
    expected = float(values[0] if m.asked.groove is None else values[6])
    np.testing.assert_array_equal([m.values[row, column], m.present_value], expected)  # nan where there is none


@pytest.mark.parametrize("a", AXES, ids=lambda a: a.word)
def test_the_present_point_is_exact_on_every_axis(a):
    other = "solids" if a.word != "solids" else "water"
    m = small(a.word, other, "groove_overfall_mm", 5, 4)
    row, column = m.at(*m.present)
    assert m.values[row, column] == float(quantity("groove_overfall_mm").get(NOW)[4])


def test_every_node_is_a_single_evaluation():
    m = small(key="groove_power_w", groove=6, count=5)
    for row in range(5):
        for column in range(5):
            e = evaluate(STUDY.design, STUDY.machine, m.duty_at(row, column), Stages.FLOW)
            alone = np.nan if e.flow is None else float(quantity("groove_power_w").get(e)[5])
            assert m.values[row, column] == pytest.approx(alone, rel=1e-9, abs=1e-9, nan_ok=True)
    assert np.mean(np.isfinite(m.values)) > 0.7


LAWS = [  # quantity, axis, +1 grows along it: references are the model's own monotonies
    ("share_sheltered_pct", "solids", 1), ("share_sheltered_pct", "friction", 1), ("share_sheltered_pct", "density", 1),
    ("share_sheltered_pct", "d50", 1), ("share_sheltered_pct", "water", -1),
    ("power_w", "speed", 1), ("power_w", "feed", 1), ("exposed_count", "solids", -1), ("body_energy_j", "speed", 1),
]  # fmt: skip


@pytest.mark.parametrize(("key", "along", "sign"), LAWS)
def test_the_law_along_an_axis(key, along, sign):
    across = "solids" if along != "solids" else "d50"
    m = small(along, across, key, count=7, e=STEADY_ENTRY)
    steps = sign * np.diff(m.values, axis=1)
    assert np.mean(np.isfinite(steps)) > 0.7
    steps = steps[np.isfinite(steps)]  # the model has no answer where a film would be thinner than its grains
    assert (steps >= -1e-9).all()
    assert steps.sum() > 0.0


def test_more_feed_lowers_repose_unless_water_is_there_to_be_thinned_less():
    """Repose falls with flow; with fluidising water, more feed also means less dilution, which works the other way."""
    dry = evaluate(STUDY.design, STEADY_ENTRY.machine, replace(STUDY.duty, water_l_min=0.0))
    steps = np.diff(small("feed", "d50", e=dry).values, axis=1)
    assert np.mean(np.isfinite(steps)) > 0.7 and (steps[np.isfinite(steps)] < 0.0).all()
    wet = small("feed", "d50", e=STEADY_ENTRY).values
    known = np.isfinite(wet[:, 0])
    assert known.sum() > 2 and (wet[known, -1] > wet[known, 0]).all()


def test_shares_of_the_states_and_of_what_is_not_claimed_sum_to_one_wherever_there_is_an_answer():
    total = sum(small(key=f"share_{s}_pct", count=5).values for s in STATE_KEYS.values())
    assert np.mean(np.isfinite(total)) > 0.7
    np.testing.assert_allclose(total[np.isfinite(total)], 100.0, atol=1e-9)


def test_friction_carries_its_band_along():
    turned = axis("friction").turned(STUDY.duty, 0.54)
    assert turned.friction_low / turned.friction == pytest.approx(STUDY.duty.friction_low / STUDY.duty.friction)
    assert axis("friction").turned(STUDY.duty, STUDY.duty.friction) == STUDY.duty


def test_lines_go_from_end_to_end_and_hold_the_present_value():
    m = small(count=11)
    assert (m.x[0], m.x[-1], len(m.x)) == (20.0, 65.0, 11)
    assert (np.diff(m.x) > 0.0).all() and 36.0 in m.x and 110.0 in m.y
    outside = ore_map(asked(span("solids", 50.0, 60.0, 5), span("d50", count=5), "matched_mm", None, NOW), NOW)
    np.testing.assert_allclose(outside.x, np.linspace(50.0, 60.0, 5))


def refusals():
    yield lambda: span("solids", 60.0, 20.0), "is empty"
    yield lambda: span("solids", 30.0, 30.0), "is empty"
    yield lambda: span("solids", 0.0, 30.0), "must lie between"
    yield lambda: span("pressure"), "no axis"
    yield lambda: span("solids", count=1), "2 to 400"
    yield lambda: asked(span("solids"), span("solids"), "matched_mm", None, NOW), "two different"
    yield lambda: asked(span("solids"), span("d50"), "nothing", None, NOW), "no quantity"
    yield lambda: asked(span("solids"), span("d50"), "margin_deg", None, NOW), "every height"
    yield lambda: asked(span("solids"), span("d50"), "groove_ratio", 15, NOW), "1 to 14"


@pytest.mark.parametrize(("make", "words"), list(refusals()))
def test_what_cannot_be_mapped_is_one_sentence(make, words):
    with pytest.raises(ValueError, match=words) as refusal:
        make()
    assert "\n" not in str(refusal.value)


def test_a_design_without_flow_is_refused_with_its_reason():
    broken = replace(STUDY.design, grooves=replace(STUDY.design.grooves, mouth_mm=60.0))
    e = evaluate(broken, STUDY.machine, STUDY.duty)
    with pytest.raises(ValueError, match="cannot be mapped"):
        ore_map(asked(span("solids"), span("d50"), "matched_mm", None, e), e)


def test_a_cancelled_map_ends_within_one_step():
    steps = []

    def at(share):
        steps.append(share)
        if len(steps) == 3:
            raise Cancelled

    with pytest.raises(Cancelled):
        ore_map(asked(span("solids"), span("d50"), "matched_mm", None, NOW), NOW, progress=Progress(at))
    assert len(steps) == 3


def test_no_step_of_a_map_works_out_more_than_a_few_duties(monkeypatch):
    """A step is what a drag may have to wait for; how long one lasts stands in the benchmarks."""
    steps = [0]

    def counted(e, duties, *rest):
        steps[-1] += len(duties)
        return under(e, duties, *rest)

    monkeypatch.setattr(module, "under", counted)
    question = asked(span("solids", count=12), span("d50", count=12), "matched_mm", None, NOW)
    ore_map(question, NOW, progress=Progress(lambda share: steps.append(0)))
    assert sum(steps) >= 144 and max(steps) <= AT_ONCE + 1 <= 100  # a step's duties, and the present one with the last


def test_files_hold_every_node():
    m = small(count=4)
    rows = list(csv.reader(io.StringIO(map_csv(m))))
    lost = np.argwhere(~np.isfinite(m.values)).tolist()
    assert len(rows) == 17 and lost  # a coarse film thinner than its grains has no answer
    told = [[float(row[2]) if row[2] else None for row in rows[1 + 4 * k : 5 + 4 * k]] for k in range(4)]
    known = [[None if not np.isfinite(v) else v for v in row] for row in m.values.tolist()]
    assert told == known
    answer = json.loads(map_json(m))
    assert answer["values"] == known and answer["present"]["value"] == m.present_value
    assert "36" in map_text(m) and f"{m.present_value:.1f} %" in map_text(m)
