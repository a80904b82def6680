"""Every colour of the program, by role: the window in light and in dark, paper, the pages of a report.

Earth tones; a state is neither good nor bad. Whoever paints names a role and takes its colour from here, as #rrggbb.
"""

from dataclasses import dataclass

from profiler.pictures.basics.display import Role


@dataclass(frozen=True, slots=True)
class Palette:
    """A colour for every role of a picture, and for what stands round pictures in a window or on a page."""

    name: str
    roles: dict[Role, str]
    window: str  # ground of bars and forms, shade of a table's head
    base: str  # ground of what is typed into or read
    text: str
    muted: str  # words beside the matter: units, captions
    rule: str  # lines between parts
    edge: str  # border of what is typed into or pressed
    accent: str
    on_accent: str


LIGHT = Palette(
    "light",
    {
        Role.PAPER: "#fbf9f5", Role.GRID: "#e9e3d9", Role.FAINT: "#5c554a", Role.TEXT: "#2a2621",
        Role.WALL: "#2f2a25", Role.BODY: "#e4dac8", Role.HATCH: "#b5a68c", Role.SEAT: "#5b676d",
        Role.GHOST: "#72667c", Role.REPOSE: "#1f6a73", Role.BAND: "#b9d3d2", Role.BED: "#cfae72",
        Role.OPENS: "#e8b994", Role.STANDS: "#b7c2cf", Role.STRONG: "#a34a28", Role.WEAK: "#b77a35",
        Role.MATCHED: "#d5cda6", Role.SHELTERED: "#74848a", Role.INK: "#14100c", Role.KNOT: "#2f2a25",
        Role.CHOSEN: "#7b3f8c", Role.CURSOR: "#7b3f8c", Role.STOP: "#a4161a", Role.BAR: "#8a7f6b",
        Role.FLOW: "#2b6a9b", Role.EDDY: "#4a2a1a",
    },
    window="#f1ece3", base="#fbf9f5", text="#2a2621", muted="#574f45", rule="#d8cfc0",
    edge="#857b6d", accent="#7b3f8c", on_accent="#ffffff",
)  # fmt: skip

DARK = Palette(
    "dark",
    {
        Role.PAPER: "#1f1d1a", Role.GRID: "#34302b", Role.FAINT: "#b3a897", Role.TEXT: "#ece6db",
        Role.WALL: "#e6ddcd", Role.BODY: "#453e34", Role.HATCH: "#6f6453", Role.SEAT: "#94a3aa",
        Role.GHOST: "#a79db3", Role.REPOSE: "#67b7bd", Role.BAND: "#2f4c4e", Role.BED: "#7d6436",
        Role.OPENS: "#6e4a31", Role.STANDS: "#414d5a", Role.STRONG: "#d0714a", Role.WEAK: "#ecc07c",
        Role.MATCHED: "#8d8561", Role.SHELTERED: "#73828a", Role.INK: "#15120f", Role.KNOT: "#e6ddcd",
        Role.CHOSEN: "#c794d6", Role.CURSOR: "#c794d6", Role.STOP: "#ff8a80", Role.BAR: "#877c6a",
        Role.FLOW: "#79b4e2", Role.EDDY: "#f0d3a8",
    },
    window="#292622", base="#1f1d1a", text="#ece6db", muted="#b3a897", rule="#403a33",
    edge="#8d8272", accent="#c794d6", on_accent="#1f1d1a",
)  # fmt: skip

PRINT = Palette(  # pictures and pages on white paper: the light colours, with text dark enough for a printer
    "print",
    LIGHT.roles | {
        Role.PAPER: "#ffffff", Role.GRID: "#e6e1d8", Role.FAINT: "#575046", Role.TEXT: "#1c1a17",
        Role.WALL: "#1c1a17", Role.KNOT: "#1c1a17",
    },
    window="#eeeeee", base="#ffffff", text="#1c1a17", muted="#555555", rule="#aaaaaa",
    edge="#777777", accent="#7b3f8c", on_accent="#ffffff",
)  # fmt: skip

SHEET_PAPER, SHEET_INK = "#ffffff", "#000000"  # a technical drawing is black on white, on the screen too


def style_names(colours: Palette) -> str:
    """The colours as names for a style sheet, so that one is written without colours: var(--text), var(--stop)."""
    named = {
        "paper": colours.base, "shade": colours.window, "text": colours.text, "muted": colours.muted,
        "rule": colours.rule, "stop": colours.roles[Role.STOP],
    }  # fmt: skip
    return f":root {{ {' '.join(f'--{name}: {colour};' for name, colour in named.items())} }}"
