"""What was decided and recorded, as typed: machine, duties, designs; their fields, edits and file."""

from profiler.study.files.file import BowlFileError, read_study, write_study
from profiler.study.records.design import (
    Body,
    Design,
    GrooveChange,
    GrooveRule,
    Hold,
    Knot,
    Placing,
    SquareTo,
    WallCurve,
)
from profiler.study.records.duty import FRICTION_USUAL, FRICTIONS, Calibrated, Duty, FrictionBasis, GrainShape
from profiler.study.records.fields import NOT_GIVEN, Field, NumberField, fields_of, not_given, objections
from profiler.study.records.holes import HoleChange, HolePlan
from profiler.study.records.lineage import Lineage, Way
from profiler.study.records.machine import Machine, SeatPoint
from profiler.study.records.materials import Material
from profiler.study.records.measured_profile import MeasuredProfile, ProfilePoint
from profiler.study.records.measurement import Measurement, Seen
from profiler.study.records.record import Record
from profiler.study.records.size_classes import SizeClass
from profiler.study.records.study import Shown, Study

__all__ = [
    "FRICTIONS",
    "FRICTION_USUAL",
    "NOT_GIVEN",
    "Body",
    "BowlFileError",
    "Calibrated",
    "Design",
    "Duty",
    "Field",
    "FrictionBasis",
    "GrainShape",
    "GrooveChange",
    "GrooveRule",
    "Hold",
    "HoleChange",
    "HolePlan",
    "Knot",
    "Lineage",
    "Machine",
    "Material",
    "MeasuredProfile",
    "Measurement",
    "NumberField",
    "Placing",
    "ProfilePoint",
    "Record",
    "SeatPoint",
    "Seen",
    "Shown",
    "SizeClass",
    "SquareTo",
    "Study",
    "WallCurve",
    "Way",
    "fields_of",
    "not_given",
    "objections",
    "read_study",
    "write_study",
]
