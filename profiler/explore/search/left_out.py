"""Why designs that a search tried were left out, counted: a few words for every reason."""

from collections import Counter
from collections.abc import Sequence

from profiler.assess.findings.kinds import Kind
from profiler.assess.fitting.limits import Limit
from profiler.assess.quantities.table import QUANTITIES
from profiler.explore.search.tried import NO_NUMBER

_WORDS: dict[str, tuple[str, ...]] = {
    "reaching in to the hub hole": (Limit.HUB, Kind.FLOOR_INSIDE_HUB.code),
    "reaching the axis": (Kind.WALL_AT_AXIS.code,),
    "leaving less than the least wall": (Limit.LEAST_WALL, Kind.WALL_THIN.code),
    "with a wall of no such thickness": (Kind.WALL_THICKNESS.code, Kind.WALL_INSIDE_OUT.code),
    "cutting into the seat": (Kind.SEAT_CLASH.code,),
    "not suiting the seat": (Limit.SEAT, Kind.SEAT_ORDER.code),
    "leaving the water jacket too narrow": (Kind.JACKET_NARROW.code,),
    "meeting the feed pipe": (Limit.FEED_PIPE, Kind.FEED_PIPE_CLASH.code),
    "meeting the deflector": (Limit.DEFLECTOR, Kind.DEFLECTOR_CLASH.code),
    "missing the machine's lip radius": (Kind.LIP_RADIUS.code,),
    "missing the machine's height": (Kind.BOWL_HEIGHT.code,),
    "ending the flange inside the lip": (Kind.FLANGE_INSIDE_LIP.code,),
    "not meeting both held ends": ("ends", Kind.ENDS_NOT_JOINED.code),
    "making no section": (Limit.SECTION, Kind.WALL_START.code, Kind.KNOT_ORDER.code, Kind.NO_RADIUS.code),
    "with a number out of bounds": (Limit.INPUT, Kind.OUT_OF_BOUNDS.code, Kind.SIZE_CLASSES.code),
    "not carrying the slurry round": (Kind.NOT_CARRIED.code,),
    "closed by the bed": (Kind.BED_CLOSES.code,),
    "with a film thinner than a grain": (Kind.FILM_BELOW_GRAIN.code,),
    "without an answer of the model": ("no_flow", NO_NUMBER.key),
    "with a mouth past the end of the wall": (Kind.MOUTH_OUTSIDE.code,),
    "with mouths that overlap": (Kind.MOUTHS_OVERLAP.code,),
    "without room for a groove's radii": (
        Kind.FLANKS_CROSS.code, Kind.FLANK_SHORT.code, Kind.EDGES_MEET.code, Kind.EDGE_OVER_CORNER.code,
    ),
    "leaving a ring dry": (Kind.RING_DRY.code,),
    "letting slurry run back through the holes": (Kind.BACKFLOW.code,),
    "with holes without a jacket behind": (Kind.HOLE_NO_JACKET.code,),
    "with holes wider than the groove floor": (Kind.HOLE_WIDE.code,),
    "crossing itself": (Kind.OUTLINE_CROSSES.code,),
    "pressing bowl and rotor apart with more than the flange bolts carry": (Kind.FLANGE_THRUST.code,),
    "too weak for the speed": (
        Kind.SHELL_FACTOR.code, Kind.SHELL_OVERSPEED.code, Kind.BOWL_FACTOR.code, Kind.BOWL_OVERSPEED.code,
    ),
    "turning at a speed the machine may not run": (Kind.SPEED_RANGE.code,),
}  # fmt: skip
_WORDS_OF = {str(key): words for words, keys in _WORDS.items() for key in keys}
_WORDS_OF |= {q.key: f"missing the condition on {q.label[0].lower()}{q.label[1:]}" for q in QUANTITIES}


def left_out(excluded: Sequence[tuple[str, int]]) -> str:
    """One sentence of how many were left out and why, most first; nothing where none was."""
    counts: Counter[str] = Counter()
    for key, count in excluded:
        counts[words_of(key)] += count
    told = ", ".join(f"{count} {words}" for words, count in counts.most_common())
    return f"Left out: {told}." if told else ""


def words_of(key: str) -> str:
    """What those did that have this reason: a stop's code, a limit of the machine's, a condition's quantity."""
    return _WORDS_OF.get(key) or (
        _WORDS_OF[Kind.OUT_OF_BOUNDS.code]
        if key.startswith(Kind.OUT_OF_BOUNDS.code)
        else f"have {key.replace('_', ' ')}"
    )
