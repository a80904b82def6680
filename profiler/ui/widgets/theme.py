"""Colours by role, light and dark, and the window's palette. Earth tones; a state is neither good nor bad."""

from dataclasses import dataclass
from importlib.resources import files

from PySide6.QtGui import QColor, QFont, QFontDatabase, QPalette
from PySide6.QtWidgets import QApplication

from profiler.pictures.basics.display import Role


@dataclass(frozen=True, slots=True)
class Theme:
    """A colour for every role of a picture and for the parts of the window."""

    name: str
    roles: dict[Role, str]
    window: str
    base: str
    text: str
    muted: str
    rule: str
    accent: str
    on_accent: str

    def colour(self, role: Role) -> QColor:
        return QColor(self.roles[role])


LIGHT = Theme(
    "light",
    {
        Role.PAPER: "#fbf9f5", Role.GRID: "#e9e3d9", Role.FAINT: "#857b6d", Role.TEXT: "#2a2621",
        Role.WALL: "#2f2a25", Role.BODY: "#e4dac8", Role.HATCH: "#b5a68c", Role.SEAT: "#6d7a80",
        Role.GHOST: "#9a8fa3", Role.REPOSE: "#1f6a73", Role.BAND: "#b9d3d2", Role.BED: "#cfae72",
        Role.OPENS: "#e8b994", Role.STANDS: "#b7c2cf", Role.STRONG: "#b0532f", Role.WEAK: "#d99a5b",
        Role.MATCHED: "#d5cda6", Role.SHELTERED: "#9aa9ae", Role.INK: "#3a322a", Role.KNOT: "#2f2a25",
        Role.CHOSEN: "#7b3f8c", Role.CURSOR: "#7b3f8c", Role.STOP: "#a4161a", Role.BAR: "#a59a86",
    },
    window="#f1ece3", base="#fbf9f5", text="#2a2621", muted="#6f675b", rule="#d8cfc0",
    accent="#7b3f8c", on_accent="#ffffff",
)  # fmt: skip

DARK = Theme(
    "dark",
    {
        Role.PAPER: "#1f1d1a", Role.GRID: "#34302b", Role.FAINT: "#a39888", Role.TEXT: "#ece6db",
        Role.WALL: "#e6ddcd", Role.BODY: "#453e34", Role.HATCH: "#6f6453", Role.SEAT: "#94a3aa",
        Role.GHOST: "#8d8398", Role.REPOSE: "#67b7bd", Role.BAND: "#2f4c4e", Role.BED: "#7d6436",
        Role.OPENS: "#6e4a31", Role.STANDS: "#414d5a", Role.STRONG: "#d0714a", Role.WEAK: "#b98345",
        Role.MATCHED: "#7d7656", Role.SHELTERED: "#5f6c71", Role.INK: "#15120f", Role.KNOT: "#e6ddcd",
        Role.CHOSEN: "#c794d6", Role.CURSOR: "#c794d6", Role.STOP: "#ff8a80", Role.BAR: "#6d6455",
    },
    window="#292622", base="#1f1d1a", text="#ece6db", muted="#b3a897", rule="#443e36",
    accent="#c794d6", on_accent="#1f1d1a",
)  # fmt: skip

FONT_POINTS = 9.0


def dress(app: QApplication, theme: Theme) -> None:
    """Fusion style, the program's own font and the theme's palette: the same on every system."""
    app.setStyle("Fusion")
    app.setFont(_font())
    app.setPalette(_palette(theme))
    app.setStyleSheet(_sheet(theme))


def _font() -> QFont:
    if "DejaVu Sans" not in QFontDatabase.families():
        for name in ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf"):
            QFontDatabase.addApplicationFontFromData((files("profiler.data") / "fonts" / name).read_bytes())
    font = QFont("DejaVu Sans")
    font.setPointSizeF(FONT_POINTS)
    return font


