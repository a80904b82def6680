"""evaluate(): the one function that says what is true of a design on a machine under a duty.

Window, terminal, drawings and every question asked many times over call it. It runs stages; a stage that cannot be
computed is None and its `stop` finding says why. A partial evaluation may be incomplete, never different.
"""

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, field, replace
from enum import Flag, auto
from functools import cache
from typing import TypeVar

from profiler.assess.catch.catch_stage import Catch, catch_of
from profiler.assess.checks import (
    check_catch,
    check_entry,
    check_fit,
    check_flow,
    check_model,
    check_shape,
    check_spin,
    check_water,
)
from profiler.assess.evidence.words import as_it_stands
from profiler.assess.findings.finding import Finding, Remedy, in_order
from profiler.assess.findings.kinds import NO_ANSWER, Kind, When
from profiler.assess.fitting.fit import FIT_WORDS, MENDED_BY_A_FIT, Fitting
from profiler.assess.flow.flow_stage import Flow, flow_of
from profiler.assess.flow.sizes import size_problems
from profiler.assess.shape.shape_stage import Shape, shape_of
from profiler.assess.spin.spin_stage import Spin, spin_of
from profiler.study import Body, Design, Duty, Machine, Record, fields_of, objections

Result = TypeVar("Result")


class Stages(Flag):
    """What of an evaluation is wanted; the shape always is."""

    FLOW = auto()
    FINDINGS = auto()
    CLASH = auto()  # whether the section crosses itself: shapely, which takes long to load, so not while dragging
    STANDING = auto()  # what grooves keep at rest, undercuts
    BODY = auto()  # looks for a clash too, as SPIN does: a section that crosses itself has no mass to tell
    CATCH = auto()  # water against need, grains kept, contents of the grooves
    SPIN = auto()  # what turns, its stress, drive and balance
    QUICK = FLOW | FINDINGS  # what is in sight during a gesture
    ALL = QUICK | CLASH | STANDING | BODY | CATCH | SPIN


@dataclass(frozen=True, slots=True)
class BodyFigures:
    """The bowl's body, grooves cut, turned about its axis; mm, kg."""

    section_area_mm2: float
    section_length_mm: float
    volume_mm3: float
    mass_kg: float
    centre_height_mm: float
    inertia_kg_m2: float


@dataclass(frozen=True, slots=True)
class Evaluation:
    """One design on one machine under one or several duties: whole, frozen, ready to be shown."""

    design: Design
    machine: Machine
    duties: tuple[Duty, ...]
    shape: Shape | None
    flow: Flow | None
    body: BodyFigures | None
    findings: tuple[Finding, ...]
    catch: Catch | None = None
    spin: Spin | None = None

    @property
    def duty(self) -> Duty:
        return self.duties[0]

    @property
    def no_answer(self) -> str:
        """In a few words why the slurry model says nothing under the first duty, or nothing; with findings only."""
        return next((NO_ANSWER[f.kind] for f in self.findings if f.kind in NO_ANSWER), "")


@dataclass(slots=True)
class StageCache:
    """Keeps each stage's last result, reused when its inputs are the very same objects."""

    _kept: dict[Hashable, tuple[tuple[object, ...], object]] = field(default_factory=dict)

    def once(self, name: str, inputs: tuple[object, ...], compute: Callable[[], Result]) -> Result:
        kept = self._kept.get(name)
        if (
            kept is not None
            and len(kept[0]) == len(inputs)
            and all(a is b for a, b in zip(kept[0], inputs, strict=True))
        ):
            return kept[1]  # type: ignore[return-value]
        result = compute()
        self._kept[name] = (inputs, result)
        return result


