"""The words of this program and of its trade, as used in code, window, files and drawings."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Term:
    word: str
    meaning: str


GLOSSARY: tuple[Term, ...] = (
    Term("study", "One file: a machine, its duties, its designs."),
    Term("design", "One bowl: wall curve, grooves, body."),
    Term(
        "machine",
        "What the bowl must fit and how it may spin: seat, lip radius, height, jacket gap, feed parts, speeds.",
    ),
    Term("duty", "One way of running: slurry, dry feed, speed and fluidising water."),
    Term("height", "Above the bowl's inner floor, along the spin axis, in mm."),
    Term("wall angle", "Between wall and spin axis, in degrees: 0 is upright, positive opens upward."),
    Term("wall curve, knot, span", "Wall angle against height; its editable points; the wall between two of them."),
    Term("corner", "A knot with an arriving and a leaving angle."),
    Term(
        "arc span, eased span",
        "A circular arc between two knots (the default); or a smooth cubic in angle, fitted with arcs to 0.01 mm.",
    ),
    Term("hold", "What stays put while the curve is edited: the lip radius, the floor radius, or both."),
    Term("land, groove, pitch", "Wall between grooves; a ring groove; land to land."),
    Term("mouth, edge", "A groove's opening along the wall; its lower and upper end."),
    Term("lip", "The bowl's top rim, where slurry leaves."),
    Term("seat, jacket", "The rotor's inner profile that carries the bowl; the water space between bowl and seat."),
    Term("repose angle", "Angle from the axis at which the moving slurry surface is predicted to lie."),
    Term(
        "repose band",
        "Its low, middle and high: friction low to high, and never narrower than 2° either side without a measurement.",
    ),
    Term(
        "shallower, within, steeper",
        "The local comparison: wall angle above, inside or below the repose band. Steeper always means nearer to the axis.",
    ),
    Term("margin", "Wall angle minus repose angle."),
    Term(
        "slurry surface",
        "Where the bed's surface lies, worked out from the lip down: going up, a bed that carries slurry opens at least as fast as repose, and lies nowhere outside a land.",
    ),
    Term("exposed, buried", "A land the stream touches; one the bed covers."),
    Term("held at", "Height of the land that holds the bed over a buried place."),
    Term(
        "overfall",
        "How far the stream drops from a groove's lower edge onto the groove's own bed; negative where the bed stands over the edge.",
    ),
    Term(
        "eddy",
        "The turning over of a groove's contents by the stream that falls into it from the lower edge. It turns where the "
        "stream falls, and stops where the bed covers the groove.",
    ),
    Term("overturn ratio", "Power set free in the overfall over the power the slurry needs to travel the same height."),
    Term("strong overturn", "The stream falls even at high friction, and the overturn ratio is 2 or more."),
    Term("weak overturn", "The stream falls even at high friction, with an overturn ratio below 2."),
    Term("matched", "The lands lie inside the uncertainty of the surface: it falls at low friction, not at high."),
    Term("sheltered", "The bed covers the lands even at low friction."),
    Term(
        "slope and state",
        "They may differ and often do: the slope says what the wall does at one height, the state what the slurry does there.",
    ),
    Term(
        "delivered, in place",
        "Grains by volume of what flows past, and of what is there. Grains in contact move slower than the water, so more are in place than are delivered; they are what weighs.",
    ),
    Term("slip", "Speed of the grains in contact over that of the water and of the grains it carries: 0.6, published."),
    Term(
        "friction",
        "Between moving grains in place: the model's one uncertain number. A slope fixes only friction over slip, so the slip stays and friction carries the doubt.",
    ),
    Term("film lag", "Share by which the moving film turns slower than the bowl."),
    Term("entry height", "Below it the film is still coming up to speed; no state is claimed there."),
    Term(
        "size class, sieve",
        "Grains that stay on one sieve, having passed the one above; a feed may be given by its classes in place of one d50.",
    ),
    Term(
        "counts as liquid",
        "Grains so fine that the film carries half of them: with size classes they thicken the liquid and are no part of the bed.",
    ),
    Term("fluidising water", "Water through the groove floors, from the jacket."),
    Term(
        "finding",
        "One located statement: stop (cannot be built, does not fit or must not run), check (works against the purpose, or a model is strained), note.",
    ),
)

# What each quantity is, by its key in the quantities table.
MEANINGS: dict[str, str] = {
    "height_mm": "Where along the spin axis, above the bowl's inner floor.",
    "radius_mm": "Distance of the wall line from the axis; grooves not counted.",
    "wall_angle_deg": "How far the wall opens upward from upright.",
    "acceleration_g": "What a grain that turns with the bowl weighs here, in multiples of its weight.",
    "film_g": "The same for the moving film, which turns a little slower than the bowl.",
    "repose_deg": "The angle from the axis at which this slurry, moving here, lies at rest against the wall.",
    "repose_low_deg": "The least repose angle that has to be expected.",
    "repose_high_deg": "The greatest repose angle that has to be expected.",
    "delivered_pct": "How much of what flows past is solids, fines too, thinned by the water added below.",
    "in_place_pct": "How much of the film is solids at any moment: more than is delivered, since grains in contact lag behind the water.",
    "margin_deg": "Positive: the wall opens more than repose (shallower). Negative: it stands steeper.",
    "surface_radius_mm": "Where the surface of the settled bed lies; the film flows on its inner side.",
    "buried_mm": "How thick the settled bed is over the wall line, measured radially; 0 where the stream touches the wall.",
    "overfall_mm": "How far the stream would drop into a groove cut at this height.",
    "liquid_um": (
        "The size of the grains that half leave the contact load, in the film's velocity and acceleration averaged over "
        "the wall. With size classes the finer solids are part of the liquid: they make it denser and thicker, and the "
        "bed is made of the rest, each class keeping its own share in contact."
    ),
    "fine_pct": "How much of the solids' mass is finer than that, read from the passing curve of the size classes.",
    "groove_ratio": "How strongly the groove's contents are turned over: the fall's power over the power of travelling on.",
    "groove_overfall_mm": "How far the stream drops from the lower edge onto the bed the next land holds; negative: buried.",
    "groove_power_w": "Power the fall sets free in the whole ring.",
    "groove_buried_mm": "Thickness of the bed over the groove's lower edge, measured radially.",
    "groove_water_l_min": "Fluidising water through the groove's floor.",
    "groove_height_mm": "Height of the middle of the mouth.",
    "groove_radius_mm": "Radius of the wall line at the middle of the mouth.",
    "land_mm": "Wall left between this groove and the next one up.",
    "wall_behind_mm": "What is left of the wall behind the groove's floor.",
    "section_area_mm2": "Area of the half section, grooves cut.",
    "section_length_mm": "Length of its closed outline.",
    "body_volume_l": "Volume of the bowl's body.",
    "mass_kg": "Mass of the bowl's body.",
    "inertia_kg_m2": "Polar moment of inertia of the bowl's body about its axis.",
}

# Other words for the same, as people of the trade or students say them: by the word they stand beside.
ALSO: dict[str, tuple[str, ...]] = {
    "eddy": ("vortex", "roller", "swirl", "whirl", "recirculation", "cavity flow"),
    "wall angle": ("face angle", "taper", "cone angle", "inclination", "half angle", "steepness"),
    "wall curve, knot, span": ("profile", "spline", "control point"),
    "land, groove, pitch": ("ring", "riffle", "spacing"),
    "mouth, edge": ("groove width", "opening"),
    "lip": ("rim", "overflow"),
    "seat, jacket": ("water jacket", "rotor", "housing"),
    "repose angle": ("angle of repose", "beach angle", "rest angle", "natural slope"),
    "repose band": ("uncertainty of the repose angle", "error band", "confidence"),
    "exposed, buried": ("covered", "packed"),
    "overfall": ("drop", "fall height"),
    "overturn ratio": ("strength of the eddy", "mixing", "intensity"),
    "strong overturn": ("boiling", "turbulence"),
    "fluidising water": ("fluidisation", "wash water", "back water", "injection"),
    "film lag": ("slip of the film", "coriolis"),
    "delivered, in place": ("percent solids", "pulp density", "slurry density", "concentration"),
    "counts as liquid": ("slimes", "fines", "clay size"),
    "friction": ("coefficient of friction", "internal friction"),
    "size class, sieve": ("size distribution", "particle size", "psd", "p80", "screen analysis"),
    "finding": ("warning", "error message"),
    "study": ("project", "file"),
}
