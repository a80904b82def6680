"""What was last said about each output: remembered from one day to the next.

Who draws, on which paper, for which tool: one memory for all studies. Number, title and revision belong to one design
of one study; where that has no file yet they last as long as the window. The date is today's.
"""

import hashlib
from datetime import date

from PySide6.QtCore import QSettings

from profiler.ui.document.document import Document
from profiler.ui.drawing.output_options import DATE, OPTIONS, Amount, Held, Option, Pick, Words


class OutputMemory:
    def __init__(self, document: Document, settings: QSettings) -> None:
        self._document = document
        self._settings = settings
        self._now: dict[str, Held] = {DATE.key: date.today().isoformat()}

    @property
    def values(self) -> dict[str, Held]:
        """Every option's value for the design that is shown."""
        return {key: self._value(option) for key, option in OPTIONS.items()}

    def keep(self, key: str, value: Held) -> None:
        option = OPTIONS[key]
        place = self._place(option)
        self._now[place] = value
        if option is not DATE and not (_is_own(option) and self._document.path is None):
            self._settings.setValue(f"output/{place}", "" if value is None else value)

    def _value(self, option: Option) -> Held:
        place = self._place(option)
        if place not in self._now:
            stored = self._settings.value(f"output/{place}", None)
            self._now[place] = option.usual if stored is None else _read(option, str(stored))
        return self._now[place]

    def _place(self, option: Option) -> str:
        if not _is_own(option):
            return option.key
        whose = f"{self._document.path or ''}\n{self._document.design.name}"
        return f"{hashlib.sha256(whose.encode()).hexdigest()[:16]}/{option.key}"


def _is_own(option: Option) -> bool:
    return isinstance(option, Words) and option.own


def _read(option: Option, stored: str) -> Held:
    """A stored value, where it is still one: a file of settings may be old or edited by hand."""
    if isinstance(option, Pick):
        return stored if stored in dict(option.offers) else option.usual
    if isinstance(option, Amount):
        try:
            value = float(stored)
        except ValueError:
            return None if option.empty else option.usual
        return value if option.field.objection(value) is None else option.usual
    return stored
