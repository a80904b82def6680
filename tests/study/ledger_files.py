"""Ledgers as people keep them, invented, and what each must give: the values, or the question, or the problem.

A case is a text (or bytes, or the cells of a workbook), answers given beforehand, and what is expected. Values are by
row of runs and column key, as the ledger writes them. Numbers are worked out by hand from the file; units from their
definitions (troy ounce 31.1034768 g, pound 0.45359237 kg, short ton 2000 lb).
"""

from dataclasses import dataclass, field
from datetime import datetime

from profiler.study.ledger.problems import Kind
from profiler.study.ledger.questions import Doubt
from profiler.study.records.table_reading import TableReading

HEAD = "block,design,feed,rec\n"
PAIRS = HEAD + "1,A,4.12,40.2\n1,B,4.10,41.7\n2,A,3.95,39.8\n2,B,3.97,42.1\n"


@dataclass(frozen=True)
class Ledger:
    text: str | bytes | list[list[object]]  # the last: rows of a workbook
    gives: tuple[tuple[int, str, str], ...] = ()
    asks: Doubt | None = None
    proposes: str = ""  # words of the proposed answer
    problem: Kind | None = None
    runs: int | None = None
    passed: tuple[str, ...] = ()  # why rows were passed over
    said: str = ""  # stands in what is said of the reading
    reading: TableReading = field(default_factory=TableReading)


def answers(**columns: str) -> TableReading:
    """Answers by heading, as 'key' or 'key, unit'; underscores stand for spaces."""
    found = TableReading()
    for heading, meaning in columns.items():
        key, _, unit = meaning.partition(", ")
        found = found.answering(heading.replace("_", " "), key, unit)
    return found


