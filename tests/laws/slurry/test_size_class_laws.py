"""Laws of a feed given by size classes: what must not matter, what must grow, what a single class must equal."""

from dataclasses import fields, is_dataclass
from itertools import pairwise

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import Evaluation, Stages, evaluate
from profiler.assess.evaluate.batch import each, workable
from profiler.assess.flow.sizes import coarsest_um, d50_um, finer_um, passing_of, size_words, with_d50, with_rows
from profiler.assess.quantities.table import quantity
from profiler.physics.grains import classed_grains
from profiler.physics.grains.classed_grains import SizeClasses, divide, passing_size, sieve_classes
from profiler.study import Duty, SizeClass
from profiler.study.files import examples
from profiler.units import MICRON
from tests.laws.bowl.provoked import DESIGN, DUTY, MACHINE

# An invented ground ore, seven classes: sieve um, per cent retained; the last is what passes 45 um.
GROUND = tuple(
    SizeClass(size, pct)
    for size, pct in ((250.0, 4.0), (180.0, 12.0), (125.0, 18.0), (90.0, 19.0), (63.0, 17.0), (45.0, 11.0), (9.0, 19.0))
)
BY_SIEVE = replace(DUTY, size_classes=GROUND)
WATERED = examples.read("watered")


def of(duty: Duty, want: Stages = Stages.ALL) -> Evaluation:
    return evaluate(DESIGN, MACHINE, duty, want)


def fed(*rows: tuple[float, float]) -> Duty:
    return replace(DUTY, size_classes=tuple(SizeClass(*row) for row in rows))


def angles(duty: Duty) -> np.ndarray:
    flow = of(duty, Stages.FLOW).flow
    assert flow is not None
    return flow.film.angle[0]


def worst_difference(one: object, other: object) -> float:
    """Of all arrays two results have in common, relative to the largest in each; but for the limit one d50 lacks."""
    worst = 0.0
    for member in (m for m in fields(one) if m.name != "limit"):  # type: ignore[arg-type]
        a, b = getattr(one, member.name), getattr(other, member.name)
        if isinstance(a, np.ndarray) and a.dtype == float and a.size and not (np.isnan(a) & np.isnan(b)).all():
            scale = max(float(np.nanmax(np.abs(a))), 1e-300)
            worst = max(worst, float(np.nanmax(np.abs(a - b))) / scale)
        elif is_dataclass(a) and is_dataclass(b):
            worst = max(worst, worst_difference(a, b))
    return worst


# one class is one d50


@pytest.mark.parametrize("duty", [DUTY, *examples.read(examples.DEFAULT).duties[1:]], ids=lambda d: d.name)
def test_one_class_gives_every_number_that_its_d50_gives(duty: Duty) -> None:
    plain, classed = of(duty), of(replace(duty, size_classes=(SizeClass(duty.d50_um, 100.0),)))
    for stage in ("flow", "catch", "spin"):
        one, other = getattr(plain, stage), getattr(classed, stage)
        assert one is not None and other is not None
        assert worst_difference(one, other) < 1e-9
    assert plain.findings == classed.findings


def test_one_class_gives_what_its_d50_gives_with_a_hole_plan_too() -> None:
    duty = WATERED.duty
    both = [
        evaluate(WATERED.design, WATERED.machine, d, Stages.FLOW)
        for d in (duty, replace(duty, size_classes=(SizeClass(duty.d50_um, 100.0),)))
    ]
    one, other = (e.flow for e in both)
    assert one is not None and other is not None
    assert worst_difference(one.water, other.water) < 1e-9


def test_a_class_split_into_two_of_equal_sizes_changes_nothing() -> None:
    lower, upper = np.array([150.0, 90.0, 20.0]) * MICRON, np.array([220.0, 150.0, 90.0]) * MICRON
    whole = SizeClasses(lower, upper, np.array([0.3, 0.4, 0.3]))
    split = SizeClasses(lower[[0, 1, 2, 2]], upper[[0, 1, 2, 2]], np.array([0.3, 0.4, 0.1, 0.2]))
    load = [contact(c, 25e-6) for c in (whole, split)]
    assert load[0] == pytest.approx(load[1], rel=1e-14)
    assert divide(whole, 25e-6).fine == pytest.approx(divide(split, 25e-6).fine, rel=1e-14)


