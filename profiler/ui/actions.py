"""The actions of the window, one record each: words, keys, whether ticked or possible, and what it does.

Menus, shortcuts, tooltips and the help's table of keys are made from this table; adding an action is one entry here.
What an action acts upon is a `Host`: the window, of which nothing else is known here.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from profiler.ui.document.document import Document
from profiler.ui.document.filing import Filing
from profiler.ui.page_stack import COMPARE, DRAWING, EDDY, FIND, ORE, SHAPE, PageStack
from profiler.ui.shape.shape_page import ShapePage
from profiler.ui.widgets.keys import REDO, UNDO

LARGER, SMALLER = 1.25, 0.8  # of a zoom


class Host(Protocol):
    """What actions act upon."""

    document: Document
    filing: Filing
    pages: PageStack
    page: ShapePage

    @property
    def is_dark(self) -> bool: ...

    @property
    def in_inches(self) -> bool: ...

    def close(self) -> bool: ...

    def export(self) -> None: ...

    def new_study(self) -> None: ...

    def envelope(self) -> None: ...

    def fit_bowl(self) -> None: ...

    def toggle_dark(self) -> None: ...

    def toggle_inches(self) -> None: ...

    def help(self) -> None: ...

    def help_keys(self) -> None: ...

    def about(self) -> None: ...


@dataclass(frozen=True, slots=True)
class Action:
    """`words` with the menu's mnemonic; `do` None for a submenu that is filled elsewhere; `more` follows the words."""

    id: str
    menu: str
    words: str
    do: Callable[[Host], object] | None
    keys: tuple[str, ...] = ()
    tip: str = ""
    ticked: Callable[[Host], bool] | None = None
    enabled: Callable[[Host], bool] | None = None
    more: Callable[[Host], str] | None = None

    @property
    def plain(self) -> str:
        """The words as they are read."""
        return self.words.replace("&", "").removesuffix("…")


def _on_shape(w: Host) -> bool:
    """The strips are seen: what is not in view is not acted upon."""
    return w.pages.shown is w.page


def _can_zoom(w: Host) -> bool:
    return w.pages.shown.can_zoom


def _has_forms(w: Host) -> bool:
    return w.pages.shown.has_forms


def _undo(w: Host) -> None:
    """Where what it changes may be out of view, it is said."""
    stack = w.document.undo_stack
    words = f"Undone: {stack.undoText()}."
    stack.undo()
    if not _on_shape(w):
        w.document.say(words)


def _redo(w: Host) -> None:
    stack = w.document.undo_stack
    words = f"Redone: {stack.redoText()}."
    stack.redo()
    if not _on_shape(w):
        w.document.say(words)


FILE, EDIT, CURVE, VIEW, STUDY, HELP = "&File", "&Edit", "&Curve", "&View", "&Study", "&Help"

