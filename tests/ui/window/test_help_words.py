"""What a student or a designer types into the help lands on a page that answers, and the pages about it stay true."""

import re
from string import Formatter

import numpy as np
import pytest
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from profiler.assess import evaluate
from profiler.assess.quantities.glossary import ALSO, GLOSSARY
from profiler.assess.quantities.table import QUANTITIES
from profiler.lessons import LESSONS, how_far, how_sure, thicker_feed, who_holds
from profiler.physics.slurry.overturn import State
from profiler.study.files.examples import DEFAULT, read
from profiler.ui.actions import ACTIONS
from profiler.ui.forms import body_group, duty_group, groove_group, machine_group, spin_group, wall_group, water_group
from profiler.ui.help import help_window, walks
from profiler.ui.help.help_search import Sought, search, sought
from profiler.ui.help.help_window import CAUTIONS, FILES, KEYS_PAGE, START, STUDY_FILE, WORDS, pages, subjects
from profiler.ui.help.record_page import WALK, RecordBrowser
from profiler.ui.help.subjects import (
    EDDIES,
    LEARNING,
    OF_QUANTITIES,
    PROVING,
    RETROFIT,
    SIZES,
    SUBJECTS,
    SURE,
    SYMBOLS_PAGE,
)
from profiler.ui.key_sections import key_sections
from profiler.ui.page_stack import PAGES
from tests.lessons.test_lessons import NUMBER_WORD

REPOSE, WALL = "Repose angle (along the wall)", "Wall angle (along the wall)"
PULL = "Acceleration (along the wall)"

TYPED: tuple[tuple[str, str], ...] = (  # what is typed, the page found first
    # a student
    ("eddy", EDDIES), ("eddies", EDDIES), ("Eddy ", EDDIES), ("vortex", EDDIES), ("vortices", EDDIES),
    ("turbulence", EDDIES), ("recirculation", EDDIES), ("mixing", EDDIES), ("boil", EDDIES), ("packing", EDDIES),
    ("compaction", EDDIES), ("rolling", EDDIES), ("thick feed", EDDIES), ("theory", EDDIES), ("student", EDDIES),
    ("why does an eddy form", EDDIES), ("when does the eddy stop", EDDIES), ("swirl", WORDS), ("whirl", WORDS),
    ("uncertainty", SURE), ("uncertain", SURE), ("error", SURE), ("accuracy", SURE), ("confidence", SURE),
    ("reliable", SURE), ("how sure", SURE), ("calibration", SURE), ("calibrate", SURE), ("precision", SURE),
    ("validation", "The model's record"), ("evidence", "The model's record"), ("flume", "The model's record"),
    ("angle of repose", REPOSE), ("beach angle", REPOSE), ("repose angle", WORDS), ("repose band", WORDS),
    ("g-force", PULL), ("g force", PULL), ("centrifugal", PULL), ("rcf", PULL), ("gravity", PULL),
    ("percent solids", "Solids by volume, delivered (along the wall)"),
    ("pulp density", "Solids by volume, delivered (along the wall)"),
    ("dilution", "Solids by volume, delivered (along the wall)"),
    ("overturn ratio", WORDS), ("overfall", WORDS), ("film lag", WORDS), ("friction", WORDS), ("matched", WORDS),
    ("sheltered", WORDS), ("exposed", WORDS), ("buried", WORDS), ("finding", WORDS), ("lip", WORDS),
    ("rim speed", "Rim speed (of the bowl)"),
    ("groove", WORDS), ("land", WORDS), ("pitch", WORDS), ("mouth", WORDS), ("knot", WORDS), ("corner", WORDS),
    ("seat", WORDS), ("jacket", WORDS), ("riffle", WORDS), ("spline", WORDS), ("duty", WORDS), ("study", WORDS),
    ("glossary", WORDS), ("nomenclature", WORDS), ("lesson", LEARNING), ("lessons", LEARNING), ("learn", LEARNING),
    ("symbol", SYMBOLS_PAGE), ("theta", SYMBOLS_PAGE), ("sigma", SYMBOLS_PAGE), ("formula", SYMBOLS_PAGE),
    # a designer
    ("retrofit", RETROFIT), ("existing bowl", RETROFIT), ("new design", RETROFIT), ("liner", RETROFIT),
    ("step by step", RETROFIT), ("walk-through", RETROFIT), ("walk through", RETROFIT), ("workflow", RETROFIT),
    ("taper", WALL), ("cone angle", WALL), ("face angle", WALL), ("wall thickness", "Wall behind (of each groove)"),
    ("spacing of grooves", "Land above (of each groove)"), ("fluidising water", WORDS),
    ("fluidisation", "Water (of each groove)"), ("fluidization", "Water (of each groove)"),
    ("minimum fluidisation", "Minimum fluidising velocity (of each groove)"),
    ("packed bed", "Velocity ratio (of each groove)"), ("back pressure", "Back pressure (of each groove)"),
    ("residence time", "Residence time of the film, short (of the bowl)"), ("capacity", "Capacity (of each groove)"),
    ("size distribution", WORDS), ("particle size", SIZES), ("p80", SIZES), ("sieve", WORDS), ("slimes", SIZES),
    ("stress", "Shell stress, thick ring (of the bowl)"), ("safety factor", "Shell strength factor (of the bowl)"),
    ("buckling", "Bare bowl buckles at, low (of the bowl)"), ("vibration", "Permitted unbalance (of the bowl)"),
    ("motor", "Power into the feed (of the bowl)"), ("stored energy", "Kinetic energy (of the bowl)"),
    ("casting", FILES), ("mould", FILES), ("mold", FILES), ("pattern maker", FILES), ("lathe", FILES), ("cad", FILES),
    ("dxf", START), ("stl", FILES), ("mesh", FILES), ("report", FILES), ("export", FILES), ("template", FILES),
    ("safety", CAUTIONS), ("guard", CAUTIONS), ("hazard", CAUTIONS), ("viscosity", CAUTIONS), ("clay", CAUTIONS),
    ("trial", PROVING), ("significance", PROVING), ("sampling", PROVING), ("assay", PROVING), ("gold", PROVING),
    ("recovery", PROVING), ("statistics", PROVING), ("pilot", PROVING),
    ("shortcut", KEYS_PAGE), ("keyboard", KEYS_PAGE), ("undo", KEYS_PAGE), ("zoom", KEYS_PAGE), ("inches", START),
    ("file format", FILES), ("json", STUDY_FILE), ("feed rate", STUDY_FILE), ("throughput", STUDY_FILE),
    ("strainer", STUDY_FILE), ("deflector", STUDY_FILE), ("tutorial", START), ("getting started", START),
)  # fmt: skip


