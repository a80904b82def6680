"""A DXF, text or binary, read by ezdxf: its curves in millimetres, blocks exploded, unit from the header or None."""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from profiler.assess.drawn.drawing import CURVE_MM, Circle, Drawing, UnreadableDrawing
from profiler.assess.drawn.dxf_entities import MAKERS, NotPlane, curve_of
from profiler.geometry.chain import Chain
from profiler.numbers import counted
from profiler.progress import SILENT, Progress

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.entities.dxfentity import DXFEntity

MOST_BYTES = 64 * 1024 * 1024
MOST_ENTITIES = 200_000  # tables and points included: beyond, a picture of it would not help anybody
DEEPEST = 8  # blocks in blocks
SPARE = 0.9  # of the tolerance is used: a biarc is checked at some points only
EVERY = 500  # entities between two words on how far it has come
UNITS_MM = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0, 9: 0.0254, 13: 0.001, 14: 100.0}  # $INSUNITS
CENTRE = re.compile(
    r"cent(er|re)|axis|axes|dash ?dot|chain|symm|datum", re.IGNORECASE
)  # names of layers and line types
NOTHING = "holds no lines, arcs or curves in its model space"


def read_dxf(path: Path, progress: Progress = SILENT) -> Drawing:
    """Raises UnreadableDrawing, one sentence. Lengths are in mm where the file says its unit."""
    document = _document(path)
    progress.at(0.6)
    strokes, circles, centres = [], [], []
    kinds: Counter[str] = Counter()
    flat = in_space = 0
    entities = list(document.modelspace())
    unit = _unit_mm(document)
    tolerance = SPARE * CURVE_MM / (unit or 1.0)
    for number, entity in enumerate(_exploded(entities)):
        if number % EVERY == 0:
            progress.at(0.6 + 0.4 * min(number / max(len(entities), 1), 1.0))
        if number > MOST_ENTITIES:
            raise UnreadableDrawing(f"{path.name} has more than {MOST_ENTITIES} entities once its blocks are exploded.")
        try:
            curve = curve_of(entity, tolerance)
        except NotPlane:
            in_space += 1
            continue
        except (ValueError, ArithmeticError, TypeError, IndexError):
            curve = None
        if curve is None or not np.all(np.isfinite(curve.points)):
            kinds[entity.dxftype()] += 1
            continue
        flat += 1
        if _is_centre_line(entity, document):
            centres.append(curve)
            continue
        if entity.dxftype() == "CIRCLE":
            circles.append(_circle(curve))
        strokes.append(curve)
    _refuse_empty(path.name, strokes, in_space)
    drawing = Drawing(path.name, tuple(strokes), tuple(circles), tuple(centres), unit, _notes(kinds, in_space, unit))
    progress.at(1.0)
    return drawing.scaled(unit) if unit not in (None, 1.0) else drawing


def _document(path: Path) -> "Document":
    from ezdxf.filemanagement import readfile
    from ezdxf.lldxf.const import DXFError

    try:
        data = path.read_bytes() if path.stat().st_size <= MOST_BYTES else None
    except OSError as error:
        raise UnreadableDrawing(f"{path.name} cannot be read: {(error.strerror or str(error)).lower()}.") from None
    if data is None:
        raise UnreadableDrawing(f"{path.name} is larger than {MOST_BYTES // 2**20} MB: save the section alone.")
    binary = data.startswith(b"AutoCAD Binary DXF")
    if not binary and not re.match(rb"\s*(\xef\xbb\xbf)?\s*(0|999)\s*[\r\n]", data):
        raise UnreadableDrawing(f"{path.name} is not a DXF file.")
    if not binary and len(re.findall(rb"[\r\n][ \t]*0[ \t]*\r?\n", data)) > MOST_ENTITIES:
        raise UnreadableDrawing(f"{path.name} holds more than {MOST_ENTITIES} entities: save the section alone.")
    try:
        return readfile(str(path))
    except (DXFError, OSError, ValueError, KeyError, IndexError, AttributeError, TypeError) as error:
        words = " ".join(str(error).split())[:120].rstrip(".")
        raise UnreadableDrawing(f"{path.name} is not a DXF file that can be read: {words}.") from None


def _exploded(entities: Sequence["DXFEntity"], depth: int = 0) -> Iterator["DXFEntity"]:
    """Entities with every block in its place."""
    from ezdxf.entities.insert import Insert

    for entity in entities:
        if isinstance(entity, Insert) and depth < DEEPEST:
            parts = entity.multi_insert() if entity.mcount > 1 else (entity,)
            for part in parts:
                yield from _exploded(list(part.virtual_entities()), depth + 1)
        else:
            yield entity


def _unit_mm(document: "Document") -> float | None:
    """Millimetres in one unit of the drawing; None where it does not say."""
    return UNITS_MM.get(int(document.header.get("$INSUNITS", 0)))


def _is_centre_line(entity: "DXFEntity", document: "Document") -> bool:
    if entity.dxftype() not in ("LINE", "LWPOLYLINE"):
        return False
    layer = str(entity.dxf.get("layer", "0"))
    kind = str(entity.dxf.get("linetype", "BYLAYER"))
    if kind.upper() == "BYLAYER" and layer in document.layers:
        kind = str(document.layers.get(layer).dxf.get("linetype", ""))
    return bool(CENTRE.search(layer) or CENTRE.search(kind))


def _circle(curve: Chain) -> Circle:
    right, left = curve.points
    return Circle(0.5 * float(right[0] + left[0]), float(right[1]), 0.5 * abs(float(right[0] - left[0])))


def _refuse_empty(name: str, strokes: list[Chain], in_space: int) -> None:
    if strokes:
        return
    if in_space:
        what = counted(in_space, "entity", "entities")
        raise UnreadableDrawing(f"{name} is drawn in space ({what} out of the plane): a plane section is needed.")
    raise UnreadableDrawing(f"{name} {NOTHING}.")


def _notes(kinds: Counter[str], in_space: int, unit: float | None) -> tuple[str, ...]:
    found = []
    if unit is None:
        found.append("The file does not say its unit.")
    passed = {kind: n for kind, n in kinds.items() if kind not in MAKERS}
    if passed:
        found.append(f"Passed over: {', '.join(f'{n} {kind}' for kind, n in sorted(passed.items()))}.")
    broken = sum(n for kind, n in kinds.items() if kind in MAKERS)
    if broken:
        found.append(f"{counted(broken, 'curve')} with no length or no numbers passed over.")
    if in_space:
        found.append(f"{counted(in_space, 'entity', 'entities')} out of the plane passed over.")
    return tuple(found)