ACTIONS: tuple[Action, ...] = (
    Action("file.new", FILE, "&New study…", lambda w: w.new_study(), ("Ctrl+N",),
           "A machine and a first duty, and a plain cone that fits"),
    Action("file.open", FILE, "&Open…", lambda w: w.filing.open(), ("Ctrl+O",)),
    Action("file.recent", FILE, "&Recent files", None),
    Action("file.save", FILE, "&Save", lambda w: w.filing.save(), ("Ctrl+S",)),
    Action("file.save_as", FILE, "Save &as…", lambda w: w.filing.save_as(), ("Ctrl+Shift+S",)),
    Action("file.save_copy", FILE, "Save a &copy…", lambda w: w.filing.save_copy(), (),
           "A copy elsewhere; the window keeps working on its own file"),
    Action("file.export", FILE, "&Export section…", lambda w: w.export(), ("Ctrl+Shift+E",),
           "The section as DXF for the shop"),
    Action("file.drawings", FILE, "&Drawings and tables…", lambda w: w.pages.open(DRAWING), ("Ctrl+Shift+D",),
           "See each output before it is written, printed or copied"),
    Action("file.print", FILE, "&Print…", lambda w: w.pages.open(DRAWING).print_shown(), ("Ctrl+P",),
           "Print what the page Drawing shows, at true scale"),
    Action("file.close", FILE, "&Close", lambda w: w.close(), ("Ctrl+Q",)),
    Action("edit.undo", EDIT, "Undo", _undo, UNDO,
           enabled=lambda w: w.document.undo_stack.canUndo() and not w.document.in_gesture,
           more=lambda w: w.document.undo_stack.undoText()),
    Action("edit.redo", EDIT, "Redo", _redo, REDO,
           enabled=lambda w: w.document.undo_stack.canRedo() and not w.document.in_gesture,
           more=lambda w: w.document.undo_stack.redoText()),
    Action("curve.add", CURVE, "&Add a knot", lambda w: w.page.edits.add_knot_here(), (),
           "In the widest gap, or at the crosshair", enabled=_on_shape),
    Action("curve.delete", CURVE, "&Delete the chosen knot", lambda w: w.page.edits.delete_chosen(),
           enabled=_on_shape),
    Action("curve.corner", CURVE, "&Corner or one angle", lambda w: w.page.edits.toggle_chosen_corner(), ("C",),
           "At the chosen knot", enabled=_on_shape),
    Action("curve.ghost", CURVE, "&Keep the present curve as a ghost", lambda w: w.page.toggle_ghost(), ("K",),
           "Draw it faintly in all strips, or drop it again", ticked=lambda w: w.page.has_ghost,
           enabled=_on_shape),
    Action("view.fit", VIEW, "&Whole bowl in view", lambda w: w.pages.shown.fit_again(), ("Ctrl+0",),
           "All of the bowl, or of the sheet", enabled=_can_zoom),
    Action("view.larger", VIEW, "Zoom &in", lambda w: w.pages.shown.zoom(LARGER), ("Ctrl++",), enabled=_can_zoom),
    Action("view.smaller", VIEW, "Zoom &out", lambda w: w.pages.shown.zoom(SMALLER), ("Ctrl+-",),
           enabled=_can_zoom),
    Action("view.forms", VIEW, "Fo&rms", lambda w: w.pages.shown.toggle_forms(), ("F9",),
           "Show or hide the forms", enabled=_has_forms),
    Action("view.findings", VIEW, "All f&indings", lambda w: w.pages.shown.toggle_findings(), ("F8",),
           "Show all findings", enabled=_has_forms),
    Action("view.next_part", VIEW, "Next p&art of the page", lambda w: w.pages.shown.next_part(), ("F6",)),
    Action("view.previous_part", VIEW, "P&revious part of the page", lambda w: w.pages.shown.next_part(False),
           ("Shift+F6",)),
    Action("view.next_page", VIEW, "Next pa&ge", lambda w: w.pages.next_page(), ("Ctrl+PgDown",)),
    Action("view.previous_page", VIEW, "Previous &page", lambda w: w.pages.next_page(-1), ("Ctrl+PgUp",)),
    Action("view.text_size", VIEW, "Te&xt size", None),
    Action("view.inches", VIEW, "Lengths in in&ches", lambda w: w.toggle_inches(), ticked=lambda w: w.in_inches),
    Action("view.dark", VIEW, "&Dark colours", lambda w: w.toggle_dark(), ticked=lambda w: w.is_dark),
    Action("study.fit", STUDY, "&Fit the bowl to the machine", lambda w: w.fit_bowl(),
           ("Ctrl+Shift+F",), "Lip radius, height, grooves and outside at once, or the limit that prevents it"),
    Action("study.steps", STUDY, "&Round to shop steps", lambda w: w.pages.open(SHAPE).show_steps(), (),
           "Radii, diameters and angles to round steps, and what that changes"),
    Action("study.start", STUDY, "&Start a curve", lambda w: w.pages.open(SHAPE).start_curve(), (),
           "One angle, two with a corner, or graded by a power law; live and always fitted"),
    Action("study.measured", STUDY, "&Measured in a bowl", lambda w: w.pages.open(ORE).show_measured(), (),
           "Calibrate the friction by an angle of the slurry, or by the grooves of a stopped bowl"),
    Action("study.envelope", STUDY, "&Envelope from a drawing…", lambda w: w.envelope(), (),
           "Seat, lip and height from a DXF or from points; an existing bowl as a ghost or a design"),
    Action("study.worn", STUDY, "Measured and &worn profiles", lambda w: w.pages.open(COMPARE).open_worn(), (),
           "Accept a casting, find a rate of wear, see the worn bowl beside the new one"),
    Action("study.lessons", STUDY, "&Lessons", lambda w: w.pages.open(EDDY).show_lessons(), (),
           "Short lessons, each on a study of its own"),
    Action("study.ask", STUDY, "Find &one number", lambda w: w.pages.open(FIND).ask_about(w.page.pointer.now),
           ("Ctrl+B",), "Find the speed, say, at which the deepest bed is 2 mm"),
    Action("study.window", STUDY, "Ore &window…", lambda w: w.pages.open(ORE).show_window(), (),
           "Duties around the shown one, higher and lower by amounts you choose"),
    Action("study.sizes", STUDY, "Size &classes…", lambda w: w.pages.open(ORE).show_sizes(), (),
           "The shown duty's feed by sieve, or one d50"),
    Action("help.help", HELP, "&Help", lambda w: w.help(), ("F1",)),
    Action("help.keys", HELP, "&Keys and mouse", lambda w: w.help_keys()),
    Action("help.about", HELP, "&About and cautions", lambda w: w.about()),
)  # fmt: skip
