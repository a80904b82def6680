"""A closed section turned into one exact solid, and the file that holds it."""

from collections.abc import Sequence
from dataclasses import dataclass

from profiler import __version__
from profiler.assess.shape.bore_rings import Ring
from profiler.geometry.chain import Chain, crossing, sampled
from profiler.output.step.bores import Bored, Marked, drilled
from profiler.output.step.part21 import Entities, listed, quoted
from profiler.output.step.product import SCHEMA, add_part
from profiler.output.step.profile import pieces_of
from profiler.output.step.seams import faces_of
from profiler.output.step.shell import closed_shell

SEEN_SAG_MM = 0.005  # between the section and the points it is looked at by
_LONGEST = 250  # letters of one statement; some readers cut a string at 256


@dataclass(frozen=True, slots=True)
class Solid:
    """The entities of a closed shell, and what it holds."""

    entities: Entities
    shell: str
    faces: int
    bored: tuple[Bored, ...]
    marked: tuple[Marked, ...]

    @property
    def holes(self) -> int:
        return sum(each.ring.count for each in self.bored)


@dataclass(frozen=True, slots=True)
class Label:
    """What a file says of itself. `date` as in 2031-04-05, "" where none is given: the file never asks the clock."""

    title: str
    kind: str
    statements: tuple[str, ...] = ()
    file_name: str = ""
    date: str = ""
    author: str = ""


def solid_of(chain: Chain, names: Sequence[str] = (), rings: Sequence[Ring] = ()) -> Solid:
    """The solid of a closed section, with bores where they can be cut; one name for each segment.

    Raises ValueError with a sentence where there is no solid.
    """
    pieces = pieces_of(chain, names)
    place = crossing(chain, SEEN_SAG_MM)
    if place is not None:
        raise ValueError(f"no solid can be made: the section crosses itself {place[1]:.1f} mm high.")
    bored, marked = drilled(pieces, sampled(chain, SEEN_SAG_MM), rings)
    entities = Entities()
    shell, faces = closed_shell(entities, faces_of(pieces, bored), bored)
    return Solid(entities, shell, faces, tuple(bored), tuple(marked))


def file_text(solid: Solid, label: Label) -> str:
    """The whole file, plain ASCII. A solid goes into one file only."""
    description = " ".join(label.statements)
    add_part(solid.entities, label.title, description, label.kind, solid.shell, solid.marked)
    lines = [*_head(label), "DATA;", *solid.entities.lines, "ENDSEC;", "END-ISO-10303-21;", ""]
    return "\n".join(lines)


def _head(label: Label) -> list[str]:
    program = quoted(f"Bowl Profiler {__version__}")
    day = quoted(f"{label.date}T00:00:00" if label.date else "")
    statements = [text[at : at + _LONGEST] for text in label.statements for at in range(0, len(text), _LONGEST)]
    return [
        "ISO-10303-21;",
        "HEADER;",
        f"FILE_DESCRIPTION({listed(map(quoted, statements or ['']))},'2;1');",
        f"FILE_NAME({quoted(label.file_name)},{day},({quoted(label.author)}),(''),{program},{program},'');",
        f"FILE_SCHEMA(({quoted(SCHEMA)}));",
        "ENDSEC;",
    ]
