"""The words of this program and of its trade, as used in code, window, files and drawings."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Term:
    word: str
    meaning: str


GLOSSARY: tuple[Term, ...] = (
    Term("study", "One file: a machine, its duties, its designs."),
    Term("design", "One bowl: wall curve, grooves, body."),
    Term("machine", "What the bowl must fit and how it may spin: seat, lip radius, height, jacket gap, feed parts, speeds."),
    Term("duty", "One way of running: slurry, dry feed, speed and fluidising water."),
    Term("height", "Above the bowl's inner floor, along the spin axis, in mm."),
    Term("wall angle", "Between wall and spin axis, in degrees: 0 is upright, positive opens upward."),
    Term("wall curve, knot, span", "Wall angle against height; its editable points; the wall between two of them."),
    Term("corner", "A knot with an arriving and a leaving angle."),
    Term("arc span, eased span", "A circular arc between two knots (the default); or a smooth cubic in angle, fitted with "
         "arcs to 0.01 mm."),
    Term("hold", "What stays put while the curve is edited: the lip radius, the floor radius, or both."),
    Term("land, groove, pitch", "Wall between grooves; a ring groove; land to land."),
    Term("mouth, edge", "A groove's opening along the wall; its lower and upper end."),
    Term("lip", "The bowl's top rim, where slurry leaves."),
    Term("seat, jacket", "The rotor's inner profile that carries the bowl; the water space between bowl and seat."),
    Term("repose angle", "Angle from the axis at which the moving slurry surface is predicted to lie."),
    Term("repose band", "Its low, middle and high: friction low to high, and never narrower than 2° either side while "
         "uncalibrated."),
    Term("shallower, within, steeper", "The local comparison: wall angle above, inside or below the repose band. Steeper "
         "always means nearer to the axis."),
    Term("margin", "Wall angle minus repose angle."),
    Term("slurry surface", "Where the bed's surface lies, worked out from the lip down: going up, a bed that carries slurry "
         "opens at least as fast as repose, and lies nowhere outside a land."),
    Term("exposed, buried", "A land the stream touches; one the bed covers."),
    Term("held at", "Height of the land that holds the bed over a buried place."),
    Term("overfall", "How far the stream drops from a groove's lower edge onto the groove's own bed; negative where the bed "
         "stands over the edge."),
    Term("overturn ratio", "Power set free in the overfall over the power the slurry needs to travel the same height."),
    Term("strong overturn", "The stream falls even at high friction, and the overturn ratio is 2 or more."),
    Term("weak overturn", "The stream falls even at high friction, with an overturn ratio below 2."),
    Term("matched", "The lands lie inside the uncertainty of the surface: it falls at low friction, not at high."),
    Term("sheltered", "The bed covers the lands even at low friction."),
    Term("slope and state", "They may differ and often do: the slope says what the wall does at one height, the state what "
         "the slurry does there."),
    Term("film lag", "Share by which the moving film turns slower than the bowl."),
    Term("entry height", "Below it the film is still coming up to speed; no state is claimed there."),
    Term("fluidising water", "Water through the groove floors, from the jacket."),
    Term("finding", "One located statement: stop (cannot be built, does not fit or must not run), check (works against the "
         "purpose, or a model is strained), note."),
)  # fmt: skip