@pytest.fixture(scope="module")
def made() -> dict[str, str]:
    return pages(key_sections())


@pytest.fixture(scope="module")
def read_pages(made: dict[str, str]) -> tuple[Sought, ...]:
    return sought({title: help_window._plain(page) for title, page in made.items()}, subjects())


@pytest.mark.parametrize(("typed", "title"), TYPED, ids=[typed for typed, _ in TYPED])
def test_what_is_typed_lands_on_a_page_that_answers(read_pages, typed: str, title: str) -> None:
    found = search(typed, read_pages)
    assert found.titles and found.titles[0] == title, found
    assert found.word in next(p.text for p in read_pages if p.title == title)  # there is something to mark


def test_a_word_of_nobody_finds_nothing_and_no_word_finds_everything(read_pages) -> None:
    assert search("cellpadding", read_pages).titles == () and search("qwertz", read_pages).titles == ()
    assert len(search("", read_pages).titles) == len(read_pages)


def test_subjects_stand_below_the_page_they_lead_to(made: dict[str, str]) -> None:
    assert set(SUBJECTS) <= set(made) and set(OF_QUANTITIES) <= {q.key for q in QUANTITIES}
    assert set(ALSO) <= {t.word for t in GLOSSARY}
    for title, words in SUBJECTS.items():
        assert ", ".join(words) in made[title].replace("&#x27;", "'")
        assert len(set(words)) == len(words) and all(w == w.lower() for w in words)


def test_the_window_lists_what_the_search_found_and_marks_the_form_it_found(qtbot: QtBot) -> None:
    window = help_window.HelpWindow(key_sections())
    qtbot.addWidget(window)
    window.show()
    window.wanted.setText("Vortices")
    assert window.list.item(0).text() == EDDIES and len(window.hits.places) > 0
    assert {m.cursor.selectedText().lower() for m in window.text.extraSelections()} == {"vortex"}


# The pages that walk through: nothing in them is typed that the program could tell

WALKS = {
    "eddies": walks.eddy_numbers,
    "retrofit": walks.retrofit_numbers,
    "sure": dict,
    "proving": dict,
    "lessons": dict,
}


@pytest.mark.parametrize("name", WALKS)
def test_no_number_is_typed_into_a_walk_through(name: str) -> None:
    parts = list(Formatter().parse(help_window._prose(name)))
    assert {field for _, field, _, _ in parts if field} == set(WALKS[name]())
    for text, _, _, _ in parts:
        plain = re.sub(r"<[^>]*>|\btwo (lands|bowls)\b", "", text)
        assert NUMBER_WORD.search(plain) is None, plain


