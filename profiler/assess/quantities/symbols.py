"""What the letters of equations mean, once: lessons and the help's pages of quantities read their legends off here.

A letter has one meaning in SYMBOLS; where a quantity means something else by it, that stands under its key in OWN. An
equation names itself only: which letters it holds is read from it.
"""

import re
from collections.abc import Mapping

SYMBOLS: dict[str, str] = {
    "θ": "wall angle, from the axis", "θw": "wall angle, from the axis", "θf": "repose angle, from the axis",
    "θ_f": "repose angle, from the axis", "θc": "threshold of motion of the grains at the bed's surface",
    "θ_c": "threshold of motion of the grains", "θ_low": "lower end of the repose band",
    "θ_high": "upper end of the repose band", "α": "slope of the film against a level surface in the turning bowl",
    "δ": "tilt of a level surface in the turning bowl, a fraction of a degree",
    "b": "angle by which the film drifts sideways, since it lags behind the bowl",
    "μ": "friction between the grains in place", "μ_low": "lower end of the friction band",
    "μ_high": "upper end of the friction band", "Δ": "density of the grains over that of the liquid, less one",
    "d/h": "grain size over film depth", "Ci": "solids by volume, all grains in place",
    "Cc": "solids by volume, those in contact", "C": "solids by volume, as delivered",
    "τ_y": "yield stress of the carrier; none where it is not given",
    "σ": "overfall: how far the stream drops at a groove", "m": "height of the groove's mouth", "E": "overturn ratio",
    "P": "power set free in the overfall", "q_m": "mass flow of the slurry", "q": "slurry per length of circumference",
    "a": "acceleration outward", "a′": "acceleration outward of the film, which lags", "g": "acceleration of the earth",
    "ω": "angular speed", "r": "radius", "r_s": "radius of the bed's surface", "r_w": "radius of the wall",
    "r_i": "radius of the ring's groove floor", "r_0": "radius of the jacket's free surface",
    "r_in": "radius of the jacket's inlet", "r_lip": "radius of the lip", "R": "outermost radius that turns",
    "B": "how far a bed at repose opens from the floor up to a height", "z": "height above the floor",
    "z_l": "height of the mouth's lower edge", "z_u": "height of its upper edge", "z_i": "height of the ring",
    "z_in": "height of the jacket's inlet", "z_c": "height of the common centre",
    "Q": "water through one ring", "n": "holes of the ring", "A": "area of one hole",
    "Cd": "discharge coefficient of a hole", "p_j": "pressure in the jacket behind the ring",
    "p_b": "pressure of the bed and film over the ring", "p_s": "pressure at the jacket's inlet",
    "p": "pressure of the water", "ρ": "density of the water", "ρ_m": "density of the film",
    "ρ_b": "density of the settled bed", "ρ_s": "density of the grain", "ρ_heavy": "density of the heavy minerals",
    "u": "velocity of the water through the groove's mouth", "u_mf": "velocity that just lifts the bed",
    "w": "velocity ratio", "L": "film lag", "h": "depth of the film", "V": "velocity of the film along the wall",
    "W": "velocity of the film round the bowl, against the wall", "U": "velocity of the stream over the mouth",
    "v": "settling velocity of a grain", "v_h": "the same, hindered by the other grains", "d": "grain size",
    "K": "rotation number: how far the bowl turns while the film crosses the mouth",
    "k": "share of the stream's velocity with which mouth and stream exchange", "ν": "viscosity over density",
    "Re": "Reynolds number", "I": "polar inertia", "t": "time", "dz": "a step in height", "ds": "a step along the line",
}  # fmt: skip

_VOLUME = {"V": "volume"}
_OUTLINE = {"x": "distance of the outline from the axis", "y": "height on the outline", "dx": "a step outward",
            "dy": "a step upward"}  # fmt: skip
_MATERIAL = {"ρ": "density of the material"}
_RING = _MATERIAL | {"r": "middle radius of the ring", "r_o": "outer radius of the ring", "r_i": "its inner radius",
                     "t": "thickness", "ν": "Poisson's ratio"}  # fmt: skip
_LAMINA = {"A": "area of the wall wetted below the groove", "Q": "flow of the slurry"}
_HUB = {"p": "pressure at the jacket's inlet", "R": "outer radius of the water", "a": "radius of the hub"}
_BUCKLING = {"E": "modulus of elasticity", "ν": "Poisson's ratio", "r": "greatest outer radius", "t": "thickness"}

