"""Every output of the program, one line each: terminal, Drawing page, export dialog, "Write all" and lists read it."""

from profiler.output.drawings.drawing_output import DRAWING
from profiler.output.drawings.drilling_output import DRILLING
from profiler.output.drawings.gauge_output import GAUGE
from profiler.output.drawings.profile_output import PROFILE
from profiler.output.moulder.moulder_output import MOULDER
from profiler.output.record.option import Option
from profiler.output.record.output import Output
from profiler.output.report.report_output import REPORT
from profiler.output.setup.setup_output import SETUP
from profiler.output.solids.solid_output import SOLID
from profiler.output.step.step_output import STEP
from profiler.output.tables.table_output import TABLE

OUTPUTS: tuple[Output, ...] = (
    DRAWING,
    PROFILE,
    GAUGE,
    REPORT,
    SETUP,
    MOULDER,
    TABLE,
    SOLID,
    STEP,
    DRILLING,
)


def output(key: str) -> Output:
    return next(o for o in OUTPUTS if o.key == key)


def suffixes() -> tuple[str, ...]:
    """Every type of file that can be written."""
    return tuple(dict.fromkeys(suffix for o in OUTPUTS for suffix in o.suffixes))


def outputs_of(suffix: str) -> tuple[Output, ...]:
    """The outputs a type of file can hold; first the one it is foremost a type of, meant where none is named."""
    held = [o for o in OUTPUTS if suffix in o.suffixes]
    return tuple(sorted(held, key=lambda o: o.suffixes.index(suffix)))


def options() -> dict[str, Option]:
    """Every option of every output by its key, the file types among them."""
    found: dict[str, Option] = {}
    for o in OUTPUTS:
        found |= {option.key: option for option in (o.file_type, *o.options)}
    return found


def listed() -> tuple[str, ...]:
    """A line of text for each output: its key, its types, what it is."""
    keys = max(len(o.key) for o in OUTPUTS) + 2
    types = max(len(" ".join(o.suffixes)) for o in OUTPUTS) + 2
    return tuple(f"{o.key:<{keys}}{' '.join(o.suffixes):<{types}}{o.says}" for o in OUTPUTS)
