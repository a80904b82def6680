"""A trial as it was planned and recorded: runs of two designs, the plan they were run to, what the gain is worth.

Raw values as typed, with every assay of every sample; nothing worked out is kept here. Whether the comparison is fair
and what it says is decided in `statistics`; the words for its choices belong to both (`words`).
"""

from typing import Annotated

from msgspec import Struct

from profiler.study.records.fields import number
from profiler.words import Basis, FeedGrade, Ordering, Structure, Waiver


class Stream(Struct, frozen=True, forbid_unknown_fields=True):
    """What was weighed and assayed of feed, concentrate or tail in one run; every assay of the sample."""

    mass_kg: Annotated[float, number("Dry mass", "kg", 0.001, 1e9, 0.1, 3, "Dried and weighed, or metered.")] | None = (
        None
    )
    grades_g_t: tuple[float, ...] = ()

    @property
    def grade_g_t(self) -> float | None:
        """Mean of the assays."""
        return sum(self.grades_g_t) / len(self.grades_g_t) if self.grades_g_t else None


class SizeClass(Struct, frozen=True, forbid_unknown_fields=True):
    """What lies on one sieve: mass shares and grades of concentrate and tail. Opening 0 is the pan."""

    opening_um: Annotated[float, number("Opening", "µm", 0, 100_000, 1, 0, "Sieve the class lies on; 0 is the pan.")]
    concentrate_pct: Annotated[float, number("Concentrate mass", "%", 0, 100, 0.1, 2, "Share of the dry mass.")]
    concentrate_g_t: Annotated[float, number("Concentrate grade", "g/t", 0, 1e6, 1, 1, "Assay of the class.")]
    tail_pct: Annotated[float, number("Tail mass", "%", 0, 100, 0.1, 2, "Share of the dry mass.")]
    tail_g_t: Annotated[float, number("Tail grade", "g/t", 0, 1e6, 0.01, 3, "Assay of the class.")]


class Run(Struct, frozen=True, forbid_unknown_fields=True):
    """One run (cycle) of one bowl. None or empty: not recorded."""

    run: str
    design: str
    recovery_pct: (
        Annotated[float, number("Recovery", "%", 0, 100, 0.1, 2, "As entered; used where the basis says so.")] | None
    ) = None
    feed: Stream = Stream()
    concentrate: Stream = Stream()
    tail: Stream = Stream()
    block: str = ""
    installation: str = ""
    machine: str = ""
    order: int | None = None
    started: str = ""
    feed_grade_g_t: (
        Annotated[float, number("Feed grade", "g/t", 0.001, 1e6, 0.01, 3, "Of a feed sample outside the balance.")]
        | None
    ) = None
    feed_f80_um: (
        Annotated[float, number("Feed F80", "µm", 1, 1e6, 5, 0, "Size that 80 % of the feed passes.")] | None
    ) = None
    feed_metal_g: (
        Annotated[float, number("Gold fed", "g", 0.001, 1e9, 0.1, 3, "Empty: worked out from mass and grade.")] | None
    ) = None
    speed_rpm: Annotated[float, number("Speed", "rpm", 1, 10_000, 5, 0, "Speed of the bowl.")] | None = None
    water_l_min: Annotated[float, number("Water", "L/min", 0, 20_000, 1, 1, "Fluidising water.")] | None = None
    feed_t_h: Annotated[float, number("Dry feed", "t/h", 0.001, 5000, 0.1, 3, "Dry solids fed.")] | None = None
    solids_pct: Annotated[float, number("Solids", "%", 1, 75, 0.5, 1, "Solids in the slurry, by mass.")] | None = None
    cycle_min: Annotated[float, number("Cycle", "min", 0.1, 100_000, 1, 1, "Feed on to feed off.")] | None = None
    mass_pull_pct: (
        Annotated[float, number("Mass pull", "%", 0, 100, 0.01, 4, "Empty: worked out from the masses.")] | None
    ) = None
    wear_h: Annotated[float, number("Liner age", "h", 0, 1e6, 1, 1, "Hours since the liner was new.")] | None = None
    since_change_h: (
        Annotated[float, number("Since change", "h", 0, 1e6, 1, 1, "Hours since this bowl was mounted.")] | None
    ) = None
    cleaned_out: bool | None = None
    downstream_g_t: (
        Annotated[float, number("Downstream", "g/t", 0, 1e6, 0.01, 3, "Grade of what takes the bowl's misses.")] | None
    ) = None
    gold_output_g: Annotated[float, number("Gold output", "g", 0, 1e9, 0.1, 2, "Gold recovered.")] | None = None
    excluded: bool = False
    exclusion_reason: str = ""
    remarks: str = ""
    sizes: tuple[SizeClass, ...] = ()