OWN: dict[str, dict[str, str]] = {
    "radius_mm": {"r1": "radius at the piece's lower end", "z1": "height there", "θ1": "wall angle there"},
    "in_place_pct": {
        "F": "share of the grains in contact with others", "s": "slip", "P": "solids by volume of a packed bed",
        "G": "grains that are there beyond those delivered, since they lag",
    },
    "section_area_mm2": _OUTLINE,
    "body_volume_l": _OUTLINE,
    "mass_kg": _MATERIAL | _VOLUME,
    "liner_mass_kg": _MATERIAL | _VOLUME,
    "shell_mass_kg": _MATERIAL | _VOLUME,
    "jacket_water_kg": _VOLUME,
    "slurry_mass_kg": {"ρ": "density of film and bed"} | _VOLUME,
    "inertia_kg_m2": _MATERIAL | _OUTLINE,
    "hole_length_mm": {"r_o": "radius at the hole's outer end", "β": "skew of the hole"},
    "discharge": {"L": "length of the hole", "d": "its diameter"},
    "hole_reynolds": {"v": "velocity in the hole", "d": "diameter of the hole"},
    "floor_mm_s": {"w": "width of the groove's floor"},
    "lifting_mm_s": {"C1": "published constant", "C2": "published constant", "Ar": "Archimedes number"},
    "target_mm_s": {"n": "exponent by which other grains hinder settling"},
    "arrival_um": _LAMINA,
    "arrived_mixed": _LAMINA,
    "arrived": _LAMINA,
    "volume_l": {"dA": "a piece of the groove's section"},
    "volume_total_l": _VOLUME,
    "capacity_kg": _VOLUME,
    "capacity_total_kg": _VOLUME,
    "rotor_mass_kg": {"m": "mass of a part"},
    "rotor_centre_mm": {"m": "mass of a part", "z": "height of its centre"},
    "rotor_inertia_kg_m2": _MATERIAL | _OUTLINE,
    "rotor_transverse_kg_m2": {"m": "mass of a part", "z": "height of its centre", "I_t": "its own transverse inertia"},
    "hoop_own_mpa": _RING,
    "hoop_thin_mpa": _RING,
    "hoop_mpa": _RING,
    "thrust_kn": _HUB,
    "inward_bare_kpa": {"r_o": "outer radius of the bowl", "r_i": "inner radius", "ρ": "density of the bowl"},
    "buckling_low_kpa": _BUCKLING,
    "buckling_high_kpa": _BUCKLING,
    "eccentricity_um": {"G": "balance grade"},
    "unbalance_g_mm": {"G": "balance grade", "m": "mass of the dry rotor"},
    "unbalance_n": {"U": "permitted unbalance"},
    "unbalance_bed_g": {"U": "permitted unbalance"},
    "unbalance_bed_arc_deg": {"U": "permitted unbalance", "m": "mass of the whole ring", "β": "arc cleared"},
}  # fmt: skip

LONGER = ("Re", "Ar", "Cd", "Ci", "Cc", "dA", "dx", "dy", "dz", "ds")  # letters that are two
CONSTANTS = ("π", "Σ")
LETTER = re.compile(
    r"d/h|θ[wfc](?![a-z])|a′|[α-ωΑ-Ω]\d?(?:_[A-Za-z0-9]+)?|[A-Za-z][A-Za-z0-9]*(?:_[A-Za-z0-9]+)?", re.UNICODE
)
ARTICLE = re.compile(r"\ba (?=[a-z]{2,})|'s\b")  # and what a possessive ends on


def symbols_of(equation: str) -> tuple[str, ...]:
    """The letters that stand for something, each once, in the order they come.

    >>> symbols_of("F = q_m a σ in a cycle, Re of ρω² at d50")
    ('F', 'q_m', 'a', 'σ', 'Re', 'ρ', 'ω')
    """
    found = (match.group() for match in LETTER.finditer(ARTICLE.sub("", equation)))
    return tuple(dict.fromkeys(name for name in found if _is_letter(name)))


def legend(equation: str, own: Mapping[str, str] | None = None) -> tuple[tuple[str, str], ...]:
    """Each letter and its meaning. Raises KeyError for a letter that nobody has given one."""
    meanings = SYMBOLS | dict(own or {})
    return tuple((name, meanings[name]) for name in symbols_of(equation))


def _is_letter(name: str) -> bool:
    if name in CONSTANTS or name == "d50":
        return False
    plain = name.isascii() and name.isalnum() and not any(c.isdigit() for c in name)
    return not plain or len(name) == 1 or name in LONGER
