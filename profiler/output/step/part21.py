"""Text by the rules of ISO 10303-21, the clear text encoding of STEP files: values, and entities with their numbers.

The text is plain ASCII, so that no reader has to guess an alphabet. What the entities mean is not here.
"""

from collections.abc import Iterable, Sequence

from profiler.geometry.chain import FloatArray

POLE_DECIMALS = 9  # of the many points of curves: a millionth of a thousandth of a millimetre
_PRINTABLE = range(32, 127)
_PLANE = 0x10000  # letters beyond it need eight hexadecimal digits


def quoted(text: str) -> str:
    """A string: backslashes doubled, other letters as \\X2\\ or \\X4\\ groups, control codes as blanks.

    An apostrophe goes by its code, \\X\\27: doubled, as the standard has it too, and before a comma or a bracket, it
    ends the string for a widespread reader, which then drops the entity.
    """
    written, group = [], ""
    for letter in text:
        kind = _group_of(letter)
        if group and kind != group:
            written.append("\\X0\\")
        if kind and kind != group:
            written.append(kind)
        group = kind
        written.append(_coded(letter, kind))
    return "'" + "".join(written) + ("\\X0\\" if group else "") + "'"


def real(value: float) -> str:
    """A real number, which has a point whatever happens; 15 digits."""
    text = f"{value + 0.0:.15g}"
    mantissa, mark, exponent = text.partition("e")
    if "." not in mantissa:
        mantissa += "."
    return "0." if mantissa == "-0." else mantissa + (f"E{int(exponent)}" if mark else "")


def reals(values: Iterable[float]) -> str:
    return "(" + ",".join(map(real, values)) + ")"


def listed(items: Iterable[str]) -> str:
    return "(" + ",".join(items) + ")"


class Entities:
    """A data section: entities in the order they came, each known by its number, as in "#12"."""

    def __init__(self) -> None:
        self.lines: list[str] = []
        self._known: dict[str, str] = {}

    def add(self, entity: str) -> str:
        """A new entity's number."""
        number = f"#{len(self.lines) + 1}"
        self.lines.append(f"{number}={entity};")
        return number

    def once(self, entity: str) -> str:
        """The number of an entity that all who need the same may share."""
        if entity not in self._known:
            self._known[entity] = self.add(entity)
        return self._known[entity]

    def point(self, place: Sequence[float]) -> str:
        return self.once(f"CARTESIAN_POINT('',{reals(place)})")

    def direction(self, way: Sequence[float]) -> str:
        return self.once(f"DIRECTION('',{reals(round(part, 15) for part in way)})")

    def frame(self, origin: Sequence[float], axis: Sequence[float], ahead: Sequence[float]) -> str:
        """A place with its third axis and its first one."""
        parts = (self.point(origin), self.direction(axis), self.direction(ahead))
        return self.once(f"AXIS2_PLACEMENT_3D('',{','.join(parts)})")

    def points(self, places: FloatArray) -> list[str]:
        """The numbers of many points (n, 3) at once."""
        first = len(self.lines) + 1
        numbers = [f"#{number}" for number in range(first, first + len(places))]
        form = f"%s=CARTESIAN_POINT('',(%.{POLE_DECIMALS}f,%.{POLE_DECIMALS}f,%.{POLE_DECIMALS}f));"
        rows = zip(numbers, *places.T.tolist(), strict=True)
        self.lines.extend([form % row for row in rows])
        return numbers


def _group_of(letter: str) -> str:
    code = ord(letter)
    if code < 32 or code in _PRINTABLE or 0xD800 <= code < 0xE000:
        return ""
    return "\\X2\\" if code < _PLANE else "\\X4\\"


def _coded(letter: str, kind: str) -> str:
    code = ord(letter)
    if kind:
        return f"{code:04X}" if code < _PLANE else f"{code:08X}"
    if code not in _PRINTABLE:
        return " " if code < 32 else "?"
    return {"'": "\\X\\27", "\\": "\\\\"}.get(letter, letter)
