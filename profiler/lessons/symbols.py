"""What the letters of a lesson's equation mean. A lesson names its equation only; the legend is read off it."""

import re

SYMBOLS: dict[str, str] = {
    "θw": "wall angle, from the axis",
    "θf": "repose angle, from the axis",
    "θc": "threshold of motion of the grains at the bed's surface",
    "δ": "tilt of a level surface in the turning bowl, a fraction of a degree",
    "α": "slope of the film against that level",
    "b": "angle by which the film drifts sideways, since it lags behind the bowl",
    "μ": "friction between the grains in place",
    "Δ": "density of the grains over that of the liquid, less one",
    "d/h": "grain size over film depth",
    "Ci": "solids by volume, all grains in place",
    "Cc": "solids by volume, those in contact",
    "σ": "overfall: how far the stream drops at a groove",
    "m": "height of the groove's mouth",
    "E": "overturn ratio",
    "P": "power set free in the overfall",
    "q_m": "mass flow of the slurry",
    "a": "acceleration outward",
    "ω": "angular speed",
    "r": "radius",
    "r_s": "radius of the bed's surface",
    "r_w": "radius of the wall",
    "r_i": "radius of the ring's groove floor",
    "r_0": "radius of the jacket's free surface",
    "B": "how far a bed at repose opens from the floor up to a height",
    "Q": "water through one ring",
    "n": "holes of the ring",
    "A": "area of one hole",
    "Cd": "discharge coefficient of a hole",
    "p_j": "pressure in the jacket behind the ring",
    "p_b": "pressure of the bed and film over the ring",
    "ρ": "density of the water",
    "u": "velocity of the water through the groove's mouth",
    "u_mf": "velocity that just lifts the bed",
    "w": "velocity ratio",
    "θ_low": "lower end of the repose band",
    "θ_high": "upper end of the repose band",
    "μ_low": "lower end of the friction band",
    "μ_high": "upper end of the friction band",
}  # fmt: skip
NO_SYMBOL = ("tan", "cos", "min", "max", "over", "lands", "above", "of", "dz", "at")
LETTERS = r"[A-Za-zα-ωΑ-Ω][A-Za-zα-ωΑ-Ω0-9]*(?:_[A-Za-z0-9]+)?"


def symbols_of(equation: str) -> tuple[str, ...]:
    """The letters that stand for something, each once, in the order they come."""
    found = (match.group() for match in re.finditer(rf"d/h|{LETTERS}", equation))
    return tuple(dict.fromkeys(name for name in found if name not in NO_SYMBOL))


def legend(equation: str) -> str:
    """A line for each. Raises KeyError for a letter that nobody has given a meaning."""
    return "\n".join(f"{name}: {SYMBOLS[name]}" for name in symbols_of(equation))