def contact(classes: SizeClasses, limit: float) -> float:
    """F of what is coarser than a size, at a film's field and velocity; passes enough to settle."""
    cut = divide(classes, limit)
    grain = float(cut.median)
    relative = classed_grains.Mixture(cut.size / grain, cut.share)
    archimedes = np.asarray(998.2 * 1696.9 * 588.4 * grain**3 / 1.0016e-3**2)
    log_reynolds = classed_grains.start_log_reynolds(np.log(archimedes), relative)
    for _ in range(6):
        load = classed_grains.contact_load(log_reynolds, np.log(archimedes), np.asarray(21.3 * grain * 1e3), relative)
        log_reynolds = load.log_reynolds
    return float(load.fraction)


def test_a_finer_sieve_with_nothing_on_it_changes_nothing() -> None:
    more = replace(DUTY, size_classes=(*GROUND, SizeClass(4.0, 0.0)))
    assert np.allclose(angles(more), angles(BY_SIEVE), rtol=1e-12, atol=0.0)
    assert d50_um(more) == pytest.approx(d50_um(BY_SIEVE), rel=1e-12)


def test_shares_count_and_not_their_measure() -> None:
    # 99.6 to 100.4 % are taken in proportion
    short = tuple(replace(row, retained_pct=0.996 * row.retained_pct) for row in GROUND)
    assert np.allclose(angles(replace(DUTY, size_classes=short)), angles(BY_SIEVE), rtol=1e-12, atol=0.0)


def test_a_narrow_feed_tends_to_its_d50() -> None:
    plain = angles(DUTY)
    gaps = []
    for width in (1.2, 1.1, 1.05, 1.02):
        sizes = 110.0 * width ** np.linspace(1.0, -1.0, 9)
        duty = fed(*((float(s), 100.0 / 9.0) for s in sizes))
        shift = d50_um(duty) / 110.0
        duty = with_d50(duty, 110.0)
        assert abs(shift - 1.0) < width - 1.0
        gaps.append(float(np.max(np.abs(angles(duty) - plain))))
    assert gaps == sorted(gaps, reverse=True)
    assert gaps[-1] < 1e-3 * plain.max()


# batches


def test_a_batch_of_duties_with_many_few_and_no_classes_gives_each_what_it_has_alone() -> None:
    duties = (BY_SIEVE, DUTY, fed((200.0, 55.0), (80.0, 45.0)), fed((110.0, 100.0)))
    together = each(evaluate(DESIGN, MACHINE, duties, Stages.FLOW | Stages.CATCH))
    for duty, one in zip(duties, together, strict=True):
        alone = of(duty, Stages.FLOW | Stages.CATCH)
        assert alone.flow is not None and one.flow is not None and alone.catch is not None and one.catch is not None
        assert worst_difference(alone.flow.film, one.flow.film) < 1e-9
        assert worst_difference(alone.flow.carrier, one.flow.carrier) < 1e-9
        assert worst_difference(alone.catch, one.catch) < 1e-8
        for key in ("liquid_um", "fine_pct"):
            assert quantity(key).get(one) == pytest.approx(quantity(key).get(alone), rel=1e-9, nan_ok=True)


def test_a_duty_whose_classes_contradict_each_other_keeps_out_of_a_batch() -> None:
    wrong = fed((200.0, 55.0), (80.0, 30.0))
    assert workable((DUTY, wrong, BY_SIEVE)) == (DUTY, BY_SIEVE)


# more fines


def with_fines(share_pct: float) -> Duty:
    """The coarse classes of the ground ore and so much, finer than any limit."""
    rest = (100.0 - share_pct) / 81.0
    coarse = [(row.size_um, row.retained_pct * rest) for row in GROUND[:-1]]
    return fed(*coarse, (15.0, 0.0), (4.0, share_pct)) if share_pct else fed(*coarse)


def test_more_fines_thicken_the_liquid_take_from_the_bed_and_lower_repose() -> None:
    found = []
    for share in (0.0, 5.0, 10.0, 20.0, 35.0):
        flow = of(with_fines(share), Stages.FLOW).flow
        assert flow is not None
        assert flow.carrier.fine[0] == pytest.approx(share / 100.0, abs=1e-12)
        found.append(
            (flow.carrier.viscosity.mean(), flow.carrier.density.mean(), -flow.carrier.fraction.mean(),
             -flow.film.angle[0, 1].mean())
        )  # fmt: skip
    for less, more in pairwise(found):
        assert all(b > a for a, b in zip(less, more, strict=True))


def test_every_grain_is_counted_once() -> None:
    flow = of(BY_SIEVE, Stages.FLOW).flow
    assert flow is not None
    water, solids = flow.feed.water_density[0], flow.feed.solids_density[0]
    c = flow.carrier
    fines = (c.density - water) / (solids - water) * (1.0 - c.fraction)  # volume of fines in that of the slurry
    total = flow.delivered_fraction[:, 1:2]
    assert np.allclose(fines + c.fraction, total, rtol=1e-12, atol=0.0)
    assert np.allclose(fines / total, c.fine[0], rtol=1e-9, atol=0.0)


