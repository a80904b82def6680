"""The shown design fitted to the machine, as one undo step; where a limit binds nothing changes."""

from profiler.assess.fitting.fit import FIT_WORDS, Choice, Fit, fit
from profiler.ui.document.document import Document


def fit_shown(document: Document) -> Fit:
    """Apply the fit where it is met, and say what came of it either way."""
    document.commit()
    found = fit(document.design, document.study.machine)
    if found.design is not None:
        document.edit_design(found.design, FIT_WORDS)
    document.say(found.sentence)
    return found


def take_choice(document: Document, choice: Choice) -> None:
    """One of the ways that remain, as one undo step: fitted and turned."""
    document.edit_design(choice.design, FIT_WORDS)
    document.say(f"{choice.words}: fitted to {document.study.machine.name}.")
