"""The yardstick: the bowl of forty grooves as four plain panels, drawn anew as a plotting library does it.

Plain: each panel a grid, axes and numbers, the curves as lines, bands filled between, a bar to a groove; nothing of the
cross-hatching, marks, letterings and patterns that the strips add. Who reads it as a frame of a drag gets what one
would have who plotted the same numbers with matplotlib: `figure.canvas.draw()` after the curves are set anew.
"""

from collections.abc import Callable

from profiler.assess import Evaluation, Stages, evaluate
from profiler.assess.flow.flow_stage import HIGH, LOW, MIDDLE
from profiler.study.edits import design_edits as edits
from profiler.units import DEGREE, MM
from tests.benchmarks.bowls import forty
from tests.benchmarks.rows import Took, timed

DPI = 100.0
WIDTHS = (1.0, 4.0, 9.0, 4.0)  # gutter, angle, section, grooves


def redraws(width: int, height: int, count: int = 12) -> Callable[[], tuple[Took, ...]]:
    """Makes the four panels once; each call draws them so many times, each time with another bowl's numbers."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    base = forty()
    turned = (edits.move_knot(base.design, 1, None, angle) for angle in (17.0, 18.5))
    bowls = [evaluate(design, base.machine, base.duty, Stages.QUICK) for design in turned]
    figure = Figure((width / DPI, height / DPI), dpi=DPI)
    canvas = FigureCanvasAgg(figure)
    panels = figure.subplots(1, 4, width_ratios=WIDTHS)

    def redraw(e: Evaluation) -> None:
        for panel in panels:
            panel.clear()
            panel.grid(visible=True)
        _fill(panels, e)
        canvas.draw()

    redraw(bowls[0])
    return lambda: tuple(timed(lambda e=bowls[k % 2]: redraw(e)) for k in range(count))


def _fill(panels: object, e: Evaluation) -> None:
    tape, angle, section, grooves = panels  # type: ignore[misc]
    assert e.shape is not None and e.flow is not None
    at, bed, middles = e.shape.stations, e.flow.bed, e.shape.mouths.middle
    tape.step(e.flow.state[0], at.height)
    degrees = e.flow.angle[0] / DEGREE
    angle.plot(at.angle / DEGREE, at.height)
    angle.plot(degrees[MIDDLE], at.height)
    angle.fill_betweenx(at.height, degrees[LOW], degrees[HIGH], alpha=0.4)
    angle.plot([k.angle_deg for k in e.design.wall.knots], [k.height_mm for k in e.design.wall.knots], "o")
    surface = bed.radius[0] / MM
    section.plot(at.radius, at.height)
    section.plot(at.contour, at.height)
    section.plot(surface[MIDDLE], at.height)
    section.fill_betweenx(at.height, surface[LOW], surface[HIGH], alpha=0.4)
    section.fill_betweenx(at.height, at.radius, float(at.radius.max()) + 26.0, alpha=0.4)
    grooves.barh(middles, e.flow.groove_overfall[0, MIDDLE], height=4.0)