def _palette(theme: Theme) -> QPalette:
    palette = QPalette()
    pairs = (
        (QPalette.ColorRole.Window, theme.window), (QPalette.ColorRole.WindowText, theme.text),
        (QPalette.ColorRole.Base, theme.base), (QPalette.ColorRole.AlternateBase, theme.window),
        (QPalette.ColorRole.Text, theme.text), (QPalette.ColorRole.Button, theme.window),
        (QPalette.ColorRole.ButtonText, theme.text), (QPalette.ColorRole.Highlight, theme.accent),
        (QPalette.ColorRole.HighlightedText, theme.on_accent), (QPalette.ColorRole.ToolTipBase, theme.base),
        (QPalette.ColorRole.ToolTipText, theme.text), (QPalette.ColorRole.PlaceholderText, theme.muted),
        (QPalette.ColorRole.Mid, theme.rule), (QPalette.ColorRole.Link, theme.accent),
    )  # fmt: skip
    for role, colour in pairs:
        palette.setColor(role, QColor(colour))
    for role in (QPalette.ColorRole.Text, QPalette.ColorRole.WindowText, QPalette.ColorRole.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, role, QColor(theme.muted))
    return palette


def _sheet(theme: Theme) -> str:
    return f"""
    QToolTip {{ color: {theme.text}; background: {theme.base}; border: 1px solid {theme.rule}; padding: 3px; }}
    QMenuBar {{ background: {theme.window}; border: 0; }}
    QMenuBar::item {{ padding: 7px 9px; background: transparent; }}
    QMenuBar::item:selected {{ background: {theme.rule}; }}
    #stripHeader, #unit, #muted {{ color: {theme.muted}; }}
    #groupButton {{ text-align: left; padding: 5px 8px; border: 0; font-weight: bold;
        border-top: 1px solid {theme.rule}; }}
    #groupButton:checked {{ color: {theme.accent}; }}
    #groupButton:hover, #plain:hover {{ background: {theme.rule}; }}
    #pageButton {{ border: 0; border-bottom: 2px solid transparent; padding: 5px 8px; color: {theme.muted}; }}
    #pageButton:checked {{ border-bottom: 2px solid {theme.accent}; color: {theme.text}; }}
    #pageButton:hover {{ background: {theme.rule}; }}
    #plain {{ border: 1px solid {theme.rule}; border-radius: 3px; padding: 3px 9px; background: {theme.base}; }}
    #link {{ border: 0; padding: 3px 2px; color: {theme.accent}; }}
    #link:hover {{ background: {theme.rule}; }}
    #listHead {{ font-weight: bold; padding: 6px 8px 1px 8px; border-top: 1px solid {theme.rule}; }}
    #fold {{ border: 0; padding: 3px 4px; text-align: left; color: {theme.accent}; }}
    #fold:hover {{ background: {theme.rule}; }}
    #export {{ border: 0; border-radius: 3px; padding: 4px 12px;
        background: {theme.accent}; color: {theme.on_accent}; }}
    #export:disabled {{ background: {theme.rule}; color: {theme.muted}; }}
    #number {{ border: 1px solid {theme.rule}; border-radius: 3px; background: {theme.base}; padding: 1px 3px; }}
    #number:focus {{ border: 1px solid {theme.accent}; }}
    #number[wrong="true"] {{ border: 1px solid {theme.roles[Role.STOP]}; }}
    QCheckBox::indicator {{ width: 8px; height: 8px; padding: 2px; border: 1px solid {theme.muted};
        border-radius: 2px; background: {theme.base}; background-clip: border; }}
    QCheckBox::indicator:checked {{ background: {theme.accent}; background-clip: content;
        background-origin: content; }}
    QCheckBox::indicator:focus {{ border: 1px solid {theme.accent}; }}
    QTableView {{ gridline-color: {theme.rule}; }}
    #readout {{ border-top: 1px solid {theme.rule}; }}
    #findings {{ border-top: 1px solid {theme.rule}; }}
    """
