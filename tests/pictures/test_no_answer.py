"""Where the model has no answer every reader says so with the reason; where the wall keeps its numbers, they stay."""

import csv
import io
import json
from functools import cache

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import Evaluation, evaluate
from profiler.assess.quantities.reading import reading_at
from profiler.assess.quantities.table import quantity
from profiler.explore.ore_map import OreMap, asked, ore_map, span
from profiler.output.blocks.blocks import Paragraph
from profiler.output.report.content import Job, report_of
from profiler.output.tables.map_csv import map_csv, map_json
from profiler.output.tables.tables_csv import CsvTable, csv_bytes
from profiler.output.terminal.check_json import check_json
from profiler.output.terminal.check_text import check_text
from profiler.pictures.basics.display import Area, Label, Line, Role, Strokes
from profiler.pictures.charts.map_picture import ore_map_picture
from profiler.pictures.strips.groove_strip import groove_strip
from profiler.pictures.strips.gutter_strip import gutter
from profiler.pictures.strips.scene import Scene
from profiler.pictures.strips.section_strip import radius_scale, section_strip
from tests.pictures.scenes import STUDY, axis, numbers_in, of_kind, texts

WHY = {100.0: ("speed_rpm", "the bed closes the bowl"), 1000.0: ("d50_um", "the film is thinner than one grain")}


@cache
def lost(value: float) -> Evaluation:
    return evaluate(STUDY.design, STUDY.machine, replace(STUDY.duty, **{WHY[value][0]: value}))


@cache
def holed_map() -> OreMap:
    now = evaluate(STUDY.design, STUDY.machine, STUDY.duty)
    return ore_map(asked(span("speed", 100.0, 700.0, 8), span("d50", 20.0, 900.0, 8), "power_w", None, now), now)


@pytest.mark.parametrize("value", WHY)
def test_strips_hatch_the_tape_and_give_the_reason(value: float) -> None:
    e, reason = lost(value), f"no answer: {WHY[value][1]}"
    scene = Scene(e, STUDY.design, axis())
    tape = gutter(scene, 90.0, 520.0)
    assert any(len(s.ends) > 20 and np.ptp(s.ends[:, 0, 1]) > 300.0 for s in of_kind(tape, Strokes, Role.FAINT))
    section = section_strip(scene, radius_scale(scene, 500.0), 500.0, 532.0)
    assert reason in texts(section)
    assert not any("slurry" in t for t in texts(section))
    assert "no answer" in texts(groove_strip(scene, quantity("groove_ratio"), 224.0, 532.0))
    reading = reading_at(e, 150.0)
    assert reading is not None and reading.remark == reason and reading.state is None


@pytest.mark.parametrize("value", WHY)
def test_files_and_terminal_leave_out_what_is_not_known(value: float) -> None:
    e, reason = lost(value), WHY[value][1]
    answer = json.loads(check_json(e))
    assert all(row["state"] is None and row["overturn_ratio"] is None for row in answer["grooves"])
    assert all(row["surface_radius_mm"] is None and row["repose_deg"] is None for row in answer["wall"])
    assert answer["rotor"] is None or all(v is None for v in answer["rotor"].values())
    assert all(row["wall_angle_deg"] is not None for row in answer["wall"]) and answer["body"]["mass_kg"] > 0.0
    text = check_text(e)
    assert "The model has no answer here" in " ".join(text.split()) and "nan" not in text
    assert not any(f"{reason} J" in text for reason in ("-", "−"))
    table = csv_bytes(e, CsvTable.STATIONS).decode()
    assert f"no answer: {reason}" in table and "nan" not in table
    told = [b.text for b in report_of(e, Job("f", "d", "v")).blocks if isinstance(b, Paragraph)]
    assert any(f"no answer: {reason}" in t for t in told)


def test_a_map_hatches_where_there_is_no_answer_and_its_legend_says_why() -> None:
    m = holed_map()
    picture = ore_map_picture(m, 640.0, 460.0)
    missing = int((~np.isfinite(m.values)).sum())
    assert 0 < missing < m.values.size
    strokes = [s for s in of_kind(picture, Strokes, Role.FAINT) if len(s.ends) == missing]
    assert len(strokes) == 1
    legend = next(t for t in texts(picture) if t.startswith("hatched: "))
    assert "the bed closes the bowl" in legend and "the film is thinner than one grain" in legend
    rows = list(csv.reader(io.StringIO(map_csv(m))))[1:]
    assert sum(row[2] == "" for row in rows) == missing
    assert sum(v is None for line in json.loads(map_json(m))["values"] for v in line) == missing


def test_high_friction_without_an_answer_leaves_the_section_drawn() -> None:
    for friction in np.linspace(0.8, 1.4, 13):
        duty = replace(STUDY.duty, speed_rpm=215.0, friction_high=float(friction))
        e = evaluate(STUDY.design, STUDY.machine, duty)
        if e.flow is not None and e.flow.answers.high_missing[0]:
            break
    else:
        pytest.fail("none was found")
    scene = Scene(e, STUDY.design, axis())
    for picture in (section_strip(scene, radius_scale(scene, 500.0), 500.0, 532.0), gutter(scene, 90.0, 520.0)):
        for kind in (Area, Line, Label, Strokes):
            assert all(np.all(np.isfinite(numbers_in(item))) for item in of_kind(picture, kind))
