"""Every bound that is told of a number not yet checked against its source, worked out over the default example."""

from collections.abc import Callable

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import Evaluation, Stages, evaluate, unchecked
from profiler.assess.evaluate.batch import each
from profiler.assess.findings.kinds import Kind
from profiler.assess.quantities.table import QUANTITIES, quantity
from profiler.explore.why_overturn import Why, why
from profiler.physics.slurry import film
from profiler.study import Duty, GrainShape, Material
from profiler.study.files import examples
from profiler.study.files.owned_lists import shipped

STUDY = examples.read(examples.DEFAULT)
MACHINE_AND_DUTY = (STUDY.machine, STUDY.duty)
ALMOST = 1e-6  # stands for nothing where a logarithm is taken
Patch = pytest.MonkeyPatch


def evaluations(want: Stages, duties: tuple[Duty, ...] = STUDY.duties) -> list[Evaluation]:
    """Every design under every duty."""
    return [one for design in STUDY.designs for one in each(evaluate(design, STUDY.machine, duties, want))]


def values(key: str, want: Stages, duties: tuple[Duty, ...] = STUDY.duties) -> np.ndarray:
    return np.concatenate([quantity(key).get(e) for e in evaluations(want, duties)])


def farthest(key: str, want: Stages, changes: list[Callable[[Patch], None]], **duty: object) -> tuple[float, float]:
    """How far a figure moves at most: in its unit, and in per cent of itself."""
    duties = tuple(replace(d, **duty) for d in STUDY.duties)
    usual = values(key, want, duties)
    there = np.isfinite(usual)
    away = np.zeros(there.sum())
    for change in changes:
        with pytest.MonkeyPatch.context() as patch:
            change(patch)
            away = np.maximum(away, np.abs(values(key, want, duties) - usual)[there])
    return float(away.max()), float((away / np.abs(usual[there])).max() * 100.0)


def contact(decay: float) -> Callable[[Patch], None]:
    def change(patch: Patch) -> None:
        for module in ("grains.classed_grains", "slurry.carpet"):
            patch.setattr(f"profiler.physics.{module}.CONTACT_DECAY", decay)

    return change


def threshold(factor: float) -> Callable[[Patch], None]:
    def change(patch: Patch) -> None:
        for name in ("critical_shields", "critical_shields_slope"):
            law = getattr(film, name)
            patch.setattr(f"profiler.physics.slurry.carpet.{name}", lambda number, law=law: factor * law(number))

    return change


def packed(share: float) -> Callable[[Patch], None]:
    return lambda patch: patch.setattr("profiler.physics.grains.packing.SETTLED", share)


def exchanged(share: float) -> Callable[[Patch], None]:
    return lambda patch: patch.setattr("profiler.physics.grains.capture.EXCHANGE", (share, share, share))


def flaky(factor: float) -> Callable[[Patch], None]:
    from profiler.physics.grains.real_grains import flake_velocity

    def change(patch: Patch) -> None:
        patch.setattr(
            "profiler.physics.grains.real_grains.flake_velocity", lambda *given: factor * flake_velocity(*given)
        )

    return change


def jet_ends_deg(seen: Why, factor: float) -> float:
    """The wall angle at which the critical depth over the step's height comes down to the limit of a jet."""
    over = seen.depth_ratio - factor * seen.jet
    down = np.flatnonzero(np.isfinite(over[:-1]) & (over[:-1] > 0.0) & (over[1:] <= 0.0))
    if not len(down):
        return float("nan")
    i = int(down[0])
    return float(np.interp(0.0, -over[i : i + 2], seen.angle_deg[i : i + 2]))


def steps_moved() -> float:
    seen = [why(e, groove) for e in evaluations(Stages.FLOW) for groove in range(1, len(e.shape.mouths) + 1, 3)]
    ends = np.array([[jet_ends_deg(w, factor) for factor in (0.9, 1.0, 1.1)] for w in seen])
    return float(np.nanmax(np.abs(ends - ends[:, 1:2])))


BOUNDS: dict[unchecked.Unchecked, Callable[[], float]] = {
    unchecked.CONTACT_LOAD: lambda: farthest("repose_deg", Stages.FLOW, [contact(ALMOST), contact(2 * 0.0097)])[0],
    unchecked.THRESHOLD: lambda: farthest("repose_deg", Stages.FLOW, [threshold(0.5), threshold(1.5)])[0],
    unchecked.EXCHANGE: lambda: farthest("kept_um", Stages.FLOW | Stages.CATCH, [exchanged(0.01), exchanged(0.04)])[1],
    unchecked.PACKING: lambda: farthest("capacity_kg", Stages.FLOW | Stages.CATCH, [packed(0.54), packed(0.62)])[1],
    unchecked.FLAKES: lambda: farthest(
        "kept_um", Stages.FLOW | Stages.CATCH, [flaky(0.8), flaky(1.2)], target_shape=GrainShape.FLAKE
    )[1],
    unchecked.STEPS: steps_moved,
}


@pytest.mark.parametrize("row", BOUNDS, ids=lambda row: row.source)
def test_the_bound_that_is_told_holds_and_is_no_wider_than_it_need_be(row: unchecked.Unchecked) -> None:
    moved = BOUNDS[row]()
    assert row.at_most is not None
    assert 0.75 * row.at_most <= moved <= row.at_most, moved


def test_every_row_has_its_bound_or_moves_no_figure() -> None:
    assert {row for row in unchecked.UNCHECKED if row.at_most is not None} == set(BOUNDS)


def test_the_limit_of_width_over_depth_decides_a_note_and_nothing_else(monkeypatch: Patch) -> None:
    def state() -> tuple[list[np.ndarray], list[object]]:
        e = evaluate(replace(STUDY.design, grooves=replace(STUDY.design.grooves, depth_mm=2.2)), *MACHINE_AND_DUTY)
        return [q.get(e) for q in QUANTITIES], [f for f in e.findings if f.kind is not Kind.GROOVE_WIDE]

    usual, others = state()
    for limit in (3.0, 5.0):
        monkeypatch.setattr("profiler.physics.grains.capture.CAPTIVE_WIDTH", limit)
        now, rest = state()
        assert rest == others
        assert all(np.array_equal(a, b, equal_nan=True) for a, b in zip(usual, now, strict=True))


def test_the_bound_of_an_elastomers_poisson_ratio_holds() -> None:
    """Told with the shipped materials: 0.45 to 0.4999 moves stress and buckling pressure by at most 6 %."""
    keys = ("bowl_hoop_mpa", "buckling_low_kpa", "buckling_high_kpa")
    soft = [m for m in shipped(Material) if m.poisson > 0.4]
    assert len(soft) == 3 and all("at most 6 %" in m.poisson_source for m in soft)
    moved = 0.0
    for material in soft:
        found = []
        for ratio in (material.poisson, 0.45, 0.4999):
            body = replace(STUDY.design.body, material=replace(material, poisson=ratio))
            e = evaluate(replace(STUDY.design, body=body), *MACHINE_AND_DUTY, Stages.FLOW | Stages.SPIN)
            found.append([float(quantity(key).get(e)[0]) for key in keys])
        usual, *others = np.array(found)
        moved = max(moved, float(np.max(np.abs(np.array(others) / usual - 1.0))))
    assert 0.03 < moved <= 0.06
