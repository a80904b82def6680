"""A trial as it was planned and recorded: runs of two designs, the plan they were run to, what the gain is worth.

Raw values as typed, with every assay of every sample; nothing worked out is kept here. Whether the comparison is fair
and what it says is decided in `statistics`; the words for its choices belong to both (`words`).
"""

from typing import Annotated, ClassVar, Self

from profiler.study.records.fields import NOT_GIVEN, member, number, optional, required
from profiler.study.records.record import Place, Record, Rows
from profiler.study.records.table_reading import TableReading
from profiler.words import Basis, FeedGrade, Ordering, Structure, Waiver


class SampledStream(Record, frozen=True):
    """What was weighed and assayed of feed, concentrate or tail in one run; every assay of the sample."""

    mass_kg: Annotated[float, number("Dry mass", "kg", 0.001, 1e9, 0.1, 3, "Dried and weighed, or metered.")] | None = (
        None
    )
    grades_g_t: Annotated[tuple[float, ...], member("Assays", "Of the sample, in g/t, as many as were made.")] = ()

    @property
    def grade_g_t(self) -> float | None:
        """Mean of the assays."""
        return sum(self.grades_g_t) / len(self.grades_g_t) if self.grades_g_t else None


class SieveAssay(Record, frozen=True):
    """What lies on one sieve: mass shares and grades of concentrate and tail. Opening 0 is the pan."""

    PLACE: ClassVar[Place] = Place((Rows("trials"), Rows("runs"), Rows("sizes")), "Change a sieve's assay")

    opening_um: Annotated[float, number("Opening", "µm", 0, 100_000, 1, 0, "Sieve the class lies on; 0 is the pan.")]
    concentrate_pct: Annotated[float, number("Concentrate mass", "%", 0, 100, 0.1, 2, "Share of the dry mass.")]
    concentrate_g_t: Annotated[float, number("Concentrate grade", "g/t", 0, 1e6, 1, 1, "Assay of the class.")]
    tail_pct: Annotated[float, number("Tail mass", "%", 0, 100, 0.1, 2, "Share of the dry mass.")]
    tail_g_t: Annotated[float, number("Tail grade", "g/t", 0, 1e6, 0.01, 3, "Assay of the class.")]


class Run(Record, frozen=True):
    """One run (cycle) of one bowl. None or empty: not recorded."""

    PLACE: ClassVar[Place] = Place((Rows("trials"), Rows("runs")), "Change a run's {}")

    run: Annotated[str, member("Run", "Differs from those of the other runs.")]
    design: Annotated[str, member("Design", "Name of the bowl that ran.")]
    recovery_pct: (
        Annotated[float, number("Recovery", "%", 0, 100, 0.1, 2, "As entered; used where the basis says so.")] | None
    ) = None
    feed: Annotated[SampledStream, member("Feed", "What was weighed and assayed of it.")] = SampledStream()
    concentrate: Annotated[SampledStream, member("Concentrate", "What was weighed and assayed of it.")] = (
        SampledStream()
    )
    tail: Annotated[SampledStream, member("Tail", "What was weighed and assayed of it.")] = SampledStream()
    cleaner_concentrate: Annotated[
        SampledStream, member("Cleaner concentrate", "Of the bowl's concentrate, cleaned.")
    ] = SampledStream()
    cleaner_tail: Annotated[
        SampledStream, member("Cleaner tail", "What the cleaner left of the bowl's concentrate.")
    ] = SampledStream()
    block: Annotated[str, member("Block", "Of runs on the same feed: a pair, say.")] = ""
    installation: Annotated[str, member("Installation", "One mounting of one bowl.")] = ""
    machine: Annotated[str, member("Machine", "Where several machines ran.")] = ""
    order: Annotated[int | None, member("Order", "Within its block, from 1.")] = None
    started: Annotated[str, member("Started", "Date, or date and time, as ISO 8601 has it.")] = ""
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
    serial: Annotated[str, member("Serial", "Of the casting that ran, where several were made of one design.")] = ""
    bowl_t: (
        Annotated[float, number("Bowl tonnes", "t", 0, 1e9, 100, 1, "Dry tonnes through this bowl since new.")] | None
    ) = None
    removed_because: Annotated[str, member("Bowl removed because", "Where it was taken out after this run.")] = ""
    since_change_h: (
        Annotated[float, number("Since change", "h", 0, 1e6, 1, 1, "Hours since this bowl was mounted.")] | None
    ) = None
    cleaned_out: Annotated[
        bool | None, member("Cleaned out", "Whether the bowl was emptied completely before the run.")
    ] = None
    downstream_g_t: (
        Annotated[
            float, number("Downstream", "g/t", 0, 1e6, 0.01, 3, "Grade of the stream that receives the bowl's tail.")
        ]
        | None
    ) = None
    gold_output_g: Annotated[float, number("Gold output", "g", 0, 1e9, 0.1, 2, "Gold recovered.")] | None = None
    excluded: Annotated[bool, member("Excluded", "Left out of the comparison, with a reason.")] = False
    exclusion_reason: Annotated[str, member("Reason", "Why it is left out.")] = ""
    remarks: Annotated[str, member("Remarks", "For whoever reads the ledger.")] = ""
    sizes: Annotated[tuple[SieveAssay, ...], member("Size classes", "Assays of concentrate and tail by sieve.")] = ()


