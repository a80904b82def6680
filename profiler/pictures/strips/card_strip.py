"""A groove's card as a picture: figures in sections, each with equation, inputs, source and limits in small print."""

from dataclasses import dataclass
from textwrap import wrap

from profiler.assess import Evaluation
from profiler.assess.quantities.groove_card import CardRow, CardSection, groove_card
from profiler.assess.shape.shape_stage import Shape
from profiler.pictures.basics.display import Align, Area, Item, Label, Line, Picture, Role, boxed, shifted
from profiler.pictures.basics.lengths import LengthUnit
from profiler.pictures.eddy.groove_picture import GrooveScene, groove_picture
from profiler.pictures.strips.scene import Scene

MARGIN = 12.0
HEAD_PX = 46.0
GROOVE_SHARE = 0.56  # of the card's width, how high the groove's picture is
LINE = 14.0  # px from one line of small print to the next
SMALL, PLAIN, HEAD = 7.5, 9.0, 9.5  # pt
EM_PX = 96.0 / 72.0  # of a point
LETTER = 0.60  # mean width of the program's own letters in their size, a little on the safe side
BOLD_LETTER = 0.66


@dataclass(frozen=True, slots=True)
class Card:
    """The picture, and how tall the whole card is: it scrolls where it is taller than the strip."""

    picture: Picture
    tall: float


def card(scene: Scene, width: float, height: float, scrolled: float = 0.0) -> Card:
    """The chosen groove's card, `scrolled` px down."""
    e, number = scene.shown, scene.groove
    sections = () if e is None or number is None else groove_card(e, number)
    if e is None or e.shape is None or number is None or not sections:
        lost = "" if e is None or not e.no_answer else f"no answer: {e.no_answer}"
        words = Label(width / 2, 0.5 * height, lost or "choose a groove", Role.FAINT, Align.CENTRE)
        return Card(Picture(width, height, (words,)), height)
    drawn, y = _groove(scene, e, number, width)
    items = [*drawn, *_head(e.shape, number, scene.lengths, width)]
    for section in sections:
        drawn, y = _section(section, y, width)
        items += drawn
    tall = y + MARGIN
    top = min(max(scrolled, 0.0), max(tall - height, 0.0))
    shown = [moved for item in items if (moved := _lifted(item, top, height)) is not None]
    return Card(Picture(width, height, (*shown, *_bar(top, tall, width, height))), tall)


def _head(shape: Shape, number: int, lengths: LengthUnit, width: float) -> list[Item]:
    z = float(shape.mouths.middle[number - 1])
    where = f"{lengths.text(z, 1)} up, R {lengths.text(float(shape.wall.radius_at(z)), 1)}"
    return [
        Label(MARGIN, 16.0, f"Groove {number}", Role.CHOSEN, size=12.0, bold=True),
        Label(width - MARGIN - 6.0, 16.0, where, Role.TEXT, Align.RIGHT, PLAIN),
        Label(MARGIN, 33.0, "Enter, Esc or a double click closes; ↑ ↓ next groove", Role.FAINT, size=SMALL),
    ]


def _section(section: CardSection, y: float, width: float) -> tuple[list[Item], float]:
    y += 12.0
    items: list[Item] = [
        Label(MARGIN, y, section.title, Role.TEXT, size=HEAD, bold=True),
        Line(boxed(MARGIN, y + 9.0, width - MARGIN, y + 9.0)[:2], Role.GRID, 1.2),
    ]
    y += 22.0
    for words in _wrapped(section.remark, width):
        items.append(Label(MARGIN, y, words, Role.TEXT, size=SMALL))
        y += LINE
    for row in section.rows:
        drawn, y = _row(row, y, width)
        items += drawn
    return items, y


def _row(row: CardRow, y: float, width: float) -> tuple[list[Item], float]:
    items: list[Item] = [Label(MARGIN, y, row.label, Role.TEXT, size=PLAIN)]
    if PLAIN * EM_PX * (LETTER * len(row.label) + BOLD_LETTER * len(row.value)) > width - 2.0 * MARGIN - 6.0:
        y += LINE + 1.0  # label and value each have a line where one does not hold both
    items.append(Label(width - MARGIN - 6.0, y, row.value, Role.TEXT, Align.RIGHT, PLAIN, True))
    y += LINE + 1.0
    prints = ((row.equation, Role.REPOSE), (row.inputs, Role.FAINT), (_rests(row), Role.FAINT))
    for text, role in prints:
        for words in _wrapped(text, width):
            items.append(Label(MARGIN + 8.0, y, words, role, size=SMALL))
            y += LINE
    return items, y + 5.0


def _rests(row: CardRow) -> str:
    return "; ".join(part for part in (row.source, row.limits) if part)


def _wrapped(text: str, width: float) -> list[str]:
    room = max(int((width - 2.0 * MARGIN - 14.0) / (SMALL * EM_PX * LETTER)), 20)
    return wrap(text, room)


def _lifted(item: Item, by: float, height: float) -> Item | None:
    """The item moved up; None for a line of text that leaves the picture."""
    if isinstance(item, Label) and not -LINE < item.y - by < height + LINE:
        return None
    return shifted(item, 0.0, -by)


def _groove(scene: Scene, e: Evaluation, number: int, width: float) -> tuple[list[Item], float]:
    """The groove magnified, small, and where the figures begin under it."""
    height = GROOVE_SHARE * width
    picture = groove_picture(GrooveScene(e, number, scene.computed, words=False, both=False), width, height)
    items = [shifted(item, 0.0, HEAD_PX) for item in picture.items]
    items.append(Area(boxed(0.0, 0.0, width, HEAD_PX), Role.PAPER))
    return items, HEAD_PX + height


def _bar(top: float, tall: float, width: float, height: float) -> list[Item]:
    """Where in the card one is, where it is taller than the strip."""
    if tall <= height:
        return []
    first, last = top / tall * height, (top + height) / tall * height
    return [Area(boxed(width - 5.0, first + 2.0, width - 2.0, last - 2.0), Role.BAR)]
