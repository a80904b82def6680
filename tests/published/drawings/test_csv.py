"""Tables as Python's csv module reads them (RFC 4180), and the profile rebuilt from its table."""

import csv
import io

import numpy as np
import pytest
from msgspec.structs import replace

from profiler.assess import evaluate
from profiler.geometry.chain import Chain, figures
from profiler.output.tables.tables_csv import CsvOptions, CsvTable, csv_bytes
from profiler.study.files import examples

CHOICES = [CsvOptions(), CsvOptions(";", "."), CsvOptions(";", ","), CsvOptions("\t", ",")]


def evaluated(name="graded"):
    study = examples.read(name)
    return evaluate(study.design, study.machine, study.duty)


PLAIN = CsvOptions()


def rows(data, options=PLAIN):
    text = data.decode("utf-8-sig")
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    found = list(csv.DictReader(io.StringIO("\n".join(lines)), delimiter=options.separator))
    return [{k: v.replace(options.decimal, ".") if options.decimal != "." else v for k, v in r.items()} for r in found]


@pytest.mark.parametrize("name", examples.names())
@pytest.mark.parametrize("options", CHOICES, ids=str)
def test_the_profile_rebuilt_from_its_table_is_the_profile(name, options):
    e = evaluated(name)
    table = rows(csv_bytes(e, CsvTable.OUTLINE, options), options)
    points = np.array([[float(r["start_r_mm"]), float(r["start_z_mm"])] for r in table])
    rebuilt = figures(Chain(points, np.array([float(r["bulge"]) for r in table])))
    wanted = e.shape.figures
    for key in ("area", "length", "volume"):
        assert getattr(rebuilt, key) == pytest.approx(getattr(wanted, key), rel=1e-6)


def test_an_arc_can_be_rebuilt_from_centre_radius_and_turn_alone():
    for r in rows(csv_bytes(evaluated(), CsvTable.OUTLINE)):
        if r["type"] != "ARC":
            assert r["centre_z_mm"] == r["radius_mm"] == ""
            continue
        centre = np.array([float(r["centre_r_mm"]), float(r["centre_z_mm"])])
        start = np.array([float(r["start_r_mm"]), float(r["start_z_mm"])]) - centre
        end = np.array([float(r["end_r_mm"]), float(r["end_z_mm"])]) - centre
        assert [np.hypot(*start), np.hypot(*end)] == pytest.approx([float(r["radius_mm"])] * 2, abs=1e-5)
        turn = start[0] * end[1] - start[1] * end[0]
        assert (turn > 0.0) == (r["turns"] == "CCW")  # every arc here turns less than half round


def test_segments_follow_one_another_round_the_section():
    table = rows(csv_bytes(evaluated(), CsvTable.OUTLINE))
    for a, b in zip(table, [*table[1:], table[0]], strict=True):
        assert (a["end_z_mm"], a["end_r_mm"]) == (b["start_z_mm"], b["start_r_mm"])


def test_stations_and_grooves_say_what_the_evaluation_says():
    e = evaluated()
    stations = rows(csv_bytes(e, CsvTable.STATIONS))
    at = e.shape.stations
    assert [float(r["radius_mm"]) for r in stations] == pytest.approx(at.radius, abs=1e-5)
    grooves = rows(csv_bytes(e, CsvTable.GROOVES))
    assert [int(r["groove"]) for r in grooves] == list(range(1, 15))
    assert [r["state"] for r in grooves] == [""] + ["strong"] * 2 + ["weak"] * 3 + ["matched"] * 5 + ["sheltered"] * 3
    assert {r["mouth_mm"] for r in grooves} == {"8.000"}


def test_a_table_for_spreadsheets_with_decimal_commas_has_a_byte_order_mark():
    assert csv_bytes(evaluated(), CsvTable.GROOVES, CsvOptions(";", ",")).startswith(b"\xef\xbb\xbf")
    assert not csv_bytes(evaluated(), CsvTable.GROOVES).startswith(b"\xef\xbb\xbf")


def test_findings_keep_commas_quotes_and_names():
    study = examples.read("graded")
    design = replace(study.design, name='A "name", with\nall sorts')
    e = evaluate(design, study.machine, study.duty)
    data = csv_bytes(e, CsvTable.FINDINGS)
    assert [r["text"] for r in rows(data)] == [f.text for f in e.findings]
    assert data.decode().splitlines()[0].startswith('# findings of A "name", with all sorts')


@pytest.mark.parametrize(("separator", "decimal"), [(",", ","), ("|", "."), (";", "'")])
def test_marks_that_cannot_work_are_refused(separator, decimal):
    with pytest.raises(ValueError, match=r"separator|decimal"):
        CsvOptions(separator, decimal)
