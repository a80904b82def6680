"""The STEP file of a part: an exact closed solid for other CAD, CAM and analysis programs to take over.

The same chains as the profile's, turned about the axis; in the bowl the water holes as true cylinders. The header says
what the solid is, what was left out, whether it was checked, and the caution. Heights count from the inner floor.
"""

from dataclasses import dataclass
from pathlib import Path

from profiler.assess import Evaluation
from profiler.assess.findings.finding import stops
from profiler.assess.shape.bore_rings import rings_of
from profiler.assess.shape.shape_stage import EASED_TOLERANCE_MM, Shape
from profiler.geometry.chain import Chain
from profiler.output.drawings.parts import Part, ProfileOptions, as_made, part_chain
from profiler.output.record.output import NO_SHAPE
from profiler.output.step.names import face_names
from profiler.output.step.solid import Label, Solid, file_text, solid_of
from profiler.study.files.file import write_whole

WORDS = {Part.LINER: "bowl", Part.FORMER: "groove former", Part.SEAT: "seat of the rotor"}
CAUTION = "Never spin a bowl made from this without the approval of a licensed engineer: figures for screening only."


@dataclass(frozen=True, slots=True)
class StepOptions:
    """`holes` concerns the bowl only, `shrinkage_pct` the former only; `date` as in 2031-04-05."""

    part: Part = Part.LINER
    holes: bool = True
    shrinkage_pct: float = 0.0
    date: str = ""
    author: str = ""


def write_step(path: Path, e: Evaluation, options: StepOptions | None = None) -> Solid:
    """Write the file, whole or not at all, and return what it holds.

    Raises ValueError with a sentence where no solid can be made, BowlFileError where the path cannot be written.
    """
    text, solid = step_text(e, options or StepOptions(), path.name)
    write_whole(path, text.encode("ascii"))
    return solid


def step_text(e: Evaluation, options: StepOptions, file_name: str = "") -> tuple[str, Solid]:
    """The file's text, plain ASCII, and what it holds."""
    part = options.part
    shape, chain = _turned_from(e, options)
    rings = rings_of(shape.holes) if part is Part.LINER and options.holes else []
    solid = solid_of(chain, face_names(part_chain(part, shape, e.machine), part, shape), rings)
    statements = _statements(e, chain, options) + _about_holes(shape, options, solid)
    title, kind = f"{e.design.name}, {WORDS[part]}", WORDS[part]
    return file_text(solid, Label(title, kind, tuple(statements), file_name, options.date, options.author)), solid


def section_of(e: Evaluation, options: StepOptions) -> Chain:
    """The closed half section of the part, with its shrinkage allowance. Raises ValueError as `write_step` does."""
    return _turned_from(e, options)[1]


def words_of(solid: Solid) -> str:
    """What was written, in a line."""
    found = f"exact solid, {solid.faces} faces"
    found += f", {solid.holes} water holes" if solid.bored else ""
    return found + (f", {_rings(len(solid.marked))} of holes as axes and points" if solid.marked else "")


def _turned_from(e: Evaluation, options: StepOptions) -> tuple[Shape, Chain]:
    part = options.part
    if e.shape is None:
        raise ValueError(NO_SHAPE)
    if part not in WORDS:
        raise ValueError(f"a {part} has no solid.")
    if options.shrinkage_pct and part is not Part.FORMER:
        raise ValueError("A shrinkage allowance belongs to the groove former, not to another part.")
    plain = part_chain(part, e.shape, e.machine)
    return e.shape, as_made(plain, ProfileOptions(part, shrinkage_pct=options.shrinkage_pct))


def _statements(e: Evaluation, chain: Chain, options: StepOptions) -> list[str]:
    """What a reader of the file must know, sentence by sentence."""
    heights = chain.points[:, 1]
    lines = [
        f'{WORDS[options.part].capitalize()} of the design "{e.design.name}", exact surfaces, millimetres.',
        "The Z axis is the spin axis, height 0 the inner floor.",
        f"Check dimension: overall height {float(heights.max() - heights.min()):.3f} mm.",
    ]
    if options.part is not Part.SEAT:
        lines.append(f"Eased spans of the wall lie within {EASED_TOLERANCE_MM:g} mm.")
    found = stops(e.findings)
    if found:
        lines.append(f"NOT CHECKED: {found} stop finding{'' if found == 1 else 's'}.")
    lines.append(CAUTION)
    if options.part is Part.FORMER:
        added = f"Shrinkage {options.shrinkage_pct:+g} % added" if options.shrinkage_pct else "No shrinkage allowance"
        lines.append(f"{added}.")
    return lines


def _about_holes(shape: Shape, options: StepOptions, solid: Solid) -> list[str]:
    if options.part is not Part.LINER or not rings_of(shape.holes):
        return []
    if not options.holes:
        return ["LEFT OUT: the water holes."]
    lines = []
    if solid.bored:
        lines.append(
            f"{solid.holes} water holes in {_rings(len(solid.bored))}; the datum is the X axis, angles count "
            "counter-clockwise as seen from the lip."
        )
    if solid.marked:
        left = sum(each.ring.count for each in solid.marked)
        many = _rings(len(solid.marked))
        lines.append(f"LEFT OUT of the solid: {left} water holes in {many}, given as axes and points:")
        lines += [f"{each.ring.words}: {each.why}." for each in solid.marked]
    return lines


def _rings(count: int) -> str:
    return "1 ring" if count == 1 else f"{count} rings"