def test_water_added_on_the_way_up_thins_fines_and_grains_alike() -> None:
    flow = of(BY_SIEVE, Stages.FLOW).flow
    assert flow is not None
    assert np.all(np.diff(flow.carrier.density[0, 0]) <= 0.0) and flow.carrier.density[0, 0, -1] > 999.0
    assert np.all(np.diff(flow.carrier.fraction[0, 0]) <= 0.0)


def test_a_feed_of_nothing_but_fines_has_no_bed_and_harms_nothing() -> None:
    whole = of(fed((4.0, 60.0), (2.0, 40.0)))
    assert whole.flow is not None and np.all(np.isfinite(whole.flow.film.angle))
    assert not whole.flow.film.has_bed.any() and whole.flow.carrier.fine[0] == 1.0
    assert {"much_fines", "thin_slurry"} <= {f.code for f in whole.findings}


def test_the_limit_has_settled_when_the_answer_is_given(monkeypatch: pytest.MonkeyPatch) -> None:
    usual = of(BY_SIEVE, Stages.FLOW).flow
    monkeypatch.setattr("profiler.assess.flow.flow_stage.PASSES", ((16, 3),) * 7)
    settled = of(BY_SIEVE, Stages.FLOW).flow
    assert usual is not None and settled is not None
    assert usual.carrier.limit == pytest.approx(settled.carrier.limit, rel=5e-3)  # within 0.1 um
    assert np.max(np.abs(usual.film.angle - settled.film.angle)) < np.radians(0.003)


# the passing curve


@pytest.mark.parametrize("seed", range(12))
def test_passing_sizes_and_fines_are_each_others_inverse(seed: int) -> None:
    random = np.random.default_rng(seed)
    sieve = np.sort(random.uniform(5.0, 900.0, random.integers(2, 20)))[::-1] * MICRON
    classes = sieve_classes(sieve, random.uniform(0.1, 10.0, len(sieve)))
    for share in random.uniform(0.01, 0.99, 8):
        size = float(passing_size(classes, share))
        cut = divide(classes, size)
        assert cut.fine == pytest.approx(share, rel=1e-9)
        assert np.all(cut.size[cut.share > 0.0] >= (1.0 - 1e-12) * size) and np.sum(cut.share) == pytest.approx(1.0)
        assert cut.median == pytest.approx(float(passing_size(classes, 0.5 * (1.0 + share))), rel=1e-9)


def test_the_curve_that_is_drawn_is_the_curve_that_is_used() -> None:
    curve = passing_of(GROUND)
    assert curve.passing_pct[0] == 100.0 and curve.passing_pct[-1] == 0.0
    for share in (0.2, 0.5, 0.8):
        drawn = np.exp(np.interp(100.0 * share, curve.passing_pct[::-1], np.log(curve.size_um)[::-1]))
        assert finer_um(GROUND, share) == pytest.approx(drawn, rel=1e-9)


def test_another_d50_scales_every_sieve_and_the_present_one_changes_nothing() -> None:
    doubled = with_d50(BY_SIEVE, 2.0 * d50_um(BY_SIEVE))
    assert d50_um(doubled) == pytest.approx(2.0 * d50_um(BY_SIEVE), rel=1e-7)
    assert [r.size_um for r in doubled.size_classes] == pytest.approx([2.0 * r.size_um for r in GROUND], rel=1e-7)
    assert [r.retained_pct for r in doubled.size_classes] == [r.retained_pct for r in GROUND]
    assert with_d50(BY_SIEVE, d50_um(BY_SIEVE)).size_classes == GROUND
    assert with_d50(DUTY, 150.0) == replace(DUTY, d50_um=150.0)


def test_the_way_back_to_one_d50_keeps_the_d50() -> None:
    given = with_rows(DUTY, GROUND)
    back = with_rows(given, ())
    assert back.size_classes == () and back.d50_um == round(d50_um(given), 1) == 94.8
    assert size_words(given) == "d50 95 µm (of 7 classes)" and size_words(DUTY) == "d50 110 µm"


def test_the_coarsest_class_counts_against_the_mouth_where_it_lies_above_the_top_size() -> None:
    coarse = fed((6000.0, 0.2), (3000.0, 0.8), (75.0, 99.0))
    assert coarsest_um(coarse) == pytest.approx(12000.0)
    found = next(f for f in of(coarse).findings if f.code == "top_size")
    assert found.value == pytest.approx(12000.0)
    assert coarsest_um(BY_SIEVE) == BY_SIEVE.top_size_um