# of a plan: what is frozen together
FROZEN = ("basis", "size_cut", "exclusion_rule", "worthwhile_points", "worthwhile_source")


class Plan(Record, frozen=True):
    """What was settled beforehand. Basis, size cut, exclusions and worthwhile gain are frozen together at a date."""

    PLACE: ClassVar[Place] = Place((Rows("trials"), "plan"), "Change the plan")

    structure: Annotated[Structure, member("Layout", "What counts as one observation.")] = Structure.PAIRS
    reference: Annotated[
        str, member("Reference", "Design that differences are taken against; empty: as the study marks it.")
    ] = ""
    worthwhile_points: (
        Annotated[float, number("Worthwhile gain", "% points", 0.01, 100, 0.1, 2, "Least gain worth having.")] | None
    ) = None
    worthwhile_source: Annotated[str, member("Gain comes from", "Where the worthwhile gain was taken from.")] = ""
    basis: Annotated[Basis, member("Recovery by", "How the recoveries that are compared are worked out.")] = (
        Basis.BUILT_UP
    )
    size_cut: Annotated[str, member("Size cut", "Which sizes are counted.")] = ""
    exclusion_rule: Annotated[str, member("Runs are left out if", "The rule agreed on beforehand.")] = ""
    stamped: Annotated[str, member("Frozen", "The day on which the plan was frozen; empty: it may change.")] = ""
    planned_units: Annotated[int, number("Planned", "pairs", 2, 10_000, 1, 0, "Pairs, runs each or blocks.")] | None = (
        None
    )
    ordering: Annotated[Ordering, member("Order", "How it was decided which design runs first.")] = (
        Ordering.NOT_RECORDED
    )
    feed_grade: Annotated[FeedGrade, member("Feed grade from", "Of the grade that is compared and adjusted for.")] = (
        FeedGrade.NOT_STATED
    )
    in_circuit: Annotated[
        bool, member("Inside a circuit: its own tail comes back", "Its load changes over between designs.")
    ] = False
    load_residence_h: (
        Annotated[float, number("Load residence", "h", 0.01, 1000, 0.1, 2, "Of the circuit's load; three must pass.")]
        | None
    ) = None
    adjust_also: Annotated[
        tuple[str, ...], member("Adjusted also for", "Columns of the runs, beside the feed grade.")
    ] = ()
    downstream_name: Annotated[
        str, member("Stream downstream", "The stream that receives the bowl's tail, such as leach feed.")
    ] = "downstream stream"
    feed_tolerance_pct: Annotated[
        float, number("Feed tolerance", "%", 0.1, 100, 1, 1, "Feed grade and F80 may differ by this share.")
    ] = 10.0
    running_tolerance_pct: Annotated[
        float, number("Running tolerance", "%", 0.1, 100, 1, 1, "Pull, cycle and settings may differ by this share.")
    ] = 10.0
    waivers: Annotated[tuple[Waiver, ...], member("Waivers", "Gates set aside, with reasons.")] = ()

    def having(self, name: str, value: object) -> Self:
        """What was frozen beforehand cannot change and stay frozen."""
        changed = super().having(name, value)
        return changed if changed is self or name not in FROZEN else changed.having("stamped", "")


LAYOUT = required(Plan, "structure", Structure)
PLAN_REFERENCE = required(Plan, "reference", str)
WORTHWHILE = optional(Plan, "worthwhile_points", float)
WORTHWHILE_SOURCE = required(Plan, "worthwhile_source", str)
FROZEN_ON = required(Plan, "stamped", str)
IN_CIRCUIT = required(Plan, "in_circuit", bool)


