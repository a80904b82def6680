"""A study: one file with a machine, its duties and its designs, and what was last looked at."""

from msgspec import Struct

from profiler.study.records.design import Design
from profiler.study.records.duty import Duty
from profiler.study.records.machine import Machine
from profiler.study.records.trial import Trial


class Shown(Struct, frozen=True, forbid_unknown_fields=True):
    """What the window shows: kept in the file, but neither an undo step nor a change."""

    design: str = ""
    duty: str = ""


class Study(Struct, frozen=True, forbid_unknown_fields=True):
    """Everything decided and recorded about bowls for one machine."""

    machine: Machine
    duties: tuple[Duty, ...]
    designs: tuple[Design, ...]
    title: str = ""
    note: str = ""
    shown: Shown = Shown()
    reference: str = ""  # name of the design that differences are taken against; empty: the first
    trials: tuple[Trial, ...] = ()

    @property
    def design(self) -> Design:
        """The design in the window: the one named in `shown`, or the first."""
        return next((d for d in self.designs if d.name == self.shown.design), self.designs[0])

    @property
    def duty(self) -> Duty:
        """The duty in the window: the one named in `shown`, or the first."""
        return next((d for d in self.duties if d.name == self.shown.duty), self.duties[0])

    @property
    def window(self) -> tuple[Duty, ...]:
        """The duties of the ore window, in their order."""
        return tuple(d for d in self.duties if d.in_window)

    @property
    def reference_design(self) -> Design:
        """The design that differences are taken against: the one named, or the first."""
        return next((d for d in self.designs if d.name == self.reference), self.designs[0])
