"""Shares of wall per state and other sums of a bowl: they add up, and closed forms hold."""

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.assess.quantities import shares
from profiler.assess.quantities.table import STATE_KEYS, quantity
from profiler.physics.slurry.overturn import State
from profiler.study.edits import design_edits as edits
from profiler.study.files.examples import names, read
from profiler.units import RPM


def one(key, e):
    return float(quantity(key).get(e)[0])


ALL = [
    (name, design.name, duty.name)
    for name in names()
    if name != "faulty"
    for design in read(name).designs
    for duty in read(name).duties
]


@pytest.mark.parametrize(("name", "design", "duty"), ALL)
def test_shares_by_height_by_area_and_by_groove_sum_to_the_whole(name, design, duty):
    study = read(name)
    e = evaluate(
        next(d for d in study.designs if d.name == design),
        study.machine,
        next(d for d in study.duties if d.name == duty),
    )
    for key in ("share_{}_pct", "area_{}_pct"):
        assert sum(one(key.format(s), e) for s in STATE_KEYS.values()) == pytest.approx(100.0, abs=1e-9)
    assert sum(one(f"count_{s}", e) for s in STATE_KEYS.values()) == len(e.shape.mouths)


def test_the_default_example_counts_as_the_window_says():
    study = read("graded")
    counts = []
    for duty in study.duties:
        e = evaluate(study.design, study.machine, duty)
        counts.append([one(f"count_{s}", e) for s in ("strong", "weak", "matched", "sheltered", "unclaimed")])
    assert counts == [[2, 3, 5, 3, 1], [4, 2, 4, 2, 2], [0, 6, 5, 2, 1]]


def test_a_share_of_height_follows_the_state_tape():
    """Against a plain sum over the tape's own runs: states reach half-way to the neighbouring stations."""
    study = read("graded")
    e = evaluate(study.design, study.machine, study.duty)
    z, state = e.shape.stations.height, e.flow.state[0]
    half = 0.5 * (z[1:] + z[:-1])
    low, high = np.concatenate(([z[0]], half)), np.concatenate((half, [z[-1]]))
    for s in State:
        assert one(f"share_{STATE_KEYS[s]}_pct", e) == pytest.approx(
            100.0 * np.sum((high - low)[state == s]) / z[-1], abs=1e-9
        )
    assert one("matched_mm", e) == pytest.approx(e.shape.height * one("share_matched_pct", e) / 100.0)


def test_a_share_by_area_weighs_the_wide_top_more_than_by_height():
    study = read("graded")
    e = evaluate(study.design, study.machine, study.duty)
    assert one("area_sheltered_pct", e) > one("share_sheltered_pct", e)
    assert one("area_strong_pct", e) < one("share_strong_pct", e)


def test_the_energy_of_the_body_is_half_i_omega_squared():
    study = read("graded")
    e = evaluate(study.design, study.machine, study.duty)
    assert one("body_energy_j", e) == pytest.approx(0.5 * e.body.inertia_kg_m2 * (580.0 * RPM) ** 2, rel=1e-12)
    fast = evaluate(study.design, study.machine, replace(study.duty, speed_rpm=1.25 * 580.0))
    assert one("body_energy_j", fast) == pytest.approx(1.25**2 * one("body_energy_j", e), rel=1e-12)


def test_the_residence_time_lies_between_those_of_the_slowest_and_the_fastest_film():
    study = read("graded")
    e = evaluate(study.design, study.machine, study.duty)
    velocity, path = e.flow.film.velocity[0, 1], e.shape.wall.length[-1] * 1e-3
    assert 0.9 * path / velocity.max() < one("residence_s", e) < 1.1 * path / velocity.min()


def test_exposed_and_deep_grooves_are_those_the_findings_speak_of():
    study = read("graded")
    e = evaluate(study.design, study.machine, study.duty)
    assert one("exposed_count", e) == np.sum(quantity("groove_buried_mm").get(e) == 0.0)
    shallow = edits.with_grooves(study.design, replace(study.design.grooves, depth_mm=2.0, floor_radius_mm=0.5))
    e = evaluate(shallow, study.machine, study.duty)
    told = sum(len(f.grooves) for f in e.findings if f.code == "groove_buried")
    assert one("deep_count", e) == told > 0


def test_a_wall_without_grooves_has_no_deep_ones_and_no_power():
    study = read("graded")
    bare = edits.with_grooves(study.design, replace(study.design.grooves, count=0))
    e = evaluate(bare, study.machine, study.duty)
    assert (one("deep_count", e), one("exposed_count", e), one("power_w", e)) == (0.0, 0.0, 0.0)
    assert shares.state_count(e.flow, State.STRONG)[0] == 0.0
