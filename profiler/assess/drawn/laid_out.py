"""A drawing laid out at once: unit and scale applied, the axis chosen, chains placed, seat and bowl proposed."""

from dataclasses import dataclass
from pathlib import Path

from profiler.assess.drawn.drawing import GAP_MM, Drawing
from profiler.assess.drawn.envelope import Roles, proposed_roles
from profiler.assess.drawn.placing import Axis, Placed, ProposedAxis, axes, placed
from profiler.assess.drawn.read_dxf import read_dxf
from profiler.numbers import as_printed, counted
from profiler.progress import SILENT, Progress


@dataclass(frozen=True, slots=True)
class Laying:
    """What a reader of the drawing says: millimetres in one of its lengths, which proposed axis, which way up."""

    factor: float = 1.0
    axis: int = 0
    upside_down: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class LaidOut:
    """`read` is as it was read, `drawing` with its factor."""

    read: Drawing
    drawing: Drawing
    axes: tuple[ProposedAxis, ...]
    axis: Axis
    placed: Placed
    roles: Roles

    @property
    def remarks(self) -> tuple[str, ...]:
        """What was passed over, closed, and left out, a sentence each."""
        joints, found = self.placed.joints, list(self.read.notes)
        if joints.closed_gaps:
            gaps = counted(joints.closed_gaps, "gap")
            found.append(f"{gaps} of up to {joints.widest:.3f} mm closed ({GAP_MM:g} mm allowed).")
        if joints.forks:
            found.append(f"Chains cross or branch at {counted(joints.forks, 'place')}: they end there.")
        found.append("Both halves are drawn; one is taken." if self.placed.full else "Half a section is drawn.")
        return tuple(as_printed(sentence) for sentence in found)


def laid_out(read: Drawing, laying: Laying, progress: Progress = SILENT) -> LaidOut:
    """Raises ValueError, one sentence, for an axis that is not proposed or a scale that makes no lengths."""
    if not 1e-6 <= laying.factor <= 1e6:
        raise ValueError("The scale must be a number above zero: 2 where the drawing is half as large as the machine.")
    drawing = read.scaled(laying.factor)
    progress.at(0.2)
    known = axes(drawing)
    if not 0 <= laying.axis < len(known):
        proposed = counted(len(known), "proposed axis", "proposed axes")
        raise ValueError(f"There is no axis {laying.axis + 1}: the drawing has {proposed}.")
    progress.at(0.4)
    axis = known[laying.axis].axis
    shown = placed(drawing, axis, laying.upside_down)
    progress.at(0.9)
    return LaidOut(read, drawing, known, axis, shown, proposed_roles(shown))


def read_and_lay(path: Path, progress: Progress = SILENT) -> LaidOut:
    """As it comes, in mm or, where it does not say, as if it were. Raises UnreadableDrawing."""
    read = read_dxf(path, Progress(lambda share: progress.at(0.7 * share)))
    return laid_out(read, Laying(), Progress(lambda share: progress.at(0.7 + 0.3 * share)))
