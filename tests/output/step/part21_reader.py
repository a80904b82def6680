"""A reader of ISO 10303-21 text of our own, written from the standard's grammar (from memory), strict about it.

Every character of the file has to be accounted for; a real number without its point, an unknown keyword, a wrong
number or kind of attributes, a reference to nothing, or an entity nobody refers to is an error.
"""

import re
from dataclasses import dataclass

TOKEN = re.compile(
    r"\s+|(?P<real>[+-]?\d+\.\d*(?:E[+-]?\d+)?)|(?P<integer>[+-]?\d+)|(?P<ref>#\d+)|(?P<enum>\.[A-Z_][A-Z0-9_]*\.)"
    r"|(?P<string>'(?:[^'\\]|''|\\\\|\\X\\[0-9A-F]{2}|\\X2\\(?:[0-9A-F]{4})+\\X0\\|\\X4\\(?:[0-9A-F]{8})+\\X0\\)*')"
    r"|(?P<keyword>[A-Z][A-Z0-9_]*)|(?P<mark>[(),;=*$])"
)
CODED = re.compile(
    r"''|\\\\|\\X\\(?P<one>[0-9A-F]{2})|\\X2\\(?P<two>(?:[0-9A-F]{4})+)\\X0\\|\\X4\\(?P<four>(?:[0-9A-F]{8})+)\\X0\\"
)

# Attributes of each entity, by ISO 10303-41, -42, -43 and -511: s string, r real, i integer, f reference, l logical or
# enumeration, * re-declared, $ may be left out, capitals a list of them, T a typed value. From memory.
ATTRIBUTES = {
    "ADVANCED_BREP_SHAPE_REPRESENTATION": "sFf", "ADVANCED_FACE": "sFfl", "APPLICATION_CONTEXT": "s",
    "APPLICATION_PROTOCOL_DEFINITION": "ssif", "AXIS1_PLACEMENT": "sff", "AXIS2_PLACEMENT_3D": "sfff",
    "B_SPLINE_CURVE_WITH_KNOTS": "siFlllIRl", "CARTESIAN_POINT": "sR", "CIRCLE": "sfr", "CLOSED_SHELL": "sF",
    "CONICAL_SURFACE": "sfrr", "CYLINDRICAL_SURFACE": "sfr", "DIRECTION": "sR", "EDGE_CURVE": "sfffl",
    "EDGE_LOOP": "sF", "FACE_BOUND": "sfl", "FACE_OUTER_BOUND": "sfl", "GEOMETRIC_CURVE_SET": "sF",
    "GEOMETRICALLY_BOUNDED_WIREFRAME_SHAPE_REPRESENTATION": "sFf", "LINE": "sff", "MANIFOLD_SOLID_BREP": "sf",
    "ORIENTED_EDGE": "s**fl", "PLANE": "sf", "PRODUCT": "sssF", "PRODUCT_CONTEXT": "sfs",
    "PRODUCT_DEFINITION": "ssff", "PRODUCT_DEFINITION_CONTEXT": "sfs", "PRODUCT_DEFINITION_FORMATION": "ssf",
    "PRODUCT_DEFINITION_SHAPE": "ssf", "PRODUCT_RELATED_PRODUCT_CATEGORY": "s$F",
    "SHAPE_DEFINITION_REPRESENTATION": "ff", "SHAPE_REPRESENTATION_RELATIONSHIP": "ssff",
    "SURFACE_OF_REVOLUTION": "sff", "TOROIDAL_SURFACE": "sfrr", "TRIMMED_CURVE": "sfFFll",
    "UNCERTAINTY_MEASURE_WITH_UNIT": "Tfss", "VECTOR": "sfr", "VERTEX_POINT": "sf",
}  # fmt: skip
NOBODYS = {"APPLICATION_PROTOCOL_DEFINITION", "PRODUCT_RELATED_PRODUCT_CATEGORY", "SHAPE_DEFINITION_REPRESENTATION",
           "SHAPE_REPRESENTATION_RELATIONSHIP"}  # fmt: skip


@dataclass(frozen=True)
class Ref:
    number: int


@dataclass(frozen=True)
class Enum:
    name: str


@dataclass(frozen=True)
class Typed:
    keyword: str
    values: list


@dataclass(frozen=True)
class Entity:
    """One entity; a complex one has several keywords, in alphabetical order, and no attributes of its own name."""

    keyword: str
    values: list
    parts: tuple = ()

    def part(self, keyword):
        return next(part.values for part in self.parts if part.keyword == keyword)