def test_what_stands_bold_in_a_walk_through_is_called_so_in_the_window(made: dict[str, str]) -> None:
    groups = (body_group, duty_group, groove_group, machine_group, spin_group, wall_group, water_group)
    titles = {getattr(cls, "title", "") for g in groups for cls in vars(g).values() if isinstance(cls, type)}
    known = {p.title for p in PAGES} | {a.plain for a in ACTIONS} | titles | set(made) | {"Edit", "Why?"}
    known |= {w for t in GLOSSARY for w in t.word.split(", ")} | {x.title for x in LESSONS}
    for name in WALKS:
        bold = re.findall(r"<b>([^<]+)</b>", help_window._prose(name))
        names = [" ".join(b.split()) for b in bold if not b.endswith((".", "repose"))]  # sentences lead a paragraph
        assert [b for b in names if b not in known and b != "The verdict"] == []


def test_the_first_page_leads_to_the_two_that_walk_through(made: dict[str, str]) -> None:
    first = " ".join(made[START].split())
    assert f"<b>{RETROFIT}</b>" in first and f"<b>{EDDIES}</b>" in first


def test_every_picture_of_the_pages_is_drawn_from_the_program(qtbot: QtBot, made: dict[str, str]) -> None:
    browser = RecordBrowser()
    qtbot.addWidget(browser)
    names = re.findall(rf"src='({WALK}[a-z]+)'", made[EDDIES] + made[RETROFIT])
    assert len(names) == len(set(names)) == 6
    for name in names:
        image = browser.loadResource(2, name)
        assert isinstance(image, QImage)
        colours = {image.pixel(x, y) for x in range(0, image.width(), 9) for y in range(0, image.height(), 9)}
        assert len(colours) > 8, name
    with pytest.raises(KeyError):
        walks.picture("gone", 100.0, 100.0)


def test_the_eddy_drawn_is_one_that_the_program_found() -> None:
    found = walks._flowing()
    assert found.case is not None and found.reason == "" and found.groove == how_far.WATCHED
    assert found.case.circulation is not None and found.case.reach > 0.0


def test_the_students_page_tells_what_is_so() -> None:
    """Worked out anew from the lessons' bowls, by other ways than the page's own."""
    said = walks.eddy_numbers()
    cone = evaluate(how_far.LESSON.study().design, how_far.LESSON.study().machine, how_far.LESSON.study().duty)
    at = how_far.WATCHED - 1
    assert said["cone_fall"] == f"{1e3 * cone.flow.groove_overfall[0, 1, at]:.2f} mm"
    assert said["cone_ratio"] == f"{cone.flow.groove_ratio[0, at]:.2f}"
    assert float(said["cone_repose"][:-1]) < float(said["cone_wall"][:-1])
    held = evaluate(who_holds.LESSON.study().design, who_holds.LESSON.study().machine, who_holds.LESSON.study().duty)
    assert float(said["held_at"][:-3]) > 186.0 and float(said["held_above"][:-1]) < float(said["held_repose"][:-1])
    assert said["held_free"] == "1 groove" and int(np.sum(held.flow.groove_overfall[0, 1, :7] > 0.0)) == 1
    feed = thicker_feed.LESSON.study()
    duties = [feed.duty.having("solids_pct", solids) for solids in (28.0, walks.THICK)]
    found = [evaluate(feed.design, feed.machine, duty).flow.groove_overfall[0, 1] for duty in duties]
    falling = [int(np.sum(fall > 0.0)) for fall in found]
    assert [int(said[k].split()[0]) for k in ("thin_free", "thick_free")] == falling and falling[0] > falling[1]
    sure = how_sure.LESSON.study()
    state = evaluate(sure.design, sure.machine, sure.duty).flow.groove_state[0]
    assert int(said["band_matched"]) == int(np.sum(state == State.MATCHED))
    assert int(said["band_calm"]) == int(np.sum(state == State.SHELTERED))
    assert 0.0 < float(said["coarse_repose"][:-1]) - float(said["fine_repose"][:-1]) < 2.0  # "weakly"


def test_the_designers_page_tells_what_is_so() -> None:
    said = walks.retrofit_numbers()
    study = read(DEFAULT)
    state = evaluate(study.designs[0], study.machine, study.duties[0]).flow.groove_state[0]
    counts = [int(word.split()[0]) for word in said["states"].split(", ")]
    assert counts == [int(np.sum(state == s)) for s in sorted(State, reverse=True)] and sum(counts) == len(state)
    assert study.designs[0].name in said["new"] and study.designs[1].name in said["old"]
    faulty = read("faulty")
    findings = evaluate(faulty.design, faulty.machine, faulty.duty).findings
    assert findings[0].text == said["worst"] and int(said["stops"]) > 0