def evaluate(
    design: Design,
    machine: Machine,
    duty: Duty | Sequence[Duty],
    want: Stages = Stages.ALL,
    cache: StageCache | None = None,
) -> Evaluation:
    """Evaluate one design. Several duties are worked in one batch; findings speak of the first."""
    duties = (duty,) if isinstance(duty, Duty) else tuple(duty)
    cache = cache or StageCache()
    design_problems = cache.once("design", (design,), lambda: _out_of_bounds(design))
    duty_problems = cache.once(
        "duties", duties, lambda: [f for d in duties for f in (*_out_of_bounds(d), *size_problems(d))]
    )
    shape, impossible = None, tuple(design_problems)
    if not design_problems:
        shape, impossible = cache.once("shape", (design, machine), lambda: shape_of(design, machine))
    flow = None
    if shape is not None and not duty_problems and Stages.FLOW in want:
        flow = cache.once("flow", (shape, machine, *duties), lambda: flow_of(shape, machine, duties))
    unanswered: list[Finding] = []
    if shape is not None and flow is not None and Stages.FINDINGS in want:
        unanswered = check_flow.no_answer_findings(shape, machine, flow)
    if flow is not None and flow.answers.missing.all():
        flow = None
    clash: list[Finding] = []
    if shape is not None and want & (Stages.CLASH | Stages.BODY | Stages.SPIN):
        clash = cache.once("clash", (shape,), lambda: check_shape.clash_findings(shape))
    solid = shape is not None and bool(want & (Stages.BODY | Stages.SPIN)) and not clash and is_solid(shape)
    body = None
    if shape is not None and solid and Stages.BODY in want:
        body = cache.once("body", (shape,), lambda: body_figures(shape, design.body))
    catch = None
    if shape is not None and flow is not None and Stages.CATCH in want:
        catch = cache.once("catch", (flow, *duties), lambda: catch_of(shape, flow, duties))
    machine_problems = cache.once("machine", (machine,), lambda: _out_of_bounds(machine))
    spin = None
    if shape is not None and flow is not None and solid and not machine_problems and Stages.SPIN in want:
        inputs = (flow, shape, machine, design.body, *duties)
        spin = cache.once("spin", inputs, lambda: spin_of(shape, flow, machine, design.body, duties))
    whole = Evaluation(design, machine, duties, shape, flow, body, (), catch, spin)
    if Stages.FINDINGS not in want:
        return whole
    told = whole
    if flow is not None and flow.answers.missing[0]:
        told = replace(whole, flow=None, catch=None, spin=None)  # the others of the batch have an answer
    lacking = cache.once("lacking", (machine,), lambda: check_fit.lacks_findings(machine))
    found = [*impossible, *machine_problems, *duty_problems, *unanswered, *lacking, *_all_checks(told, cache)]
    if shape is not None and Stages.STANDING in want:
        found += cache.once("standing", (shape,), lambda: check_entry.standing_findings(shape))
    found += clash
    return replace(whole, findings=in_order(_with_standing(_with_fit(found, design, machine), duties[0])))


def with_older(quick: Evaluation, whole: Evaluation | None) -> Evaluation:
    """The quick evaluation with what the last whole one of this design and duty found afterwards.

    An edit that would mend an older finding belongs to an older design, so it is not offered meanwhile.
    """
    if whole is None or quick.shape is None:
        return quick
    if (whole.design.name, whole.duty.name) != (quick.design.name, quick.duty.name):
        return quick
    older = [_without_remedy(f) for f in whole.findings if f.kind.when is When.AFTERWARDS]
    return replace(quick, findings=in_order((*quick.findings, *older))) if older else quick


def _without_remedy(finding: Finding) -> Finding:
    return finding if finding.remedy is None else replace(finding, remedy=None)


def _with_fit(found: list[Finding], design: Design, machine: Machine) -> list[Finding]:
    """Whatever says that the bowl does not fit is mended by the one command that fits it, worked out when wanted."""
    remedy = Remedy(FIT_WORDS, Fitting(design, machine))
    return [replace(f, remedy=remedy) if f.remedy is None and f.kind in MENDED_BY_A_FIT else f for f in found]


def is_solid(shape: Shape) -> bool:
    """Whether the section bounds a body with a mass, as far as is seen without looking for crossings.

    A flange that does not reach the lip, or an outside within the inside, has no mass, no energy and no stress to tell.
    """
    f = shape.figures
    return shape.shell.flange_radius > shape.lip_radius and min(f.area, f.volume, f.polar_inertia) > 0.0