OMITTED, DERIVED = Enum("$"), Enum("*")


class File:
    """Header records by keyword, entities by number."""

    def __init__(self, text):
        text.encode("ascii")
        self.tokens, self.at = list(_tokens(text.split("ISO-10303-21;", 1)[1].rsplit("END-ISO-10303-21;", 1)[0])), 0
        assert text.startswith("ISO-10303-21;\n") and text.endswith("END-ISO-10303-21;\n")
        self.header, self.entities = {}, {}
        self._section("HEADER", self._header_record)
        self._section("DATA", self._entity)
        assert self.at == len(self.tokens)
        self._check()

    def __getitem__(self, ref):
        return self.entities[ref.number]

    def all(self, keyword):
        return [entity for entity in self.entities.values() if entity.keyword == keyword]

    def _section(self, name, record):
        self._take("keyword", name), self._take("mark", ";")
        while self.tokens[self.at] != ("keyword", "ENDSEC"):
            record()
            self._take("mark", ";")
        self._take("keyword"), self._take("mark", ";")

    def _header_record(self):
        keyword = self._take("keyword")
        assert keyword not in self.header
        self.header[keyword] = self._list()

    def _entity(self):
        number = int(self._take("ref")[1:])
        self._take("mark", "=")
        assert number not in self.entities
        if self.tokens[self.at] == ("mark", "("):
            self.at += 1
            parts = []
            while self.tokens[self.at] != ("mark", ")"):
                parts.append(Typed(self._take("keyword"), self._list()))
            self.at += 1
            assert [p.keyword for p in parts] == sorted(p.keyword for p in parts)
            self.entities[number] = Entity("+".join(p.keyword for p in parts), [p.values for p in parts], tuple(parts))
        else:
            self.entities[number] = Entity(self._take("keyword"), self._list())

    def _list(self):
        self._take("mark", "(")
        values = []
        while self.tokens[self.at] != ("mark", ")"):
            if values:
                self._take("mark", ",")
            values.append(self._value())
        self.at += 1
        return values

    def _value(self):
        kind, text = self.tokens[self.at]
        if (kind, text) == ("mark", "("):
            return self._list()
        self.at += 1
        if kind == "keyword":
            return Typed(text, self._list())
        read = {"real": float, "integer": int, "ref": lambda t: Ref(int(t[1:])), "enum": lambda t: Enum(t[1:-1]),
                "string": decoded, "mark": {"$": OMITTED, "*": DERIVED}.__getitem__}  # fmt: skip
        return read[kind](text)

    def _take(self, kind, text=None):
        found = self.tokens[self.at]
        assert found[0] == kind and text in (None, found[1]), (found, kind, text)
        self.at += 1
        return found[1]

    def _check(self):
        used = set()
        for entity in self.entities.values():
            if not entity.parts:
                assert entity.keyword in ATTRIBUTES, entity.keyword
                form = ATTRIBUTES[entity.keyword]
                assert len(entity.values) == len(form), entity
                assert all(map(_fits, entity.values, form)), entity
            used.update(_references(entity.values))
        assert used <= set(self.entities)
        unused = {self.entities[number].keyword for number in set(self.entities) - used}
        assert unused <= NOBODYS, unused


def decoded(text):
    return CODED.sub(_plain, text[1:-1])


def _plain(found):
    if found[0] in ("''", "\\\\"):
        return found[0][0]
    if found["one"]:
        return chr(int(found["one"], 16))
    return _letters(found["two"], 4) if found["two"] else _letters(found["four"], 8)


def _letters(digits, width):
    return "".join(chr(int(digits[i : i + width], 16)) for i in range(0, len(digits), width))


def _tokens(text):
    at = 0
    while at < len(text):
        found = TOKEN.match(text, at)
        assert found, text[at : at + 40]
        at = found.end()
        if found.lastgroup:
            yield found.lastgroup, found[0]


def _fits(value, form):
    if form.isupper() and form != "T":
        return isinstance(value, list) and bool(value) and all(_fits(each, form.lower()) for each in value)
    kinds = {"s": str, "r": float, "i": int, "f": Ref, "l": Enum, "T": Typed, "*": Enum, "$": Enum}
    return isinstance(value, kinds[form]) and {"*": value == DERIVED, "$": value == OMITTED}.get(form, True)


def _references(value):
    if isinstance(value, Ref):
        yield value.number
    for each in value.values if isinstance(value, Typed) else value if isinstance(value, list) else ():
        yield from _references(each)