class GoldClass(Record, frozen=True):
    """A size of gold grains and the share of the gold that comes in it."""

    PLACE: ClassVar[Place] = Place((Rows("trials"), "sampling", Rows("gold")), "Change errors or worth")

    size_um: Annotated[float, number("Grain size", "µm", 1, 20_000, 1, 0, "Diameter of the grain.")]
    share_pct: Annotated[float, number("Share of gold", "%", 0, 100, 1, 1, "Shares are taken in proportion.")] = 100.0


class SamplingInputs(Record, frozen=True):
    """What is known of grains, samples and errors beyond the duplicates in the runs. None: not known."""

    PLACE: ClassVar[Place] = Place((Rows("trials"), "sampling"), "Change errors or worth")

    gold: Annotated[
        tuple[GoldClass, ...], member("Gold grains", "Their sizes, with the share of the gold in each.")
    ] = ()
    tail_sample_kg: (
        Annotated[float, number("Tail sample", "kg", 0.001, 1e6, 0.1, 3, "Mass of the sample that was assayed.")] | None
    ) = None
    concentrate_sample_kg: (
        Annotated[float, number("Concentrate sample", "kg", 0.001, 1e6, 0.1, 3, "Empty: not known.")] | None
    ) = None
    whole_concentrate: Annotated[bool, member("The whole concentrate is assayed", "Not a sample of it.")] = False
    field_duplicates: Annotated[
        bool, member("Duplicates are of the whole stream", "So they include the error of taking the sample.")
    ] = False
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


GOLD_GRAINS = required(SamplingInputs, "gold", tuple)
WHOLE_CONCENTRATE = required(SamplingInputs, "whole_concentrate", bool)
FIELD_DUPLICATES = required(SamplingInputs, "field_duplicates", bool)


class WorthInputs(Record, frozen=True):
    """What a gain is worth: the user's own numbers, none of them given by the program."""

    PLACE: ClassVar[Place] = Place((Rows("trials"), "worth"), "Change errors or worth")

    tonnes_a_year: (
        Annotated[float, number("Tonnes a year", "t", 1, 1e9, 1000, 0, "Dry tonnes that pass the bowl.")] | None
    ) = None
    head_grade_g_t: Annotated[float, number("Head grade", "g/t", 0.001, 1e5, 0.1, 3, "Of these tonnes.")] | None = None
    gravity_return_pct: (
        Annotated[float, number("Gravity return", "%", 0, 100, 0.5, 1, "Paid for gold caught by gravity.")] | None
    ) = None
    downstream_recovery_pct: (
        Annotated[float, number("Downstream recovery", "%", 0, 100, 0.5, 1, "Of the gold in the bowl's tail.")] | None
    ) = None
    downstream_pay_pct: (
        Annotated[float, number("Downstream pay", "%", 0, 100, 0.5, 1, "Paid for gold recovered there.")] | None
    ) = None
    price_per_oz: Annotated[float, number("Price", "per troy oz", 0, 1e6, 10, 2, "In your currency.")] | None = None
    hours_a_year: Annotated[float, number("Hours a year", "h", 1, 8784, 100, 0, "Running.")] | None = None
    reference_life_h: (
        Annotated[float, number("Liner life, reference", "h", 1, 1e6, 50, 0, "Of the reference.")] | None
    ) = None
    new_life_h: Annotated[float, number("Liner life, new", "h", 1, 1e6, 50, 0, "Of the new design.")] | None = None
    change_cost: (
        Annotated[float, number("Cost of a change", "", 0, 1e9, 100, 0, "Liner, labour and lost hours, your currency.")]
        | None
    ) = None
    other_cost_a_year: (
        Annotated[
            float,
            number(
                "Other extra cost",
                "a year",
                -1e9,
                1e9,
                100,
                0,
                "Water, power, handling; your currency. 0: there is none.",
                empty=NOT_GIVEN,
            ),
        ]
        | None
    ) = None


class Trial(Record, frozen=True):
    """A comparison of two designs by runs on feed."""

    PLACE: ClassVar[Place] = Place((Rows("trials"),))

    name: Annotated[str, member("Name", "Differs from those of the other trials.")]
    runs: Annotated[tuple[Run, ...], member("Runs", "One cycle of one bowl each.")] = ()
    plan: Annotated[Plan, member("Plan", "What was settled beforehand.")] = Plan()
    sampling: Annotated[SamplingInputs, member("Sampling", "Grains, samples and errors.")] = SamplingInputs()
    worth: Annotated[WorthInputs, member("Worth", "What a gain is worth.")] = WorthInputs()
    note: Annotated[str, member("Note", "For whoever reads the file.")] = ""
    reading: Annotated[TableReading, member("Reading", "Answers to what imported tables left in doubt.")] = (
        TableReading()
    )
