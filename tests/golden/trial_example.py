"""The invented trial that comes with the program, by a seeded simulation.

    python -m tests.golden.trial_example     write profiler/data/examples/trial.bowl anew

No feed, bowl or assay stands behind these numbers. A lot of feed is drawn for every pair; grains of gold are counted
out by chance; assays get their error twice. The recoveries put in are made up: they follow from no
model of the program.
"""

from datetime import datetime, timedelta
from pathlib import Path

import numpy as np
from msgspec.structs import replace

import profiler
from profiler.study import Study
from profiler.study.files import examples
from profiler.study.files.file import encode_study
from profiler.study.records.trial import (
    GoldClass,
    Plan,
    Run,
    SampledStream,
    SamplingInputs,
    SieveAssay,
    Trial,
    WorthInputs,
)
from profiler.words import Basis, FeedGrade, Ordering

SEED = 1867
PAIRS = 13  # one is lost: its pump stopped
TARGET = Path(profiler.__file__).parent / "data" / "examples" / "trial.bowl"
OPENINGS = (212.0, 106.0, 53.0, 25.0, 0.0)
MASS = np.array([8.0, 24.0, 28.0, 18.0, 22.0])  # per cent of the feed
HEAD = np.array([0.08, 0.28, 0.33, 0.19, 0.12])  # of the gold
GRAIN_UM = np.array([250.0, 150.0, 75.0, 38.0, 15.0])
CONE = np.array([0.52, 0.55, 0.42, 0.24, 0.07])
GRADED = np.array([0.535, 0.572, 0.455, 0.29, 0.09])
REFERENCE, NEW = "Plain cone", "Graded, first try"
INVENTED = "Invented for practice: no machine, bowl or ore stands behind these numbers."


def study() -> Study:
    graded = examples.read("graded")
    duty = next(d for d in graded.duties if d.name == "As designed")
    designs = tuple(d for d in graded.designs if d.name in (REFERENCE, NEW))
    return replace(
        graded,
        title="Invented example: a trial of two bowls in pairs",
        note=f"{INVENTED} The runs of the trial come from a simulation with the seed {SEED}: a lot for every pair, "
        "gold grains counted out by chance, assays with an error. The recoveries put in, 3.1 points apart, were "
        "made up and follow from no model of this program.",
        duties=(replace(duty, in_window=False),),
        designs=designs,
        shown=replace(graded.shown, design=NEW, duty=duty.name),
        reference="",
        trials=(trial(),),
    )


def trial() -> Trial:
    draw = np.random.default_rng(SEED)
    runs: list[Run] = []
    for pair in range(PAIRS):
        grade, lot = 4.0 * (1.0 + 0.07 * draw.standard_normal()), 0.018 * draw.standard_normal()
        designs = (REFERENCE, NEW) if draw.random() < 0.5 else (NEW, REFERENCE)
        for place, design in enumerate(designs):
            runs.append(_run(draw, len(runs) + 1, pair, place, design, grade, lot))
    runs[9] = replace(runs[9], excluded=True, exclusion_reason="feed pump stopped for 6 min")
    return Trial(
        "Graded against plain cone",
        tuple(runs),
        Plan(
            reference=REFERENCE,
            worthwhile_points=1.0,
            worthwhile_source="pays for the new pattern within a year, invented",
            basis=Basis.BUILT_UP,
            size_cut="all sizes",
            exclusion_rule="runs with the feed off for more than 2 min",
            stamped="2031-03-01",
            planned_units=12,
            ordering=Ordering.RANDOMISED,
            feed_grade=FeedGrade.INDEPENDENT,
            downstream_name="leach feed",
        ),
        SamplingInputs(
            gold=tuple(
                GoldClass(float(um), round(float(100.0 * share), 1)) for um, share in zip(GRAIN_UM, HEAD, strict=True)
            ),
            tail_sample_kg=25.0,
            whole_concentrate=True,
        ),
        WorthInputs(
            tonnes_a_year=400_000.0,
            head_grade_g_t=4.0,
            gravity_return_pct=99.0,
            downstream_recovery_pct=94.0,
            downstream_pay_pct=100.0,
        ),
        f"{INVENTED} Simulated with the seed {SEED}.",
    )


