"""All keys and what the mouse does, part of the window by part, gathered from who answers them: the help's table."""

from profiler.ui import page_stack
from profiler.ui.actions import ACTIONS, Action
from profiler.ui.eddy import groove_canvas
from profiler.ui.forms import list_menu, pane
from profiler.ui.help import help_window, record_page
from profiler.ui.ore import map_canvas, sizes_table
from profiler.ui.shape import findings_list, findings_page
from profiler.ui.strips import angle, base, grooves, section
from profiler.ui.trials import trial_ledger
from profiler.ui.widgets import choice_box, number_box, sheet_view, splitter, table_view
from profiler.ui.widgets.keys import KeySection, after_a_colon, shown
from profiler.ui.widgets.keys import section as part

ANYWHERE = "Anywhere in the window"


def key_sections() -> tuple[KeySection, ...]:
    """In the order of the help."""
    return (
        KeySection(ANYWHERE, tuple((shown(action.keys), _told(action)) for action in ACTIONS if action.keys)),
        part("Buttons of the pages", mouse=page_stack.BUTTONS),
        part("All strips of the pages Shape, Machine and Ore", mouse=base.MOUSE),
        part("Wall angle strip", angle.KEYS, angle.MOUSE),
        part("Section", section.KEYS, section.MOUSE),
        part("Groove strip", grooves.KEYS, grooves.MOUSE),
        part("Heads of forms", mouse=pane.HEADS),
        part("Lists to choose from", choice_box.KEYS, choice_box.MOUSE),
        part("Number boxes", number_box.KEYS, number_box.MOUSE),
        part("Shape page", findings_page.KEYS),
        part("Pages Machine and Ore", findings_page.KEYS),
        part("Groove magnified, on the page Eddy", groove_canvas.KEYS, groove_canvas.MOUSE),
        part("List of all findings", findings_list.KEYS),
        part("Ore map", map_canvas.KEYS, map_canvas.MOUSE),
        part("Table of size classes", sizes_table.KEYS),
        part("A name typed over a list", list_menu.KEYS),
        part("Ledger of runs", trial_ledger.LEDGER_KEYS),
        part("Divider between two parts of a page", splitter.KEYS),
        part("Preview of a sheet", sheet_view.KEYS, sheet_view.MOUSE),
        part("Preview of a table", table_view.KEYS),
        part("Help", help_window.KEYS),
        part("The model's record beside the ore map", record_page.KEYS),
    )


def _told(action: Action) -> str:
    """Words and tip in one line; the tip alone where it says the words anyway."""
    plain, tip = action.plain, action.tip
    if not tip or plain.lower() in tip.lower():
        return tip or plain
    return after_a_colon(plain, tip)
