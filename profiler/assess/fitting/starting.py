"""A design to start from that fits its machine."""

from profiler.assess.fitting.fit import fit
from profiler.study import Design, Machine
from profiler.study.edits.list_edits import cone_as_it_is


def fitted_cone(name: str, machine: Machine) -> Design:
    """A plain cone that fits: steeper or shallower than the usual one where hub or least wall ask for it.

    Where nothing fits it is the usual cone, and the findings say what is wrong.
    """
    cone = cone_as_it_is(name, machine)
    found = fit(cone, machine)
    if found.design is not None:
        return found.design
    return found.choices[0].design if found.choices else cone