class Plan(Struct, frozen=True, forbid_unknown_fields=True):
    """What was settled beforehand. Basis, size cut, exclusions and worthwhile gain are frozen together at a date."""

    structure: Structure = Structure.PAIRS
    reference: str = ""
    worthwhile_points: (
        Annotated[float, number("Worthwhile gain", "points", 0.01, 100, 0.1, 2, "Least gain worth having.")] | None
    ) = None
    worthwhile_source: str = ""
    basis: Basis = Basis.BUILT_UP
    size_cut: str = ""
    exclusion_rule: str = ""
    stamped: str = ""  # the day on which the plan was frozen
    planned_units: Annotated[int, number("Planned", "pairs", 2, 10_000, 1, 0, "Pairs, runs each or blocks.")] | None = (
        None
    )
    ordering: Ordering = Ordering.NOT_RECORDED
    feed_grade: FeedGrade = FeedGrade.NOT_STATED
    in_circuit: bool = False
    load_residence_h: (
        Annotated[float, number("Load residence", "h", 0.01, 1000, 0.1, 2, "Of the circuit's load; three must pass.")]
        | None
    ) = None
    adjust_also: tuple[str, ...] = ()
    downstream_name: str = "downstream stream"
    feed_tolerance_pct: Annotated[
        float, number("Feed tolerance", "%", 0.1, 100, 1, 1, "Feed grade and F80 may differ by this share.")
    ] = 10.0
    running_tolerance_pct: Annotated[
        float, number("Running tolerance", "%", 0.1, 100, 1, 1, "Pull, cycle and settings may differ by this share.")
    ] = 10.0
    waivers: tuple[Waiver, ...] = ()


class GoldClass(Struct, frozen=True, forbid_unknown_fields=True):
    """A size of gold grains and the share of the gold that comes in it."""

    size_um: Annotated[float, number("Grain size", "µm", 1, 20_000, 1, 0, "Diameter of the grain.")]
    share_pct: Annotated[float, number("Share of gold", "%", 0, 100, 1, 1, "Shares are taken in proportion.")] = 100.0


class Sampling(Struct, frozen=True, forbid_unknown_fields=True):
    """What is known of grains, samples and errors beyond the duplicates in the runs. None: not known."""

    gold: tuple[GoldClass, ...] = ()
    tail_sample_kg: (
        Annotated[float, number("Tail sample", "kg", 0.001, 1e6, 0.1, 3, "Mass of the sample that was assayed.")] | None
    ) = None
    concentrate_sample_kg: (
        Annotated[float, number("Concentrate sample", "kg", 0.001, 1e6, 0.1, 3, "Empty: not known.")] | None
    ) = None
    whole_concentrate: bool = False
    field_duplicates: bool = False  # duplicates are of the whole stream, so they hold the error of taking the sample
    feed_rsd_pct: (
        Annotated[float, number("Feed assay error", "%", 0.01, 200, 0.5, 1, "One assay; used without duplicates.")]
        | None
    ) = None
    concentrate_rsd_pct: (
        Annotated[float, number("Conc. assay error", "%", 0.01, 200, 0.5, 1, "One assay; used without duplicates.")]
        | None
    ) = None
    tail_rsd_pct: (
        Annotated[float, number("Tail assay error", "%", 0.01, 200, 0.5, 1, "One assay; used without duplicates.")]
        | None
    ) = None
    mass_rsd_pct: Annotated[
        float, number("Weighing error", "%", 0, 100, 0.1, 2, "1 % is common practice, no source.")
    ] = 1.0


class WorthInputs(Struct, frozen=True, forbid_unknown_fields=True):
    """What a gain is worth: the user's own numbers, none of them given by the program."""

    tonnes_a_year: (
        Annotated[float, number("Tonnes a year", "t", 1, 1e9, 1000, 0, "Dry tonnes that pass the bowl.")] | None
    ) = None
    head_grade_g_t: Annotated[float, number("Head grade", "g/t", 0.001, 1e5, 0.1, 3, "Of these tonnes.")] | None = None
    gravity_return_pct: (
        Annotated[float, number("Gravity return", "%", 0, 100, 0.5, 1, "Paid for gold caught by gravity.")] | None
    ) = None
    downstream_recovery_pct: (
        Annotated[float, number("Downstream recovery", "%", 0, 100, 0.5, 1, "Of gold the bowl misses.")] | None
    ) = None
    downstream_pay_pct: (
        Annotated[float, number("Downstream pay", "%", 0, 100, 0.5, 1, "Paid for gold recovered there.")] | None
    ) = None
    price_per_oz: Annotated[float, number("Price", "per oz", 0, 1e6, 10, 2, "In your money.")] | None = None
    hours_a_year: Annotated[float, number("Hours a year", "h", 1, 8784, 100, 0, "Running.")] | None = None
    reference_life_h: (
        Annotated[float, number("Liner life, reference", "h", 1, 1e6, 50, 0, "Of the reference.")] | None
    ) = None
    new_life_h: Annotated[float, number("Liner life, new", "h", 1, 1e6, 50, 0, "Of the new design.")] | None = None
    change_cost: (
        Annotated[float, number("Cost of a change", "", 0, 1e9, 100, 0, "Liner, labour and lost hours, your money.")]
        | None
    ) = None
    other_cost_a_year: Annotated[
        float, number("Other extra cost", "a year", -1e9, 1e9, 100, 0, "Water, power, handling; your money.")
    ] = 0.0


class Trial(Struct, frozen=True, forbid_unknown_fields=True):
    """A comparison of two designs by runs on feed."""

    name: str
    runs: tuple[Run, ...] = ()
    plan: Plan = Plan()
    sampling: Sampling = Sampling()
    worth: WorthInputs = WorthInputs()
    note: str = ""
