"""The command `envelope`: a machine's seat, lip and height from a DXF or a table of points, into a study."""

import argparse
import json
from pathlib import Path
from typing import TYPE_CHECKING

from profiler.cli.command import FINE, Command, check_save, say, sentences
from profiler.numbers import counted, read
from profiler.study import Study, read_study, write_study

if TYPE_CHECKING:
    from profiler.assess.drawn.drawing import Drawing
    from profiler.assess.drawn.envelope import Envelope, Roles
    from profiler.assess.drawn.laid_out import LaidOut

UNITS_MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "inch": 25.4}


def _add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("drawing", metavar="DRAWING", type=Path, help="a DXF, or a table of radius and height")
    parser.add_argument("--into", metavar="FILE.bowl", type=Path, required=True, help="the study whose machine it is")
    parser.add_argument("--save", metavar="OUT.bowl", type=Path, help="write the study with the machine so read")
    parser.add_argument("--unit", choices=UNITS_MM, help="of the drawing (default: what it says)")
    parser.add_argument("--scale", metavar="FACTOR", help="the machine is so many times as large (default: 1)")
    parser.add_argument("--axis", metavar="N", type=int, default=1, help="which proposed axis (default: 1)")
    parser.add_argument("--upside-down", action="store_true", help="the rim is drawn below")
    parser.add_argument("--seat", metavar="N", type=int, help="the chain that is the seat; 0: none")
    parser.add_argument("--bowl", metavar="N", type=int, help="the chain that is an existing bowl; 0: none")
    parser.add_argument("--lip", metavar="MM", help="lip radius, where no bowl is drawn")
    parser.add_argument("--height", metavar="MM", help="bowl height, likewise")
    parser.add_argument("--wall", metavar="NAME", help="take the drawn bowl's wall as a further design of this name")
    parser.add_argument("--json", action="store_true", help="one JSON object instead of sentences")


def _envelope(given: argparse.Namespace) -> int:
    from profiler.assess.drawn.envelope import envelope
    from profiler.assess.drawn.laid_out import Laying, laid_out

    study = read_study(given.into)
    check_save(given, "machine")
    with sentences():
        read_as, factor = _drawing(given)
        laid = laid_out(read_as, Laying(factor, given.axis - 1, given.upside_down))
        found = envelope(laid.placed, _roles(given, laid), study.machine, study.design, laid.drawing, laid.axis)
        changed = _with(study, found, given.wall, laid.drawing.name)
    if given.save is not None:
        write_study(changed, given.save)
    if given.json:
        say(_json(found, laid))
    else:
        say("\n".join((found.sentence, *laid.remarks)))
        if given.save is not None:
            say(f"written: {given.save}", plainly=True)
    return FINE


def _drawing(given: argparse.Namespace) -> "tuple[Drawing, float]":
    """As read, and the millimetres in one of its lengths. Raises ValueError."""
    from profiler.assess.drawn.pasted import pasted_points
    from profiler.assess.drawn.read_dxf import read_dxf
    from profiler.study.files.disk import read_whole
    from profiler.study.ledger.text_tables import text_of

    path: Path = given.drawing
    if path.suffix.lower() in (".csv", ".txt", ".tsv"):
        drawing = pasted_points(text_of(read_whole(path)[0], path.name), path.name)
    else:
        drawing = read_dxf(path)
    unit = 1.0
    if drawing.unit_mm is None:
        if given.unit is None:
            raise ValueError(f"{path.name} does not say its unit: give --unit {' or '.join(UNITS_MM)}.")
        unit = UNITS_MM[given.unit]
    elif given.unit is not None:
        unit = UNITS_MM[given.unit] / drawing.unit_mm
    scale = _number(given.scale, "--scale")
    return drawing, unit * (1.0 if scale is None else scale)


def _roles(given: argparse.Namespace, laid: "LaidOut") -> "Roles":
    from profiler.assess.drawn.envelope import Roles

    proposed, count = laid.roles, len(laid.placed.chains)
    chosen = []
    for number, place, flag in ((given.seat, proposed.seat, "--seat"), (given.bowl, proposed.bowl, "--bowl")):
        if number is not None and not 0 <= number <= count:
            raise ValueError(f"{flag} {number}: the drawing has {counted(count, 'chain')}.")
        chosen.append(place if number is None else number - 1 if number else None)
    return Roles(chosen[0], chosen[1], _number(given.lip, "--lip"), _number(given.height, "--height"))


def _number(text: str | None, flag: str) -> float | None:
    if text is None:
        return None
    try:
        return read(text).value
    except ValueError as reason:
        raise ValueError(f"{flag}: {reason}") from None


def _with(study: Study, found: "Envelope", wall: str | None, drawing: str) -> Study:
    from profiler.study.edits.list_edits import add_design

    changed = study.having("machine", found.machine).having("design", found.design)
    if wall is None:
        return changed
    if found.bowl is None:
        raise ValueError("--wall: no existing bowl was found in the drawing; point at one with --bowl.")
    bowl, body = found.bowl, found.design.body
    return add_design(changed, wall, lambda name: bowl.as_design(name, body, drawing))


def _json(found: "Envelope", laid: "LaidOut") -> str:
    machine, bowl = found.machine, found.bowl
    answer = {
        "sentence": found.sentence,
        "axes": [f"{p.axis.words}: {p.reason}" for p in laid.axes],
        "chains": len(laid.placed.chains),
        "full_section": laid.placed.full,
        "closed_gaps": laid.placed.joints.closed_gaps,
        "seat": [{"height_mm": p.height_mm, "radius_mm": p.radius_mm} for p in machine.seat],
        "lip_radius_mm": machine.lip_radius_mm,
        "height_mm": machine.height_mm,
        "feed_pipe_mm": machine.feed_pipe_mm,
        "hub_hole_mm": found.design.body.hub_hole_mm,
        "flange_mm": found.design.body.flange_mm,
        "bowl_worst_mm": None if bowl is None else bowl.worst_mm,
        "bowl_knots": None if bowl is None else len(bowl.design.wall.knots),
        "bowl_grooves": None if bowl is None else len(bowl.grooves),
    }
    return json.dumps(answer, allow_nan=False)


ENVELOPE = Command("envelope", lambda: "read a machine's seat, lip and height from a drawing", _add_options, _envelope)
