"""Every finding the program can make, in one table: what it is about, how bad it is, who sets its limit, when it comes.

Adding a finding touches its check and this table. Lists by topic, what follows a drag, and the tests read it.
"""

from enum import Enum, StrEnum, auto

from profiler.assess import unchecked
from profiler.assess.evidence.words import UNCALIBRATED_SHORT


class Severity(StrEnum):
    """stop: cannot be built, does not fit or must not run. check: works against the purpose, or a model is strained."""

    STOP = "stop"
    CHECK = "check"
    NOTE = "note"


class Topic(StrEnum):
    """In the order of a list; the value is its heading."""

    SAFETY = "Spinning and safety"
    FIT = "Wall and fit"
    SLURRY = "Slurry"
    GROOVES = "Grooves"
    WATER = "Water"
    MAKING = "Making"


class When(Enum):
    """When a check is made."""

    EVERY_FRAME = auto()
    AFTERWARDS = auto()  # 80 ms after the last input; meanwhile the window keeps what was found before
    EXPORT = auto()  # where a part is written: tool and draft belong to the shop, not to the design


STOP, CHECK, NOTE = Severity
AFTERWARDS, EXPORT = When.AFTERWARDS, When.EXPORT

_BALANCE = "balance of the jacket in the rotating frame"
_CONTOUR = "from the groove contour"
_FACTOR = "the factor asked of the machine"
_FLUIDISING = "fluidising correlations, median of six; window common practice, no source"
_GEOMETRY = "geometry"
_GROUPS = "screening groups from cavity and embayment work; no recovery follows"
_JACKET = "liquid turning with the bowl"
_LIMITS = "slurry model: limits of validity"
_MODEL = f"slurry model, {UNCALIBRATED_SHORT}"
_SHOP = "the tool or draft named for this export"
_SHOP_RULE = "the design's own limit"
_TRADE = "common practice, no source"
_WALL = "from the wall curve"


