"""The inputs of a report: every number of duty, machine and design as it was typed, with its unit."""

from itertools import zip_longest

from msgspec import structs

from profiler.assess import Evaluation
from profiler.assess.flow.clay import clay_words
from profiler.assess.flow.sizes import size_words
from profiler.numbers import significant
from profiler.output.blocks.blocks import DASH, Block, Grid, Heading, Paragraph
from profiler.physics.slurry.carpet import SLIP
from profiler.study import NOT_GIVEN, Design, Duty, Field, FrictionBasis, Machine, Record, fields_of
from profiler.study.records.materials import STRENGTH, Material
from profiler.study.records.size_classes import RETAINED, SIEVE

USUAL = " *"
USUAL_WORDS = f"{USUAL.strip()} The program's usual value: nobody need have typed it, so make sure that it is yours."


def input_blocks(e: Evaluation) -> list[Block]:
    blocks: list[Block] = [Heading("Inputs"), Heading(f"Duty: {e.duty.name}", 2), fields_grid(e.duty)]
    blocks += [*_friction(e.duty), *_size_classes(e.duty), *_machine(e.machine), *_design(e.design)]
    return [*blocks, Paragraph(USUAL_WORDS)]


def fields_grid(record: Record) -> Grid:
    """Label and value of every number of a record, two pairs in a row; marked where it is the program's own."""
    pairs = [(f.label, f"{f.told(f.get(record))}{_mark(f, record)}") for f in fields_of(type(record)).values()]
    half = (len(pairs) + 1) // 2
    rows = tuple((*a, *b) for a, b in zip_longest(pairs[:half], pairs[half:], fillvalue=("", "")))
    return Grid(("", "", "", ""), rows, (1.7, 1.3, 1.7, 1.3))


def _mark(field: Field[float], record: Record) -> str:
    """Of a number that stands as it does where nothing was typed."""
    value = field.get(record)
    usual = next((d.default for d in structs.fields(type(record)) if d.name == field.name), None)
    return USUAL if value is not None and value == usual else ""


def _friction(duty: Duty) -> list[Block]:
    """What a friction is of, and that it came with an older file, where it did."""
    words = (
        f"Friction is that of the grains in place, at a slip of {SLIP:g}; a slope fixes only the one over the other."
    )
    told: list[Block] = [Paragraph(words), Paragraph(clay_words(duty))]
    if duty.friction_basis is FrictionBasis.DELIVERED:
        told.append(Paragraph("This friction was typed for the former law.", strong=True))
    return told


def _size_classes(duty: Duty) -> list[Block]:
    if not duty.size_classes:
        return []
    rows = tuple((SIEVE.text(c.size_um), RETAINED.text(c.retained_pct)) for c in duty.size_classes)
    words = (
        f"Fed by size classes, in place of one d50; {size_words(duty)}. Retained: on this sieve, past the one above."
    )
    return [Paragraph(words), Grid(("sieve µm", "retained %"), rows, (1.0, 1.0))]


def _machine(machine: Machine) -> list[Block]:
    blocks: list[Block] = [Heading(f"Machine: {machine.name}", 2), fields_grid(machine)]
    if machine.seat:
        points = [(significant(p.height_mm), significant(p.radius_mm)) for p in machine.seat]
        rows = tuple(points)
        blocks.append(Paragraph("Seat, heights from its floor:"))
        blocks.append(Grid(("height mm", "radius mm"), rows, (1.0, 1.0), share=0.35))
    if machine.shell_material is not None:
        blocks += _material("Shell", machine.shell_material)
    if machine.note:
        blocks.append(Paragraph(machine.note))
    return blocks


def _design(design: Design) -> list[Block]:
    curve = design.wall
    knots = tuple(
        (str(k), significant(knot.height_mm), significant(knot.angle_deg),
         DASH if knot.leaving_deg is None else significant(knot.leaving_deg), "eased" if knot.eased else "arc")
        for k, knot in enumerate(curve.knots, 1)
    )  # fmt: skip
    held = [f"{word} radius {significant(radius)} mm" for word, radius in
            (("lip", curve.lip_radius_mm), ("floor", curve.floor_radius_mm)) if radius is not None]  # fmt: skip
    heads = ("Knot", "height mm", "angle °", "above corner °", "span above")
    blocks: list[Block] = [
        Heading(f"Design: {design.name}", 2), Paragraph(f"Wall curve; held: {' and '.join(held) or 'nothing'}."),
        Grid(heads, knots, (0.6, 1.0, 1.0, 1.0, 1.0)), Paragraph(f"Grooves: {design.grooves.placing.value}, depth "
        f"square to the {design.grooves.square_to.value}."), fields_grid(design.grooves),
    ]  # fmt: skip
    if design.grooves.changes:
        changed = ", ".join(str(c.place) for c in design.grooves.changes)
        blocks.append(Paragraph(f"Grooves that depart from the rule, by their place: {changed}."))
    if design.holes.is_given:
        blocks += [Paragraph("Water holes:"), fields_grid(design.holes)]
    blocks += [Paragraph("Body" + (", filling the seat less the jacket gap:" if design.body.fill_seat else ":")),
               fields_grid(design.body)]  # fmt: skip
    if design.body.material is not None:
        blocks += _material("Body", design.body.material)
    return blocks


def _material(what: str, material: Material) -> list[Block]:
    fields = fields_of(Material)
    rows = []
    for name, source in material.sources:
        field = fields[name]
        value = field.get(material)
        kind = f" ({material.strength_kind})" if name == STRENGTH.name and material.strength_kind else ""
        rows.append((field.label + kind, NOT_GIVEN if value is None else field.with_unit(value), source))
    return [Paragraph(f"{what} material: {material.name}"), Grid(("", "", "source"), tuple(rows), (1.4, 1.2, 3.0))]
