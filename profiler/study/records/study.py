"""A study: one file with a machine, its duties and its designs, and what was last looked at."""

from typing import Annotated, Self, TypeVar

from profiler.study.records.design import Design
from profiler.study.records.duty import Duty, following
from profiler.study.records.fields import member
from profiler.study.records.machine import Machine
from profiler.study.records.measured_profile import MeasuredProfile
from profiler.study.records.measurement import Measurement
from profiler.study.records.record import Record
from profiler.study.records.trial import Trial


class Shown(Record, frozen=True):
    """What the window shows: kept in the file, but neither an undo step nor a change."""

    design: Annotated[str, member("Design shown", "Its name; empty: the first.")] = ""
    duty: Annotated[str, member("Duty shown", "Its name; empty: the first.")] = ""


class Study(Record, frozen=True):
    """Everything decided and recorded about bowls for one machine.

    Fields of designs and duties are those of the shown design and the shown duty.
    """

    machine: Annotated[Machine, member("Machine", "What all bowls of the study must fit.")]
    duties: Annotated[tuple[Duty, ...], member("Duties", "Ways of running; at least one.")]
    designs: Annotated[tuple[Design, ...], member("Designs", "Bowls; at least one.")]
    title: Annotated[str, member("Title", "In one line.")] = ""
    note: Annotated[str, member("Note", "For whoever reads the file.")] = ""
    shown: Annotated[Shown, member("Shown", "What the window last showed.")] = Shown()
    reference: Annotated[
        str, member("Reference", "Name of the design that differences are taken against; empty: the first.")
    ] = ""
    trials: Annotated[tuple[Trial, ...], member("Trials", "Comparisons of two designs by runs on feed.")] = ()
    measurements: Annotated[
        tuple[Measurement, ...], member("Measurements", "Angles and stopped bowls, by which friction is calibrated.")
    ] = ()
    profiles: Annotated[
        tuple[MeasuredProfile, ...], member("Profiles", "Insides of castings as they were measured, new and worn.")
    ] = ()

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

    def having(self, name: str, value: object) -> Self:
        """`design` and `duty` are the shown ones; which is shown follows a renaming."""
        if isinstance(value, Design) and name == "design":
            return self._renamed(name, self.design, value).having("designs", _swapped(self.designs, self.design, value))
        if isinstance(value, Duty) and name == "duty":
            return self._renamed(name, self.duty, value).having("duties", _swapped(self.duties, self.duty, value))
        changed = super().having(name, value)
        if name == "duties":  # what follows the first duty follows it now
            return super(Study, changed).having(name, following(changed.duties))
        return changed

    def _renamed(self, kind: str, old: Design | Duty, new: Design | Duty) -> Self:
        return self if old.name == new.name else self.having("shown", self.shown.having(kind, new.name))


Item = TypeVar("Item", Design, Duty)


def _swapped(group: tuple[Item, ...], old: Item, new: Item) -> tuple[Item, ...]:
    return tuple(new if item is old else item for item in group)