class Kind(Enum):
    """A row: code, topic, severity, source of the limit, when.

    A finding may have another severity, or a source of its own (the machine or material it names); nothing else varies.
    """

    def __init__(
        self, code: str, topic: Topic, severity: Severity, source: str = "", when: When = When.EVERY_FRAME
    ) -> None:
        self.code = code
        self.topic = topic
        self.severity = severity
        self.source = source
        self.when = when

    # numbers and curves that cannot be used
    OUT_OF_BOUNDS = "out_of_bounds", Topic.FIT, STOP, "bounds of the field"  # of each field: its name ends the code
    WALL_START = "wall_start", Topic.FIT, STOP
    KNOT_ORDER = "knot_order", Topic.FIT, STOP
    NO_RADIUS = "no_radius", Topic.FIT, STOP
    FLOOR_INSIDE_HUB = "floor_inside_hub", Topic.FIT, STOP
    WALL_AT_AXIS = "wall_at_axis", Topic.FIT, STOP
    ANGLE_UNUSUAL = "angle_unusual", Topic.FIT, CHECK
    ANGLES_FROM_HORIZONTAL = "angles_from_horizontal", Topic.FIT, CHECK
    OVERHANG = "overhang", Topic.FIT, CHECK, _WALL
    BRIM_DAM = "brim_dam", Topic.FIT, NOTE, _WALL

    # the bowl in its machine
    FITS = "fits", Topic.FIT, NOTE
    MACHINE_LACKS = "machine_lacks", Topic.FIT, NOTE
    ENDS_NOT_JOINED = "ends_not_joined", Topic.FIT, STOP, "the radii held"
    LIP_RADIUS = "lip_radius", Topic.FIT, STOP
    BOWL_HEIGHT = "bowl_height", Topic.FIT, STOP
    FLANGE_INSIDE_LIP = "flange_inside_lip", Topic.FIT, STOP, _GEOMETRY
    NO_SEAT = "no_seat", Topic.FIT, NOTE
    SEAT_ORDER = "seat_order", Topic.FIT, STOP
    SEAT_CLASH = "seat_clash", Topic.FIT, STOP
    JACKET_NARROW = "jacket_narrow", Topic.FIT, STOP
    DEFLECTOR_CLASH = "deflector_clash", Topic.FIT, STOP
    FEED_PIPE_CLASH = "feed_pipe_clash", Topic.FIT, STOP

    # what the slurry does, and where its model is strained
    SIZE_CLASSES = "size_classes", Topic.SLURRY, STOP, "a table of size classes"
    NOTHING_EXPOSED = "nothing_exposed", Topic.SLURRY, CHECK, _MODEL
    SHALLOWER = "shallower", Topic.SLURRY, NOTE, _MODEL
    STEEPER = "steeper", Topic.SLURRY, NOTE, _MODEL
    ENTRY = "entry", Topic.SLURRY, NOTE, _LIMITS
    SLURRY_OVER_HUB = "slurry_over_hub", Topic.SLURRY, CHECK, _LIMITS
    SLURRY_ON_DEFLECTOR = "slurry_on_deflector", Topic.SLURRY, CHECK, _LIMITS
    SLURRY_ON_FEED_PIPE = "slurry_on_feed_pipe", Topic.SLURRY, CHECK, _LIMITS
    TOP_SIZE = "top_size", Topic.SLURRY, CHECK, _TRADE
    FILM_THIN = "film_thin", Topic.SLURRY, CHECK, _LIMITS
    FILM_UNSTEADY = "film_unsteady", Topic.SLURRY, CHECK, _LIMITS
    FILM_FAST = "film_fast", Topic.SLURRY, CHECK, _LIMITS
    FILM_LAG = "film_lag", Topic.SLURRY, CHECK, _LIMITS
    NOT_CARRIED = "not_carried", Topic.SLURRY, STOP, _LIMITS
    BED_CLOSES = "bed_closes", Topic.SLURRY, STOP, _LIMITS
    FILM_BELOW_GRAIN = "film_below_grain", Topic.SLURRY, STOP, _LIMITS
    HIGH_FRICTION_LOST = "high_friction_lost", Topic.SLURRY, CHECK, _LIMITS
    SURFACE_UNSETTLED = "surface_unsettled", Topic.SLURRY, CHECK, _LIMITS
    FILM_LAMINAR = "film_laminar", Topic.SLURRY, CHECK, _LIMITS
    ROUGHNESS_CAP = "roughness_cap", Topic.SLURRY, CHECK, _LIMITS
    REYNOLDS_FLOOR = "reynolds_floor", Topic.SLURRY, CHECK, _LIMITS
    THIN_SLURRY = "thin_slurry", Topic.SLURRY, CHECK, _LIMITS
    THICK_SLURRY = "thick_slurry", Topic.SLURRY, CHECK, _LIMITS
    BED_PACKED = "bed_packed", Topic.SLURRY, CHECK, _LIMITS
    LOW_ACCELERATION = "low_acceleration", Topic.SLURRY, CHECK, _LIMITS
    FRICTION_UNUSUAL = "friction_unusual", Topic.SLURRY, CHECK, _LIMITS
    FRICTION_ORDER = "friction_order", Topic.SLURRY, CHECK, _LIMITS
    FRICTION_FORMER_LAW = "friction_former_law", Topic.SLURRY, CHECK, _LIMITS
    CLAY = "clay", Topic.SLURRY, CHECK, _LIMITS
    MUCH_FINES = "much_fines", Topic.SLURRY, CHECK, _LIMITS

    # the grooves
    NO_GROOVES = "no_grooves", Topic.GROOVES, CHECK
    MOUTH_OUTSIDE = "mouth_outside", Topic.GROOVES, STOP
    MOUTHS_OVERLAP = "mouths_overlap", Topic.GROOVES, STOP
    LAND_NARROW = "land_narrow", Topic.GROOVES, CHECK, _SHOP_RULE
    MOUTH_NEAR_END = "mouth_near_end", Topic.GROOVES, CHECK, _SHOP_RULE
    GROOVE_BURIED = "groove_buried", Topic.GROOVES, CHECK, _MODEL
    SHELTERED = "sheltered", Topic.GROOVES, NOTE, _MODEL
    MATCHED = "matched", Topic.GROOVES, NOTE, _MODEL
    GROOVE_WIDE = "groove_wide", Topic.GROOVES, NOTE, unchecked.CAPTIVE_WIDTH.words, AFTERWARDS
    TARGET_FLUSHED = "target_flushed", Topic.GROOVES, CHECK, _GROUPS, AFTERWARDS
    TARGET_NOT_KEPT = "target_not_kept", Topic.GROOVES, CHECK, _GROUPS, AFTERWARDS
    TARGET_DOUBTFUL = "target_doubtful", Topic.GROOVES, NOTE, _GROUPS, AFTERWARDS
    FULL_EARLY = "full_early", Topic.GROOVES, NOTE, "groove volumes and settled bed", AFTERWARDS
    KEEPS_AT_REST = "keeps_at_rest", Topic.GROOVES, NOTE, _CONTOUR, AFTERWARDS

    # their water
    NO_WATER = "no_water", Topic.WATER, CHECK, _TRADE
    WATER_EVEN = "water_even", Topic.WATER, NOTE
    WATER_UNSETTLED = "water_unsettled", Topic.WATER, CHECK, _BALANCE
    WATER_LOW = "water_low", Topic.WATER, CHECK, _FLUIDISING, AFTERWARDS
    WATER_HIGH = "water_high", Topic.WATER, CHECK, _FLUIDISING, AFTERWARDS
    SUPPLY_WEAK = "supply_weak", Topic.WATER, CHECK
    SUPPLY_UNKNOWN = "supply_unknown", Topic.WATER, NOTE, _JACKET, AFTERWARDS
    JACKET_PART_FULL = "jacket_part_full", Topic.WATER, NOTE, _BALANCE
    RING_DRY = "ring_dry", Topic.WATER, STOP, _BALANCE
    RING_WITHOUT_HOLES = "ring_without_holes", Topic.WATER, CHECK, _BALANCE
    BACKFLOW = "backflow", Topic.WATER, STOP, _BALANCE
    OFF_BACKFLOW = "off_backflow", Topic.WATER, NOTE, _BALANCE, AFTERWARDS
    HOLE_NO_JACKET = "hole_no_jacket", Topic.WATER, STOP, _GEOMETRY
    HOLE_WIDE = "hole_wide", Topic.WATER, STOP, _GEOMETRY
    HOLE_LIGAMENT = "hole_ligament", Topic.WATER, CHECK, _TRADE
    HOLE_SPACING = "hole_spacing", Topic.WATER, CHECK, _TRADE
    HOLE_STRAINER = "hole_strainer", Topic.WATER, CHECK, _TRADE
    HOLE_DEEP = "hole_deep", Topic.WATER, CHECK, _TRADE
    HOLE_SMALL = "hole_small", Topic.WATER, CHECK, _TRADE
    HOLE_SHORT = "hole_short", Topic.WATER, CHECK, "Lichtarowicz et al. (1965) J. Mech. Eng. Sci. 7, 210"

    # what turns
    SPINNING_CAUTION = (
        "spinning_caution", Topic.SAFETY, NOTE,
        "ISO 12100, EN 12547, ISO 14120 and ISO 21940-11 are pointers, not certificates",
    )  # fmt: skip
    SPEED_RANGE = "speed_range", Topic.SAFETY, CHECK  # a stop above the range
    SPEED_UNKNOWN = "speed_unknown", Topic.SAFETY, CHECK
    SHELL_UNKNOWN = "shell_unknown", Topic.SAFETY, NOTE, "", AFTERWARDS
    SHELL_FACTOR = "shell_factor", Topic.SAFETY, CHECK, _FACTOR, AFTERWARDS  # these four: a stop below 1
    SHELL_OVERSPEED = "shell_overspeed", Topic.SAFETY, CHECK, _FACTOR, AFTERWARDS
    BOWL_FACTOR = "bowl_factor", Topic.SAFETY, CHECK, _FACTOR, AFTERWARDS
    BOWL_OVERSPEED = "bowl_overspeed", Topic.SAFETY, CHECK, _FACTOR, AFTERWARDS
    BOWL_MATERIAL_UNKNOWN = "bowl_material_unknown", Topic.SAFETY, NOTE, "", AFTERWARDS
    STRENGTH_UNKNOWN = "strength_unknown", Topic.SAFETY, CHECK, "", AFTERWARDS
    BOWL_LEANS = "bowl_leans", Topic.SAFETY, NOTE, _GEOMETRY, AFTERWARDS
    BOWL_BACKED = "bowl_backed", Topic.SAFETY, NOTE, _JACKET, AFTERWARDS
    BOWL_FOLDS = "bowl_folds", Topic.SAFETY, CHECK, "long thin tube under outside pressure (Bresse)", AFTERWARDS
    FLANGE_THRUST = "flange_thrust", Topic.SAFETY, STOP, "", AFTERWARDS
    FLANGE_CAPACITY_UNKNOWN = "flange_capacity_unknown", Topic.SAFETY, NOTE, "", AFTERWARDS
    DRIVE_FEED = "drive_feed", Topic.SAFETY, CHECK, "", AFTERWARDS
    DRIVE_SPIN_UP = "drive_spin_up", Topic.SAFETY, CHECK, "", AFTERWARDS
    DRIVE_UNKNOWN = "drive_unknown", Topic.SAFETY, NOTE, "", AFTERWARDS
    SPIN_ENERGY = (
        "spin_energy", Topic.SAFETY, NOTE, "EN 12547:2014, centrifuges, common safety requirements: scope", AFTERWARDS,
    )  # fmt: skip
    UNBALANCE_BED = "unbalance_bed", Topic.SAFETY, NOTE, "ISO 21940-11", AFTERWARDS

    # whether and how it can be made
    WALL_THICKNESS = "wall_thickness", Topic.MAKING, STOP
    WALL_INSIDE_OUT = "wall_inside_out", Topic.MAKING, STOP
    WALL_THIN = "wall_thin", Topic.MAKING, CHECK, _SHOP_RULE  # a stop where nothing is left
    FLANKS_CROSS = "flanks_cross", Topic.MAKING, STOP
    FLANK_SHORT = "flank_short", Topic.MAKING, STOP
    EDGES_MEET = "edges_meet", Topic.MAKING, STOP
    EDGE_OVER_CORNER = "edge_over_corner", Topic.MAKING, STOP
    UNDERCUT = "undercut", Topic.MAKING, NOTE, _CONTOUR, AFTERWARDS
    OUTLINE_CROSSES = "outline_crosses", Topic.MAKING, STOP, "", AFTERWARDS
    INSIDE_RADIUS = "inside_radius", Topic.MAKING, CHECK, _SHOP, EXPORT
    INSIDE_CORNER = "inside_corner", Topic.MAKING, CHECK, _SHOP, EXPORT
    DRAFT = "draft", Topic.MAKING, CHECK, _SHOP, EXPORT
    SEGMENT_SHORT = "segment_short", Topic.MAKING, CHECK, _TRADE, EXPORT
    LETTERS = "letters", Topic.MAKING, NOTE, "7-bit letters of the DXF file", EXPORT


NO_ANSWER = {  # stops after which the slurry model says nothing, in a few words
    Kind.NOT_CARRIED: "the wall does not carry the slurry round",
    Kind.BED_CLOSES: "the bed closes the bowl",
    Kind.FILM_BELOW_GRAIN: "the film is thinner than one grain",
}