def _run(draw: np.random.Generator, number: int, pair: int, place: int, design: str, grade: float, lot: float) -> Run:
    """About a tonne of feed; grains per class are counted out, and those caught of them."""
    feed_kg = 1000.0 + 6.0 * draw.standard_normal()
    grain_g = 16.0e3 * np.pi / 6.0 * (GRAIN_UM * 1e-6) ** 3 * 1000.0
    grains = draw.poisson(grade * feed_kg / 1000.0 * HEAD / grain_g)
    chance = np.clip((GRADED if design == NEW else CONE) + lot + 0.006 * draw.standard_normal(), 0.01, 0.99)
    caught, metal = draw.binomial(grains, chance) * grain_g, grains * grain_g
    concentrate_kg = 1.15 + 0.02 * draw.standard_normal()
    tail_kg = feed_kg - concentrate_kg
    tail_g_t = 1000.0 * float((metal - caught).sum()) / tail_kg
    started = datetime(2031, 3, 3, 8) + timedelta(days=pair, hours=4 * place)

    def assays(true: float, rsd: float, decimals: int) -> tuple[float, ...]:
        return tuple(round(float(true * (1.0 + rsd * e)), decimals) for e in draw.standard_normal(2))

    return Run(
        run=str(number),
        design=design,
        feed=SampledStream(round(feed_kg, 1), assays(1000.0 * float(metal.sum()) / feed_kg, 0.07, 2)),
        concentrate=SampledStream(
            round(concentrate_kg, 3), assays(1000.0 * float(caught.sum()) / concentrate_kg, 0.025, 0)
        ),
        tail=SampledStream(round(tail_kg, 1), assays(tail_g_t, 0.03, 3)),
        block=str(pair + 1),
        machine="pilot rotor",
        order=place + 1,
        started=started.isoformat(timespec="minutes"),
        feed_grade_g_t=round(grade * (1.0 + 0.03 * draw.standard_normal()), 2),
        feed_f80_um=round(185.0 + 4.0 * draw.standard_normal()),
        speed_rpm=580.0,
        water_l_min=70.0,
        feed_t_h=1.6,
        solids_pct=36.0,
        cycle_min=37.5,
        wear_h=round(12.0 + 8.0 * pair, 1),
        cleaned_out=True,
        downstream_g_t=round(tail_g_t * (1.0 + 0.05 * draw.standard_normal()), 3),
        sizes=_sizes(draw, caught, metal - caught, concentrate_kg, tail_kg),
    )


def _sizes(
    draw: np.random.Generator, caught: np.ndarray, lost: np.ndarray, concentrate_kg: float, tail_kg: float
) -> tuple[SieveAssay, ...]:
    """Screened and assayed once; concentrate runs a little coarser than its feed."""
    classes = []
    shares = MASS * np.array([1.5, 1.2, 1.0, 0.7, 0.5])
    shares = 100.0 * shares / shares.sum()
    for k, opening in enumerate(OPENINGS):
        error = 1.0 + 0.04 * draw.standard_normal(2)
        in_concentrate = 1000.0 * caught[k] / (concentrate_kg * shares[k] / 100.0)
        in_tail = 1000.0 * lost[k] / (tail_kg * MASS[k] / 100.0)
        classes.append(
            SieveAssay(
                opening,
                round(float(shares[k]), 2),
                round(float(in_concentrate * error[0]), 1),
                float(MASS[k]),
                round(float(in_tail * error[1]), 3),
            )
        )
    return tuple(classes)


if __name__ == "__main__":
    TARGET.write_bytes(encode_study(study()))
    print(f"written: {TARGET}")