LEDGERS: dict[str, Ledger] = {
    # separators and encodings
    "plain": Ledger(PAIRS, ((0, "recovery_pct", "40.2"), (3, "feed_grade_g_t", "3.97")), runs=4, said="no unit named"),
    "semicolons, comma": Ledger(PAIRS.replace(",", ";").replace(".", ","), ((0, "recovery_pct", "40.2"),), runs=4),
    "tabs": Ledger(PAIRS.replace(",", "\t"), ((1, "recovery_pct", "41.7"),), runs=4),
    "bars": Ledger(PAIRS.replace(",", "|"), ((1, "recovery_pct", "41.7"),), runs=4),
    "sep line": Ledger("sep=;\n" + PAIRS.replace(",", ";"), ((1, "recovery_pct", "41.7"),), runs=4),
    "UTF-8 with mark": Ledger(b"\xef\xbb\xbf" + PAIRS.encode(), ((0, "block", "1"),), runs=4),
    "UTF-16 with mark": Ledger(PAIRS.encode("utf-16"), ((0, "recovery_pct", "40.2"),), runs=4),
    "UTF-16 without mark": Ledger(PAIRS.encode("utf-16-le"), ((0, "recovery_pct", "40.2"),), runs=4),
    "cp1252": Ledger(
        "design,rec,feed f80 (µm)\nA,40.1,152\nB,41.2,149\n".encode("cp1252"), ((0, "feed_f80_um", "152"),)
    ),
    "line ends of old": Ledger(PAIRS.replace("\n", "\r"), ((0, "recovery_pct", "40.2"),), runs=4),
    "quoted heading of two lines": Ledger(
        'design,"rec\n(%)",speed rpm\nA,40.1,640\nB,41.2,640\n', ((0, "recovery_pct", "40.1"), (1, "speed_rpm", "640"))
    ),
    # frames
    "title rows": Ledger(
        "Cone against graded, invented\nMill two, March\n\n" + PAIRS,
        ((0, "recovery_pct", "40.2"),),
        runs=4,
        passed=("before the headings", "before the headings"),
    ),
    "title with commas": Ledger(
        "Trial 7, invented, of March\n" + PAIRS, ((0, "block", "1"),), runs=4, passed=("before the headings",)
    ),
    "unit row": Ledger(
        "design,feed,conc,tail,conc mass,feed mass\n,(g/t),(g/t),(g/t),(g),(kg)\nA,4.1,1400,2.4,1250,1000.5\n",
        ((0, "concentrate_kg", "1.25"), (0, "feed_kg", "1000.5"), (0, "concentrate_g_t", "1400")),
        runs=1,
    ),
    "unit row without brackets": Ledger(
        "design;rec;speed\n-;%;rpm\nA;40,1;640\n", ((0, "recovery_pct", "40.1"),), runs=1
    ),
    "streams above, what below": Ledger(
        "design,Feed,,Conc,,Tail\n,mass kg,grade g/t,mass g,grade g/t,grade g/t\nA,1000.5,4.1,1250,1400,2.4\n",
        ((0, "concentrate_kg", "1.25"), (0, "feed_kg", "1000.5"), (0, "tail_g_t", "2.4")),
        runs=1,
    ),
    "streams above, units below": Ledger(
        "design,Feed,,Conc,,Tail\n,kg,g/t,g,g/t,g/t\nA,1000.5,4.1,1250,1400,2.4\n",
        ((0, "concentrate_kg", "1.25"), (0, "feed_grade_g_t", "4.1"), (0, "tail_g_t", "2.4")),
        runs=1,
    ),
    "mean rows": Ledger(
        PAIRS + "Mean,A,4.03,40.0\nAverage B,B,4.03,41.9\n,Std dev,,0.2\nTotal,,,\n",
        ((3, "recovery_pct", "42.1"),),
        runs=4,
        passed=("of means or totals",) * 4,
    ),
    "headings repeated": Ledger(
        PAIRS + HEAD + "3,A,4.0,40.9\n", ((4, "recovery_pct", "40.9"),), runs=5, passed=("headings repeated",)
    ),
    "a note below": Ledger(PAIRS + "\nPump exchanged on Tuesday\n", runs=4, passed=("of a single cell",)),
    "two lines that could be headings": Ledger(
        "design,rec,speed\nbowl,recovery,rpm speed\nA,40.1,640\nB,41.2,640\n",
        asks=Doubt.HEADINGS,
        proposes="line 1",
    ),
    "the second of them": Ledger(
        "design,rec,speed\nbowl,recovery,rpm speed\nA,40.1,640\nB,41.2,640\n",
        ((0, "recovery_pct", "40.1"),),
        runs=2,
        reading=TableReading(heading_line=2),
        passed=("before the headings",),
    ),
    "no heading known": Ledger("bowl type,caught\nA,40.1\nB,41.2\n", problem=Kind.DESIGN),
    # decimal sign
    "1,450 alone": Ledger(
        "design;conc g/t;tail g/t;feed g/t\nA;1,450;2;4\nB;1,460;2;4\n", asks=Doubt.DECIMAL, proposes="a decimal comma"
    ),
    "1.450 alone, tabs": Ledger("design\tconc g/t\ttail g/t\tfeed g/t\nA\t1.450\t2\t4\n", asks=Doubt.DECIMAL),
    "1.450 alone, semicolons": Ledger("design;conc g/t;tail g/t\nA;1.450;2\n", asks=Doubt.DECIMAL),
    "1,450 in commas": Ledger(
        'design,conc g/t,tail g/t\nA,"1,450",2\n', asks=Doubt.DECIMAL, proposes="a decimal point"
    ),
    "three decimals in commas": Ledger("design,feed g/t,rec %\nA,4.125,40.250\n", ((0, "feed_grade_g_t", "4.125"),)),
    "told by another cell": Ledger(
        "design;conc g/t;tail g/t\nA;1,450;2.4\nB;1,460;2.5\n", ((0, "concentrate_g_t", "1450"), (0, "tail_g_t", "2.4"))
    ),
    "told by both marks": Ledger(
        "design;conc g/t;tail g/t\nA;1.450,5;2.400\n", ((0, "concentrate_g_t", "1450.5"), (0, "tail_g_t", "2400"))
    ),
    "told by two marks": Ledger(
        "design;feed kg;rec %\nA;1.450.000;40\nB;1,450;41\n", ((0, "feed_kg", "1450000"), (1, "feed_kg", "1.45"))
    ),
    "told by a zero": Ledger(
        "design;tail g/t;conc g/t\nA;0,381;1.400\n", ((0, "tail_g_t", "0.381"), (0, "concentrate_g_t", "1400"))
    ),
    "answered": Ledger(
        "design;conc g/t;tail g/t\nA;1,450;2\n", ((0, "concentrate_g_t", "1450"),), reading=TableReading(decimal=".")
    ),
    "both signs and one in doubt": Ledger(
        "design;conc g/t;tail g/t;rec %\nA;1,450;2,4;40\nB;1400;2.4;40\n", asks=Doubt.DECIMAL
    ),
    "both signs, none in doubt": Ledger(
        "design;tail g/t;rec %\nA;2,4;40.2\nB;2.5;41,3\n",
        ((0, "tail_g_t", "2.4"), (1, "recovery_pct", "41.3")),
        said="both decimal signs",
    ),
    "against the answer": Ledger(
        "design;conc g/t;tail g/t\nA;1,450;2.4\n",
        ((0, "concentrate_g_t", "1.45"),),
        reading=TableReading(decimal=","),
        said="shows the other",
    ),
    "groups by space and apostrophe": Ledger(
        "design;conc g/t;feed kg;rec %\nA;1 450,5;1'000;40,2\n",
        ((0, "concentrate_g_t", "1450.5"), (0, "feed_kg", "1000")),
    ),
    # dates
    "day first, told": Ledger("design,date,rec %\nA,13/04/2031,40\nB,03/04/2031,41\n", ((1, "started", "2031-04-03"),)),
    "month first, told": Ledger(
        "design,date,rec %\nA,04/13/2031,40\nB,04/03/2031,41\n", ((1, "started", "2031-04-03"),)
    ),
    "points are day first": Ledger("design,date,rec %\nA,3.4.2031 8:30,40\n", ((0, "started", "2031-04-03T08:30"),)),
    "either order": Ledger(
        "design,date,rec %\nA,03/04/2031,40\nB,04/04/2031,41\n", asks=Doubt.DATES, proposes="day, month, year"
    ),
    "either, ascending by months": Ledger(
        "design,date,rec %\nA,03/11/2031,40\nB,03/12/2031,41\nA,04/01/2031,40\n",
        asks=Doubt.DATES,
        proposes="month, day, year",
    ),
    "order answered": Ledger(
        "design,date,rec %\nA,03/04/2031,40\n", ((0, "started", "2031-03-04"),), reading=TableReading(dates="mdy")
    ),
    "the same either way": Ledger("design,date,rec %\nA,03/03/2031,40\n", ((0, "started", "2031-03-03"),)),
    "days of a spreadsheet": Ledger(
        "design,date,rec %\nA,45000,40\nB,45000.5,41\n",
        ((0, "started", "2023-03-15"), (1, "started", "2023-03-15T12:00")),
    ),
    "month named": Ledger(
        "design,date,rec %\nA,3 Mar 2031,40\nB,4-Mar-31,41\n",
        ((0, "started", "2031-03-03"), (1, "started", "2031-03-04")),
    ),
    "date and time apart": Ledger(
        "design,date,time,rec %\nA,2031-03-03,8:30,40\n", ((0, "started", "2031-03-03T08:30"),)
    ),
    "time of a spreadsheet": Ledger(
        "design,date,time,rec %\nA,45000,0.354166667,40\n", ((0, "started", "2023-03-15T08:30"),)
    ),
    "times alone": Ledger("design,time,rec %\nA,8:30,40\nB,9:30,41\n", ((0, "started", ""),), said=""),
    "a time that is a duration": Ledger(
        "design,time,rec %\nA,45,40\nB,50,41\n", asks=Doubt.MEANING, proposes="cycle, min"
    ),
    "no date": Ledger("design,date,rec %\nA,yesterday,40\n", problem=Kind.DATE),
    # units
    "bare concentrate mass": Ledger(
        "design,conc mass,conc g/t,tail g/t\nA,1250,1400,2.4\nB,1300,1390,2.5\n",
        asks=Doubt.UNIT,
        proposes="concentrate mass, g",
    ),
    "bare mass, small": Ledger(
        "design,conc wt,conc g/t,tail g/t\nA,1.25,1400,2.4\n", asks=Doubt.UNIT, proposes="concentrate mass, kg"
    ),
    "mass answered": Ledger(
        "design,conc mass,conc g/t,tail g/t\nA,1250,1400,2.4\n",
        ((0, "concentrate_kg", "1.25"),),
        reading=answers(conc_mass="concentrate_kg, g"),
    ),
    "units in the cells": Ledger(
        "design,conc mass,conc g/t,tail g/t\nA,1250 g,1400,2.4\nB,1.3 kg,1390,2.5\n",
        ((0, "concentrate_kg", "1.25"), (1, "concentrate_kg", "1.3")),
    ),
    "bare feed with masses": Ledger("design,feed,conc kg,conc g/t,tail g/t\nA,1000,1.2,1400,2.4\n", asks=Doubt.MEANING),
    "bare feed, tonnes an hour?": Ledger("design,feed,rec %\nA,650,40.2\nB,660,41.1\n", asks=Doubt.MEANING),
    "bare streams": Ledger("design,feed,conc,tail\nA,4.1,1400,2.4\n", asks=Doubt.MEANING),
    "pounds": Ledger("design,conc (lb),conc g/t,tail g/t\nA,2,1400,2.4\n", ((0, "concentrate_kg", "0.90718474"),)),
    "ounces a ton": Ledger("design,feed oz/t,rec %\nA,0.12,40\n", asks=Doubt.UNIT, proposes="feed grade, oz/short ton"),
    "ounces a short ton": Ledger("design,feed oz/st,rec %\nA,0.12,40\n", ((0, "feed_grade_g_t", "4.11428571429"),)),
    "ounces a tonne, answered": Ledger(
        "design,feed oz/t,rec %\nA,0.12,40\n",
        ((0, "feed_grade_g_t", "3.732417216"),),
        reading=answers(**{"feed oz/t": "feed_grade_g_t, oz/tonne"}),
    ),
    "tons": Ledger("design,feed mass tons,rec %\nA,12,40\n", asks=Doubt.UNIT),
    "grade in per cent": Ledger("design,conc grade %,tail ppm\nA,1.4,2.4\n", ((0, "concentrate_g_t", "14000"),)),
    "concentrate in per cent": Ledger("design,conc %,rec %\nA,0.12,40\n", asks=Doubt.MEANING, proposes="mass pull, %"),
    "recovery as a fraction?": Ledger("design,rec\nA,0.37\nB,0.41\n", asks=Doubt.UNIT, proposes="recovery, fraction"),
    "per cent in the cells": Ledger("design,rec\nA,37 %\nB,41%\n", ((0, "recovery_pct", "37"),)),
    "millimetres?": Ledger("design,F80,rec %\nA,0.15,40\nB,0.16,41\n", asks=Doubt.UNIT, proposes="feed f80, mm"),
    "unknown unit": Ledger("design,rec (stones)\nA,40\n", problem=Kind.COLUMN),
    "unknown unit in a cell": Ledger("design,rec %,feed g/t\nA,40,4 stones\n", problem=Kind.UNIT),
    "assays alone": Ledger(
        "design,feed g/t,conc g/t,tail g/t\nA,4.1,1400,2.4\n",
        ((0, "feed_g_t", "4.1"), (0, "feed_grade_g_t", "")),
        said="the balance's own feed assay",
    ),
    "feed and concentrate": Ledger(
        "design,feed kg,feed g/t,conc kg,conc g/t\nA,1000,4.1,1.2,1400\n", ((0, "feed_g_t", "4.1"),)
    ),
    # cells
    "below the limit": Ledger(
        "design,conc g/t,tail g/t\nA,1400,<0.05\n",
        ((0, "tail_g_t", "0.025"), (0, "remarks", "tail assay <0.05: half the limit taken")),
        said="1 below the limit",
    ),
    "above the limit": Ledger("design,conc g/t,tail g/t\nA,>10000,2.4\n", problem=Kind.LIMIT),
    "a word for a number": Ledger("design,rec %\nA,lost\nB,41\n", problem=Kind.NUMBER),
    "a word for nothing": Ledger(
        "design,rec %,tail g/t\nA,40,lost\n",
        ((0, "tail_g_t", ""), (0, "recovery_pct", "40")),
        reading=TableReading(empty=("lost",)),
    ),
    "a fraction among per cents": Ledger(PAIRS + "3,A,4.0,0.381\n", asks=Doubt.FAR),
    "kilograms among grams": Ledger(
        "design,conc (g),conc g/t,tail g/t\nA,1250,1400,2\nB,1.3,1400,2\nA,1280,1400,2\n", asks=Doubt.FAR
    ),
    "far, but meant": Ledger(
        PAIRS + "3,A,4.0,0.381\n", ((4, "recovery_pct", "0.381"),), runs=5, reading=TableReading(as_typed=("rec",))
    ),
    "too large": Ledger("design,rec %,feed g/t\nA,40,1e308\n", problem=Kind.BOUNDS),
    "beyond its bounds": Ledger("design,rec %\nA,140\n", problem=Kind.BOUNDS),
    "assays and their repeats": Ledger(
        "design,rec %,tail g/t,tail g/t dup\nA,40,2.4 / 2.6,2.5\n", ((0, "tail_g_t", "2.4 / 2.6 / 2.5"),)
    ),
    "written once": Ledger(
        "pair,design,rec %\n1,A,40\n,B,41\n2,A,40\n,B,42\n", asks=Doubt.BLANKS, proposes="the same as above"
    ),
    "written once, answered": Ledger(
        "pair,design,rec %\n1,A,40\n,B,41\n", ((1, "block", "1"),), reading=TableReading(blanks="above")
    ),
    # headings
    "other words": Ledger(
        "Treatment,Lot,Gravity recovery %,Head grade Au (g/t)\nA,1,40,4.1\n",
        ((0, "design", "A"), (0, "feed_grade_g_t", "4.1")),
    ),
    "words turned round": Ledger(
        "bowl,grade of tails g/t Au,Weight of concentrate (g),Au conc ppm\nA,2.4,1250,1400\n",
        ((0, "tail_g_t", "2.4"), (0, "concentrate_kg", "1.25"), (0, "concentrate_g_t", "1400")),
    ),
    "two note columns": Ledger("design,rec %,Notes,Comments\nA,40,pump,screen\n", ((0, "remarks", "pump; screen"),)),
    "two recoveries": Ledger("design,rec %,recovery %\nA,40,41\n", asks=Doubt.SECOND, proposes="“rec %”"),
    "the same twice": Ledger("design,rec %,recovery %\nA,40,40\n", ((0, "recovery_pct", "40"),), said=""),
    "a wet mass is not dry": Ledger("design,conc mass wet kg,rec %\nA,1.2,40\n", ((0, "concentrate_kg", ""),)),
    "a run twice": Ledger("run,design,rec %\n1,A,40\n1,B,41\n", problem=Kind.NAME),
    "runs that are pairs": Ledger(
        "run,design,rec %\n1,A,40\n1,B,41\n", ((1, "block", "1"), (1, "run", "2")), reading=answers(run="block")
    ),
    "no design in a row": Ledger("design,rec %\nA,40\n,41\nB,42\nA,43\n", problem=Kind.DESIGN),
    "cells without headings": Ledger("design,rec %\nA,40,7\n", problem=Kind.WIDTH),
    "a column without a heading": Ledger(
        ",design,rec %\n0,A,40\n1,B,41\n", ((1, "recovery_pct", "41"),), runs=2, said="column 1 has no heading"
    ),
    # workbooks
    "workbook": Ledger(
        [
            ["Invented trial"],
            [],
            ["design", "date", "conc (g)", "conc g/t", "tail g/t"],
            ["A", datetime(2031, 4, 3, 8, 30), 1250, 1450.125, 2.4],
            ["B", datetime(2031, 4, 4), 1300, "1,450", 2.5],
        ],
        asks=Doubt.DECIMAL,
        passed=("before the headings",),
    ),
    "workbook of numbers": Ledger(
        [
            ["design", "date", "conc (g)", "conc g/t", "tail g/t"],
            ["A", datetime(2031, 4, 3, 8, 30), 1250, 1450.125, 2.4],
        ],
        ((0, "started", "2031-04-03 08:30"), (0, "concentrate_g_t", "1450.125"), (0, "concentrate_kg", "1.25")),
    ),
}
