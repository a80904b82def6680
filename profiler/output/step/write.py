"""The STEP file of a part: an exact closed solid for other CAD, CAM and analysis programs to take over.

The same chains as the profile's, turned about the axis; in the bowl the water holes as true cylinders. The header says
what the solid is, what was left out, whether it was checked, and the caution. Heights count from the inner floor.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from profiler import __version__
from profiler.assess import Evaluation
from profiler.assess.findings.finding import stops
from profiler.assess.shape.build import EASED_TOLERANCE_MM, Shape
from profiler.geometry.chain import Chain, sampled
from profiler.geometry.crossing import crossing
from profiler.output.drawings.parts import Part, ProfileOptions, as_made, part_chain
from profiler.output.step.bores import Bored, Marked, drilled, rings_of
from profiler.output.step.names import face_names
from profiler.output.step.part21 import Entities, listed, quoted
from profiler.output.step.product import SCHEMA, add_part
from profiler.output.step.profile import pieces_of
from profiler.output.step.seams import faces_of
from profiler.output.step.shell import closed_shell
from profiler.study.files.file import write_whole

WORDS = {Part.LINER: "bowl", Part.FORMER: "groove former", Part.SEAT: "seat of the rotor"}
CAUTION = "Never spin a bowl made from this without the approval of a licensed engineer: figures for screening only."
SEEN_SAG_MM = 0.005  # between the section and the points it is looked at by


@dataclass(frozen=True, slots=True)
class StepOptions:
    """`holes` concerns the bowl only, `shrinkage_pct` the former only; `date` as in 2031-04-05."""

    part: Part = Part.LINER
    holes: bool = True
    shrinkage_pct: float = 0.0
    date: str = ""
    author: str = ""


@dataclass(frozen=True, slots=True)
class Written:
    """What the file holds."""

    faces: int
    bored: tuple[Bored, ...]
    marked: tuple[Marked, ...]

    @property
    def holes(self) -> int:
        return sum(each.ring.count for each in self.bored)

    @property
    def words(self) -> str:
        found = f"exact solid, {self.faces} faces"
        found += f", {self.holes} water holes" if self.bored else ""
        count = len(self.marked)
        rings = "1 ring" if count == 1 else f"{count} rings"
        return found + (f", {rings} of holes as axes and points" if count else "")


def write_step(path: Path, e: Evaluation, options: StepOptions | None = None) -> Written:
    """Write the file, whole or not at all.

    Raises ValueError with a sentence where no solid can be made, BowlFileError where the path cannot be written.
    """
    text, written = step_text(e, options or StepOptions(), path.name)
    write_whole(path, text.encode("ascii"))
    return written


def step_text(e: Evaluation, options: StepOptions, file_name: str = "") -> tuple[str, Written]:
    """The file's text, plain ASCII, and what it holds."""
    if e.shape is None:
        raise ValueError("there is no section as the design stands.")
    if options.part not in WORDS:
        raise ValueError(f"a {options.part} has no solid.")
    if options.shrinkage_pct and options.part is not Part.FORMER:
        raise ValueError("A shrinkage allowance belongs to the groove former, not to another part.")
    plain = part_chain(options.part, e.shape, e.machine)
    chain = as_made(plain, ProfileOptions(options.part, shrinkage_pct=options.shrinkage_pct))
    place = crossing(chain, SEEN_SAG_MM)
    if place is not None:
        raise ValueError(f"no solid can be made: the section crosses itself {place[1]:.1f} mm high.")
    pieces = pieces_of(chain, face_names(plain, options.part, e.shape))
    rings = rings_of(e.shape.holes) if options.part is Part.LINER and options.holes else []
    bored, marked = drilled(pieces, sampled(chain, SEEN_SAG_MM), rings)
    entities = Entities()
    shell, faces = closed_shell(entities, faces_of(pieces, bored), bored)
    written = Written(faces, tuple(bored), tuple(marked))
    what = WORDS[options.part]
    statements = _statements(e, e.shape, chain, options, written)
    add_part(entities, f"{e.design.name}, {what}", " ".join(statements), what, shell, marked)
    return "\n".join(
        [*_head(statements, options, file_name), *entities.lines, "ENDSEC;", "END-ISO-10303-21;", ""]
    ), written


def _head(statements: Sequence[str], options: StepOptions, file_name: str) -> list[str]:
    """The header section. No clock: the same design gives the same bytes."""
    program = quoted(f"Bowl Profiler {__version__}")
    day = quoted(f"{options.date}T00:00:00" if options.date else "")
    author = quoted(options.author)
    return [
        "ISO-10303-21;",
        "HEADER;",
        f"FILE_DESCRIPTION({listed(map(quoted, statements))},'2;1');",
        f"FILE_NAME({quoted(file_name)},{day},({author}),(''),{program},{program},'');",
        f"FILE_SCHEMA(({quoted(SCHEMA)}));",
        "ENDSEC;",
        "DATA;",
    ]


def _statements(e: Evaluation, shape: Shape, chain: Chain, options: StepOptions, written: Written) -> list[str]:
    """What a reader of the file must know, sentence by sentence."""
    low, high = (float(f(chain.points[:, 1])) for f in (min, max))
    lines = [
        f'{WORDS[options.part].capitalize()} of the design "{e.design.name}", exact surfaces, millimetres.',
        "The Z axis is the spin axis, height 0 the inner floor.",
        f"Check dimension: overall height {high - low:.3f} mm.",
        f"Eased spans of the wall lie within {EASED_TOLERANCE_MM:g} mm.",
    ]
    found = stops(e.findings)
    if found:
        lines.append(f"NOT CHECKED: {found} stop finding{'' if found == 1 else 's'}.")
    lines.append(CAUTION)
    if options.part is Part.FORMER:
        added = f"{options.shrinkage_pct:+g} % shrinkage added" if options.shrinkage_pct else "No shrinkage allowance"
        lines.append(f"{added}.")
    return lines + _about_holes(shape, options, written)


def _about_holes(shape: Shape, options: StepOptions, written: Written) -> list[str]:
    if options.part is not Part.LINER or not rings_of(shape.holes):
        return []
    if not options.holes:
        return ["LEFT OUT: the water holes."]
    lines = []
    if written.bored:
        lines.append(
            f"{written.holes} water holes in {len(written.bored)} rings, the first of each on the X axis; "
            "counted, and leaning where skewed, counter-clockwise as seen from the lip."
        )
    if written.marked:
        left = sum(each.ring.count for each in written.marked)
        lines.append(
            f"LEFT OUT of the solid: {left} water holes in {len(written.marked)} rings, given as axes and points:"
        )
        lines += [f"{each.ring.words}: {each.why}." for each in written.marked]
    return lines
