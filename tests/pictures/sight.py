"""How well colours are seen: contrast by the formula of the Web Content Accessibility Guidelines, and by a deuteranope.

Contrast: W3C, WCAG 2.2, definitions "relative luminance" and "contrast ratio"; success criteria 1.4.3 (text 4.5:1) and
1.4.11 (marks, borders 3:1). Deuteranopes: Machado, Oliveira, Fernandes, A Physiologically-based Model for Simulation of
Color Vision Deficiency, IEEE Transactions on Visualization and Computer Graphics 15(6), 2009: their matrix of severity
1.0 for linear RGB.
"""

import numpy as np

from profiler.pictures.basics.display import FloatArray

TEXT, MARK = 4.5, 3.0
DEUTERANOPE = np.array(
    [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
)


def rgb(colour: str) -> FloatArray:
    """(3,) of #rrggbb, 0 to 1."""
    return np.array([int(colour[i : i + 2], 16) / 255.0 for i in (1, 3, 5)])


def mixed(above: str, below: str, opacity: float) -> str:
    """What a colour of this opacity looks like on another."""
    parts = np.round(255.0 * (opacity * rgb(above) + (1.0 - opacity) * rgb(below))).astype(int)
    return "#" + "".join(f"{part:02x}" for part in parts.tolist())


def linear(colour: str) -> FloatArray:
    c = rgb(colour)
    return np.where(c <= 0.04045, c / 12.92, ((c + 0.055) / 1.055) ** 2.4)


def contrast(one: str, other: str) -> float:
    """1 to 21."""
    return between(linear(one), linear(other))


def contrast_for_deuteranopes(one: str, other: str) -> float:
    seen = (np.clip(DEUTERANOPE @ linear(colour), 0.0, 1.0) for colour in (one, other))
    return between(*seen)


def between(one: FloatArray, other: FloatArray) -> float:
    """Contrast of two linear colours."""
    low, high = sorted(float(np.array([0.2126, 0.7152, 0.0722]) @ c) for c in (one, other))
    return (high + 0.05) / (low + 0.05)