def _with_standing(found: list[Finding], duty: Duty) -> list[Finding]:
    """What rests on the slurry model says how that stands to measurements under the duty."""
    if duty.calibrated is None:
        return found
    sources = [as_it_stands(f.source, duty) for f in found]
    return [f if s == f.source else replace(f, own_source=s) for f, s in zip(found, sources, strict=True)]


def body_figures(shape: Shape, body: Body) -> BodyFigures:
    f = shape.figures
    mass = f.volume * 1e-9 * body.density_kg_m3
    inertia = f.polar_inertia * 1e-15 * body.density_kg_m3
    return BodyFigures(f.area, f.length, f.volume, mass, f.centre_height, inertia)


def fit_of(design: Design, machine: Machine, shape: Shape, cache: StageCache) -> tuple[Finding, ...]:
    """What is found of a bowl in its machine, and of feed pipe and deflector in the bowl."""
    return cache.once(
        "fit",
        (design, machine, shape),
        lambda: _fitting(
            check_fit.fit_findings(design, machine, shape), check_entry.feed_part_findings(machine, shape)
        ),
    )


def _fitting(found: list[Finding], in_the_way: list[Finding]) -> tuple[Finding, ...]:
    """A bowl that a feed pipe or deflector does not enter does not fit."""
    return (*(f for f in found if not in_the_way or f.kind is not Kind.FITS), *in_the_way)


def _all_checks(whole: Evaluation, cache: StageCache) -> list[Finding]:
    design, machine, duty, shape, flow = whole.design, whole.machine, whole.duty, whole.shape, whole.flow
    found = [*check_shape.angle_findings(design), *check_fit.speed_findings(machine, duty)]
    if shape is not None and flow is not None:
        found += check_flow.flow_findings(shape, flow)
        found += check_model.model_findings(duty, shape, flow)
        found += check_entry.entry_findings(machine, duty, shape, flow)
        found += check_water.water_findings(machine, duty, shape, flow)
        if whole.catch is not None:
            found += check_catch.catch_findings(duty, shape, whole.catch)
        if whole.spin is not None:
            found += check_spin.spin_findings(machine, design.body, duty, shape, whole.spin)
    if shape is not None:
        found += check_shape.shape_findings(design, shape)
        found += fit_of(design, machine, shape, cache)
        found += check_entry.overhang_findings(shape)
        found += check_entry.brim_findings(shape)
        found += check_water.hole_findings(machine, shape)
    return [*found, check_fit.SPINNING_CAUTION]


def _out_of_bounds(record: Design | Machine | Duty) -> list[Finding]:
    """A finding for every number outside its field's bounds, however deep in the record."""
    found = []
    for part, where in _parts(record, ""):
        height = getattr(part, "height_mm", None) if type(part).__name__ in ("Knot", "SeatPoint") else None
        for spec, value, sentence in objections(part):
            text = f"{where}{sentence}" if where else sentence
            limit = spec.low if not value >= spec.low else spec.high
            found.append(
                Finding(
                    kind=Kind.OUT_OF_BOUNDS, field=spec.name, text=text, value=value, limit=limit, unit=spec.unit,
                    from_mm=height, to_mm=height,
                )
            )  # fmt: skip
    return found


@cache
def _holding(kind: type[Record]) -> tuple[str, ...]:
    """Members of a record that may hold others: those that are no number."""
    return tuple(name for name in kind.__struct_fields__ if name not in fields_of(kind))


def _parts(record: Record, where: str) -> list[tuple[Record, str]]:
    parts = [(record, where)]
    for name in _holding(type(record)):
        value = getattr(record, name)
        if isinstance(value, Record):
            parts += _parts(value, where)
        elif isinstance(value, tuple):
            for number, item in enumerate(value, 1):
                if isinstance(item, Record):
                    parts += _parts(item, f"{type(item).__name__} {number}: ")
    return parts
