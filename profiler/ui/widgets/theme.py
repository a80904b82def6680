"""How the window looks: the program's palettes as Qt takes them, its font, its style. No colour is decided here."""

from dataclasses import dataclass, fields
from importlib.resources import files

from PySide6.QtGui import QColor, QFont, QFontDatabase, QPalette
from PySide6.QtWidgets import QApplication

from profiler.pictures.basics import palette
from profiler.pictures.basics.display import Role
from profiler.pictures.basics.palette import Palette
from profiler.ui.widgets.focus import show_focus


@dataclass(frozen=True, slots=True)
class Theme(Palette):
    """A palette the window can paint with."""

    def colour(self, role: Role) -> QColor:
        return QColor(self.roles[role])

    @classmethod
    def of(cls, colours: Palette) -> "Theme":
        return cls(**{field.name: getattr(colours, field.name) for field in fields(colours)})


LIGHT, DARK = Theme.of(palette.LIGHT), Theme.of(palette.DARK)
FONT_POINTS = 9.0
BORDER_DARKER = 140  # per cent, by which Fusion makes a border of the ground


def dress(app: QApplication, theme: Theme) -> None:
    """Fusion style, the program's own font, the theme's palette, the keyboard's frame: the same on every system.

    The rules for named widgets are not the application's but each window's own (`rules`): the application's are worked
    out anew whenever a widget finds its parent, which took more than half the time of making a window.
    """
    app.setStyle("Fusion")
    app.setFont(_font())
    app.setPalette(_palette(theme))
    app.setPalette(_palette(theme, edged=True), "QComboBox")  # type: ignore[arg-type]  # the stub says bytes, and bytes are refused
    show_focus(app)


def _font() -> QFont:
    if "DejaVu Sans" not in QFontDatabase.families():
        for name in ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf"):
            QFontDatabase.addApplicationFontFromData((files("profiler.data") / "fonts" / name).read_bytes())
    font = QFont("DejaVu Sans")
    font.setPointSizeF(FONT_POINTS)
    return font


def _palette(theme: Theme, edged: bool = False) -> QPalette:
    """`edged`: for what the style itself draws a border round, which it takes from the ground, so much darker."""
    made = QPalette()
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
        made.setColor(role, QColor(colour))
    if edged:
        made.setColor(QPalette.ColorRole.Window, QColor(theme.edge).lighter(BORDER_DARKER))
    for role in (QPalette.ColorRole.Text, QPalette.ColorRole.WindowText, QPalette.ColorRole.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, role, QColor(theme.muted))
    return made


def rules(theme: Theme) -> str:
    """The style sheet a window lays over all that stands in it, its dialogs too, once it is put together."""
    return f"""
    QToolTip {{ color: {theme.text}; background: {theme.base}; border: 1px solid {theme.rule}; padding: 3px; }}
    QMenuBar {{ background: {theme.window}; border: 0; }}
    QMenuBar::item {{ padding: 7px 9px; background: transparent; }}
    QMenuBar::item:selected {{ background: {theme.rule}; }}
    #groupButton, #pageButton, #link, #listHead, #fold, #quiet {{ background: transparent; border-radius: 0; }}
    #stripHeader, #unit, #muted {{ color: {theme.muted}; }}
    #groupButton {{ text-align: left; padding: 5px 7px; border: 1px solid transparent; font-weight: bold;
        border-top: 1px solid {theme.rule}; }}
    #groupButton:checked {{ color: {theme.accent}; background: {theme.base};
        border-left: 3px solid {theme.accent}; padding-left: 5px; }}
    #groupButton:hover {{ background: {theme.rule}; }}
    #pageButton {{ border: 1px solid transparent; border-bottom: 2px solid transparent; padding: 4px 7px;
        color: {theme.muted}; }}
    #pageButton:checked {{ border-bottom: 2px solid {theme.accent}; color: {theme.text}; }}
    #pageButton:hover {{ background: {theme.rule}; }}
    QPushButton, QToolButton {{ border: 1px solid {theme.edge}; border-radius: 3px; padding: 3px 9px;
        background: {theme.base}; }}
    QToolButton {{ padding: 3px 5px; }}
    QPushButton:hover, QToolButton:hover {{ background: {theme.rule}; }}
    QPushButton:default {{ border: 2px solid {theme.edge}; padding: 2px 8px; }}
    QPushButton:flat {{ border: 1px solid transparent; background: transparent; }}
    QLineEdit {{ border: 1px solid {theme.edge}; border-radius: 3px; background: {theme.base}; padding: 1px 2px; }}
    QListView, QTableView {{ border: 1px solid {theme.edge}; }}
    #link {{ border: 1px solid transparent; padding: 2px 1px; color: {theme.accent}; }}
    #link:hover {{ background: {theme.rule}; }}
    #listHead {{ font-weight: bold; text-align: left; padding: 5px 8px; border: 1px solid transparent;
        border-top: 1px solid {theme.rule}; }}
    #listHead:hover {{ background: {theme.rule}; }}
    #fold {{ border: 1px solid transparent; padding: 2px 3px; text-align: left; color: {theme.accent}; }}
    #fold:hover {{ background: {theme.rule}; }}
    #export {{ border: 2px solid {theme.accent}; border-radius: 3px; padding: 2px 10px;
        background: {theme.accent}; color: {theme.on_accent}; }}
    #export:disabled {{ background: {theme.rule}; border-color: {theme.rule}; color: {theme.muted}; }}
    #number {{ border: 1px solid {theme.edge}; border-radius: 3px; background: {theme.base}; padding: 1px 3px; }}
    #number[wrong="true"] {{ border: 1px solid {theme.roles[Role.STOP]}; }}
    QCheckBox::indicator {{ width: 8px; height: 8px; padding: 2px; border: 1px solid {theme.edge};
        border-radius: 2px; background: {theme.base}; background-clip: border; }}
    QCheckBox::indicator:checked {{ background: {theme.accent}; background-clip: content;
        background-origin: content; }}
    QTableView {{ gridline-color: {theme.rule}; }}
    #messageLine {{ border-top: 1px solid {theme.rule}; }}
    #quiet {{ border: 1px solid transparent; padding: 2px 3px; color: {theme.muted}; }}
    #quiet:hover {{ background: {theme.rule}; color: {theme.text}; }}
    #readout {{ border-top: 1px solid {theme.rule}; }}
    #findings {{ border-top: 1px solid {theme.rule}; }}
    """
