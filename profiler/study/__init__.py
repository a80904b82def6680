"""What was decided and recorded, as typed: machine, duties, designs; their fields, edits and file."""

from .design import Body, Design, GrooveChange, GrooveRule, Hold, Knot, Placing, SquareTo, WallCurve
from .duty import Duty, GrainShape
from .fields import Field, fields_of, objections
from .file import BowlFileError, read_study, write_study
from .holes import HoleChange, HolePlan
from .machine import Machine, SeatPoint
from .materials import Material
from .size_classes import SizeClass
from .study import Shown, Study

__all__ = [
    "Body",
    "BowlFileError",
    "Design",
    "Duty",
    "Field",
    "GrainShape",
    "GrooveChange",
    "GrooveRule",
    "Hold",
    "HoleChange",
    "HolePlan",
    "Knot",
    "Machine",
    "Material",
    "Placing",
    "SeatPoint",
    "Shown",
    "SizeClass",
    "SquareTo",
    "Study",
    "WallCurve",
    "fields_of",
    "objections",
    "read_study",
    "write_study",
]
