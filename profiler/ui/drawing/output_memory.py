"""What was last said about each output: remembered from one day to the next.

Who draws, on which paper, for which tool: one memory for all studies. Number, title and revision belong to one design
of one study; where that has no file yet they last as long as the window. The date is today's.
"""

import hashlib

from profiler.output import outputs
from profiler.output.record.option import Held, Option
from profiler.ui.document.document import Document
from profiler.ui.files.settings import OUTPUT, Settings


class OutputMemory:
    def __init__(self, document: Document, settings: Settings) -> None:
        self._document = document
        self._settings = settings
        self._now: dict[str, Held] = {}

    @property
    def values(self) -> dict[str, Held]:
        """Every option's value for the design that is shown."""
        return {key: self._value(option) for key, option in outputs.options().items()}

    def keep(self, key: str, value: Held) -> None:
        option = outputs.options()[key]
        place = self._place(option)
        self._now[place] = value
        if option.kept and not (option.own and self._document.path is None):
            self._settings.put(OUTPUT.of(place), "" if value is None else str(value))

    def _value(self, option: Option) -> Held:
        place = self._place(option)
        if place not in self._now:
            setting = OUTPUT.of(place)
            known = option.kept and self._settings.has(setting)
            self._now[place] = option.taken(self._settings.get(setting)) if known else option.usual
        return self._now[place]

    def _place(self, option: Option) -> str:
        if not option.own:
            return option.key
        whose = f"{self._document.path or ''}\n{self._document.design.name}"
        return f"{hashlib.sha256(whose.encode('utf-8', 'surrogateescape')).hexdigest()[:16]}/{option.key}"
