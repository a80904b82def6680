"""The findings as the window shows them: none vanishes for a moment only because it is worked out at leisure.

And the remedy of one, applied.
"""

from profiler.assess import Evaluation, Finding
from profiler.assess.evaluate.evaluation import with_older
from profiler.study import Design, Duty, Machine
from profiler.ui.document.document import Document


class SteadyFindings:
    """Keeps the last whole evaluation."""

    def __init__(self, document: Document) -> None:
        self._document = document
        self._whole: Evaluation | None = None

    @property
    def evaluation(self) -> Evaluation:
        """The document's; while it is not whole yet, with the findings that will follow as they were."""
        e = self._document.evaluation
        if not self._document.complete:
            return with_older(e, self._whole)
        self._whole = e
        return e


def apply_remedy(document: Document, finding: Finding | None) -> None:
    """Make the edit that removes a finding; without one nothing happens."""
    if finding is None or finding.remedy is None:
        return
    try:
        changed, words = finding.remedy.changed, finding.remedy.label
    except ValueError as refusal:
        document.say(str(refusal))
        return
    if isinstance(changed, Design):
        document.edit_design(changed, words)
    elif isinstance(changed, Duty):
        document.edit_duty(changed, words)
    elif isinstance(changed, Machine):
        document.edit_machine(changed, words)
