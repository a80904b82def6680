"""The trials page: every change is one undo step, refusals are said, and a run leads to its design."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QItemSelectionModel, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from profiler.assess.trials.planning import Question
from profiler.pictures.charts import trial_charts
from profiler.study import fields_of
from profiler.study.files import examples
from profiler.study.ledger.columns import COLUMNS
from profiler.study.records.trial import Plan, WorthInputs
from profiler.ui.dialogs import ask_file, dialogs
from profiler.ui.document.document import Document
from profiler.ui.trials import trial_import
from profiler.ui.trials.trial_ledger import FLAGS, KEYS, USED
from profiler.ui.trials.trials import TrialsPage
from profiler.ui.widgets.theme import DARK, LIGHT, dress, rules
from profiler.ui.work.jobs import Jobs

TABLE = "run\tdesign\tblock\tfeed\trec\n" + "\n".join(
    f"{design}{i}\t{design}\t{i}\t{4 + i / 10:g}\t{40 + i * 0.7 + gain * (1 + i % 3):g}".replace(".", ",")
    for i in range(8)
    for design, gain in (("A", 0.0), ("B", 1.1))
)


class Bench:
    """One page on one study."""

    def __init__(self, qtbot, study):
        dress(QApplication.instance(), LIGHT)
        self.document, self.jobs, self.said = Document(study), Jobs(), []
        self.document.announced.connect(self.said.append)
        self.page = TrialsPage(self.document, self.jobs)
        qtbot.addWidget(self.page, before_close_func=lambda _: self.jobs.close())
        self.qtbot = qtbot
        self.page.setStyleSheet(rules(LIGHT))
        self.page.resize(1280, 690)
        self.page.show()
        qtbot.waitExposed(self.page)
        self.page.activated()
        self.settle()

    @property
    def trial(self):
        return self.page.trial

    @property
    def steps(self):
        return self.document.undo_stack.index()

    def settle(self):
        self.document.flush()
        QApplication.processEvents()
        self.qtbot.waitUntil(lambda: not self.jobs.busy, timeout=5000)
        for _ in range(3):
            QApplication.processEvents()

    def undo(self):
        self.document.undo_stack.undo()
        self.settle()

    def choose(self, *rows):
        self.page.parts.ledger.clearSelection()
        for row in rows:
            index = self.page.parts.model.index(row, 0)
            flags = QItemSelectionModel.SelectionFlag.Select | QItemSelectionModel.SelectionFlag.Rows
            self.page.parts.ledger.selectionModel().select(index, flags)

    def type_cell(self, row, key, text):
        index = self.page.parts.model.index(row, KEYS.index(key))
        self.page.parts.model.setData(index, text)
        self.settle()

    def cell(self, row, key):
        return self.page.parts.model.index(row, KEYS.index(key)).data()


@pytest.fixture
def bench(qtbot):
    return Bench(qtbot, examples.read("trial"))


@pytest.fixture
def empty(qtbot):
    return Bench(qtbot, examples.read("graded"))


def test_the_heading_is_the_verdict_with_its_interval(bench):
    assert bench.page.found.judgement.verdict.difference_text in bench.page.parts.heading.text()
    assert "95 % interval" in bench.page.parts.heading.text()
    assert bench.page.parts.model.rowCount() == len(bench.trial.runs)
    balances = bench.page.found.balances
    assert bench.cell(0, USED) == f"{balances.recovery_pct[0]:.2f} ± {balances.recovery_half_pct(0):.2f}"


def test_an_import_is_one_undo_step(bench):
    before = bench.document.study
    bench.page.importing.from_text(TABLE)
    assert bench.page.parts.stack.currentWidget() is bench.page.importing.panel
    assert bench.document.study is before  # a preview changes nothing
    QTest.mouseClick(bench.page.importing.panel.take, Qt.MouseButton.LeftButton)
    bench.settle()
    assert len(bench.trial.runs) == 26 + 16 and bench.steps == 1
    assert bench.document.undo_stack.undoText() == "Import 16 runs"
    assert bench.page.parts.stack.currentIndex() == 0
    bench.undo()
    assert bench.document.study == before


def test_an_import_into_a_study_without_trials_makes_one_and_reads_its_layout(empty):
    assert "No trial yet" in empty.page.parts.heading.text()
    empty.page.importing.from_text(TABLE)
    empty.page.importing.panel.take.click()
    empty.settle()
    assert empty.steps == 1 and empty.trial.plan.structure == "pairs"
    assert empty.trial.plan.basis == "recoveries as entered"
    assert empty.page.found.judgement is not None
    empty.undo()
    assert empty.trial is None and "No trial yet" in empty.page.parts.heading.text()


def test_a_cancelled_import_changes_nothing(bench):
    bench.page.importing.from_text(TABLE)
    bench.page.importing.panel.cancel.click()
    assert bench.steps == 0 and bench.page.parts.stack.currentIndex() == 0


def test_the_preview_names_every_problem_by_its_line_and_takes_the_rest(bench):
    bench.page.importing.from_text("design,rec\nA,40\nB,abc\nB,141\nB,42\n")
    panel = bench.page.importing.panel
    assert "line 3, rec: “abc” is not a number. To go on: correct the cell, or take" in panel.problems.text()
    assert "line 4, rec: Recovery is 141.00 %" in panel.problems.text()
    assert panel.take.text() == "Import 2 runs"
    panel.take.click()
    bench.settle()
    assert [run.recovery_pct for run in bench.trial.runs[-2:]] == [40.0, 42.0]


def test_a_column_is_matched_by_hand(bench):
    bench.page.importing.from_text("bowl type,caught\nA,40\nB,42\n")
    panel = bench.page.importing.panel
    assert not panel.take.isEnabled() and "design" in panel.words.text()
    mean(panel, "bowl type", "design")
    mean(panel, "caught", "recovery_pct")
    assert panel.take.isEnabled() and [run.design for run in bench.page.importing.seen.runs] == ["A", "B"]
    mean(panel, "caught", "")
    assert not panel.take.isEnabled()


def mean(panel, heading, key):
    """Choose what a heading is taken as, in its box."""
    combo = panel.columns.combos[heading]
    combo.setCurrentIndex(combo.findData(key))
    combo.activated.emit(combo.currentIndex())


DOUBTFUL = "design\tconc wt\tconc g/t\ttail g/t\n" + "".join(
    f"{'AB'[i % 2]}\t{1200 + 7 * i}\t1400\t2.{i}\n" for i in range(8)
)


def test_a_doubt_is_answered_by_one_button_and_kept_for_the_next_file(empty):
    empty.page.importing.from_text(DOUBTFUL)
    panel = empty.page.importing.panel
    assert not panel.take.isEnabled() and "1 question first" in panel.words.text()
    assert not empty.page.parts.pictures.isVisible()
    first = panel.questions.buttons[0]
    assert first.text().startswith("concentrate mass, g: 1224 becomes 1.224 kg") and "proposed" in first.text()
    first.click()
    assert panel.take.isEnabled() and not panel.questions.isVisible()
    rows = panel.rows
    assert (rows.item(0, 1).text(), rows.item(1, 1).text()) == ("1200", "1.2")
    panel.take.click()
    empty.settle()
    assert empty.trial.runs[0].concentrate.mass_kg == 1.2 and empty.steps == 1
    empty.page.importing.from_text(DOUBTFUL)
    assert panel.shown.questions == () and panel.joins
    assert panel.shown.rows[0].read[1] == "1.2"
    panel.into.setCurrentIndex(1)
    panel.take.click()
    empty.settle()
    assert [len(trial.runs) for trial in empty.document.study.trials] == [8, 8]
    assert empty.trial.name == "Imported trial 2"


def test_headings_named_by_hand_are_known_again_where_asked(empty, tmp_path, monkeypatch):
    monkeypatch.setattr(trial_import.folders, "lists", lambda: tmp_path)
    empty.page.importing.from_text("bowl type,caught %\nA,40\nB,42\n")
    panel = empty.page.importing.panel
    mean(panel, "bowl type", "design")
    mean(panel, "caught %", "recovery_pct")
    assert panel.remember.isVisible()
    panel.remember.setChecked(True)
    panel.take.click()
    empty.settle()
    assert (tmp_path / trial_import.FILE_NAME).exists()
    empty.page.importing.from_text("bowl type,caught %,speed rpm\nA,40,640\n")
    assert panel.take.isEnabled() and panel.shown.columns[0].key == "design"
    (tmp_path / trial_import.FILE_NAME).write_text("{", "utf-8")
    empty.page.importing.from_text(TABLE)
    assert "is not a list of headings" in empty.said[-1]


def test_a_workbook_is_read_beside_the_window(bench, tmp_path, monkeypatch):
    from openpyxl import Workbook

    book = Workbook()
    for sheet in (book.active, book.create_sheet("Second")):
        for row in (["design", "rec %"], ["A", 40.125], ["B", 41.5]):
            sheet.append(row)
    book["Second"]["B2"] = 44.5
    book.save(tmp_path / "runs.xlsx")
    monkeypatch.setattr(dialogs, "ask_table", lambda parent: tmp_path / "runs.xlsx")
    bench.page.importing.from_file()
    bench.settle()
    panel = bench.page.importing.panel
    assert panel.shown.questions[0].doubt == "sheet"
    panel.questions.buttons[1].click()
    bench.settle()
    assert [run.recovery_pct for run in bench.page.importing.seen.runs] == [44.5, 41.5]
    assert panel.take.isEnabled()


def test_size_classes_are_imported_as_one_step(bench):
    from profiler.output.tables.trial_csv import sizes_csv

    text = sizes_csv(bench.trial)
    bare = replace(bench.trial, runs=tuple(replace(run, sizes=()) for run in bench.trial.runs))
    full = bench.trial
    assert bench.page.editor.edit(lambda _: bare, "Bare")
    bench.settle()
    assert bench.page.found.sizes is None
    bench.page.importing.from_text(text)
    panel = bench.page.importing.panel
    assert "130 classes of 26 runs" in panel.words.text() and not panel.into.isVisible()
    panel.take.click()
    bench.settle()
    assert bench.trial == full and bench.steps == 2
    assert bench.page.found.sizes is not None


def test_what_is_no_table_is_said(bench):
    bench.page.importing.from_text("")
    assert bench.said[-1] == "The table is empty." and bench.steps == 0


def test_leaving_a_run_out_needs_a_reason(bench):
    bench.choose(0, 1)
    bench.page._exclude()
    assert bench.steps == 0 and "only with a reason" in bench.said[-1]
    bench.page.parts.reason.setText("wrong screen")
    bench.page._exclude()
    bench.settle()
    assert bench.steps == 1 and [run.exclusion_reason for run in bench.trial.runs[:2]] == ["wrong screen"] * 2
    assert "3 left out" in bench.page.parts.counted.text() and bench.page.parts.reason.text() == ""
    bench.undo()
    assert not bench.trial.runs[0].excluded


def test_a_run_is_taken_back(bench):
    bench.choose(9)
    bench.page.editor.take_back(bench.page.parts.ledger.rows)
    bench.settle()
    assert bench.steps == 1 and not bench.trial.runs[9].excluded


def test_without_a_chosen_run_nothing_is_left_out(bench):
    bench.page.parts.ledger.clearSelection()
    bench.page.parts.reason.setText("pump")
    bench.page._exclude()
    assert bench.steps == 0 and "Choose the runs" in bench.said[-1]


def test_a_typed_cell_is_one_undo_step_and_a_new_verdict(bench):
    before = bench.page.found.judgement.comparison.difference
    bench.type_cell(0, "tail_kg", "900,5")
    assert bench.trial.runs[0].tail.mass_kg == 900.5 and bench.steps == 1
    assert bench.page.found.judgement.comparison.difference != before
    assert bench.cell(0, FLAGS) != ""  # masses that do not close
    bench.undo()
    assert bench.page.found.judgement.comparison.difference == before


def test_a_cell_that_cannot_be_read_is_said_and_stays(bench):
    bench.type_cell(0, "feed_kg", "much")
    assert bench.steps == 0 and "Run 1, feed mass: “much” is not a number" in bench.said[-1]
    assert bench.cell(0, "feed_kg") == COLUMNS["feed_kg"].show(bench.trial.runs[0])


def test_what_is_worked_out_cannot_be_typed(bench):
    for key in (USED, FLAGS, "excluded"):
        assert not bench.page.parts.model.index(0, KEYS.index(key)).flags() & Qt.ItemFlag.ItemIsEditable


def test_cells_are_pasted_as_one_step(bench):
    QApplication.clipboard().setText("3,9\t1000\n4,1\t1001\n")
    bench.page.parts.ledger.setCurrentIndex(bench.page.parts.model.index(0, KEYS.index("feed_grade_g_t")))
    QTest.keyClick(bench.page.parts.ledger, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    bench.settle()
    runs = bench.trial.runs
    assert [(r.feed_grade_g_t, r.feed.mass_kg) for r in runs[:2]] == [(3.9, 1000.0), (4.1, 1001.0)]
    assert bench.steps == 1
    bench.page.parts.ledger.selectAll()
    QTest.keyClick(bench.page.parts.ledger, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    assert len(QApplication.clipboard().text().splitlines()) == len(runs)


def test_a_pasted_table_with_headings_goes_to_the_preview(bench):
    bench.page.parts.ledger.paste(TABLE)
    assert (
        bench.page.parts.stack.currentWidget() is bench.page.importing.panel
        and len(bench.page.importing.seen.runs) == 16
    )


def test_a_changed_plan_is_no_longer_frozen(bench):
    assert "Plan frozen 2031-03-01" in bench.page.parts.plan.frozen.text()
    bench.page.parts.plan.form.proposed.emit(fields_of(Plan)["worthwhile_points"], 5.0)
    bench.settle()
    assert bench.trial.plan.stamped == "" and "Plan not frozen" in bench.page.parts.plan.frozen.text()
    assert "below" in bench.page.parts.heading.text() or "less than the worthwhile" in bench.page.parts.heading.text()
    bench.page.parts.plan.freeze.click()
    assert bench.trial.plan.stamped != "" and bench.steps == 2


def test_a_gate_is_waived_with_a_reason_and_taken_back(bench):
    faster = [replace(r, speed_rpm=700.0) if r.design != "Plain cone" else r for r in bench.trial.runs]
    bench.page.editor.edit(lambda trial: replace(trial, runs=tuple(faster)), "Faster")
    bench.settle()
    pane = bench.page.parts.verdict
    assert "Not a fair comparison" in bench.page.parts.heading.text()
    pane.gate.setCurrentIndex(pane.gate.findData("speed"))
    pane.waive.click()
    assert "without a reason" in bench.said[-1]
    pane.reason.setText("made for that speed")
    pane.waive.click()
    bench.settle()
    assert "is better" in bench.page.parts.heading.text() and bench.trial.plan.waivers[0].gate == "speed"
    pane.gate.setCurrentIndex(pane.gate.findData("speed"))
    pane.waive.click()
    bench.settle()
    assert bench.trial.plan.waivers == ()


def test_errors_and_worth_are_typed_into_the_study(bench):
    pane = bench.page.parts.worth
    pane.gold.setText("75")
    pane.gold.setModified(True)
    pane.gold.editingFinished.emit()
    pane.worth.proposed.emit(fields_of(WorthInputs)["price_per_oz"], 2000.0)
    bench.settle()
    assert bench.trial.sampling.gold[0].size_um == 75.0 and bench.trial.worth.price_per_oz == 2000.0
    assert "Before wear of the liners and other cost" in pane.text.toPlainText() and bench.steps == 2
    pane.gold.setText("coarse")
    pane.gold.setModified(True)
    pane.gold.editingFinished.emit()
    assert "“coarse” is not a" in bench.said[-1]


def test_a_run_leads_to_its_design_and_what_was_said_of_it(bench):
    found, canvas = bench.page.found, bench.page.parts.pictures.canvases["order"]
    size = float(canvas.width()), float(canvas.height())
    point = next(p for p in trial_charts.order_points(found, *size) if bench.trial.runs[p.row].design == "Plain cone")
    canvas.clicked.emit(point.x, point.y)
    bench.settle()
    assert bench.page.parts.ledger.rows == (point.row,)
    words = bench.page.parts.run.text.toPlainText()
    predicted = next(prediction for prediction in found.predictions if prediction.design == "Plain cone")
    assert "built-up head" in words and predicted.text in words and "weak overturn" in predicted.text
    bench.page.parts.run.show_design.click()
    assert bench.document.design.name == "Plain cone" and bench.steps == 0


def test_new_trial_and_runs_by_hand(empty):
    empty.page._new()
    empty.page.editor.add_run()
    empty.settle()
    assert empty.steps == 2 and [run.run for run in empty.trial.runs] == ["1"]
    assert empty.trial.runs[0].design == empty.document.study.designs[0].name
    assert "exactly two designs" in empty.page.parts.heading.text()
    empty.choose(0)
    empty.page.editor.delete_runs(empty.page.parts.ledger.rows)
    empty.settle()
    assert empty.trial.runs == () and empty.steps == 3


def test_files_are_written_where_asked(bench, tmp_path, monkeypatch):
    monkeypatch.setattr(ask_file, "ask_file", lambda parent, title, name, suffix: tmp_path / name)
    bench.page._save()
    bench.page.parts.planner.protocol_asked.emit(12)
    assert {p.name for p in tmp_path.iterdir()} == {"ledger.csv", "ledger-sizes.csv", "protocol.html"}
    (tmp_path / "ledger.csv").unlink()
    bench.page.parts.planner.blank_asked.emit(12)
    assert (tmp_path / "ledger.csv").read_text("utf-8").count("\n") == 25
    monkeypatch.setattr(dialogs, "ask_table", lambda parent: tmp_path / "ledger.csv")
    bench.page.importing.from_file()
    bench.settle()
    assert bench.page.importing.seen is not None and len(bench.page.importing.seen.rows) == 24
    monkeypatch.setattr(dialogs, "ask_table", lambda parent: tmp_path / "nothing.csv")
    bench.page.importing.from_file()
    bench.settle()
    assert "There is no file" in bench.said[-1]


def test_the_planner_answers_as_it_is_asked(bench):
    planner = bench.page.parts.planner
    assert planner.question.spread == pytest.approx(1.15) and planner.question.spread_from == 12
    assert planner.units == 13 and planner.own.isHidden()
    planner.form.proposed.emit(fields_of(Question)["spread"], 8.0)
    planner.form.proposed.emit(fields_of(Question)["gain"], 8.0)
    assert planner.units == 10 and "10 pairs find a true gain of 8 % points" in planner.words.text()
    assert not planner.own.isHidden()
    planner.form.proposed.emit(fields_of(Question)["spread_from"], 6.0)
    assert planner.question.spread_from == 6 and bench.steps == 0
    planner.own.click()
    assert planner.question.spread == pytest.approx(1.15)


@pytest.mark.parametrize("theme", [LIGHT, DARK])
def test_every_picture_is_painted(bench, theme):
    bench.page.show_theme(theme)
    bench.choose(3)
    bench.page.grab()
    assert [canvas.failure for canvas in bench.page.parts.pictures.canvases.values()] == [""] * 5


def test_nothing_is_worked_out_while_the_page_is_not_seen(bench):
    found = bench.page.found
    bench.page.hide()
    bench.page.editor.edit(lambda trial: replace(trial, runs=trial.runs[:-2]), "Cut")
    bench.settle()
    assert bench.page.found is found
    bench.page.show()
    bench.page.activated()
    bench.settle()
    assert bench.page.found is not found


def test_a_trial_is_renamed_and_deleted_from_the_page_each_as_one_undo_step(bench):
    before = bench.document.study
    bench.page.editor.rename("  Second   season ")
    bench.settle()
    assert bench.trial.name == bench.page.parts.names.currentText() == "Second season" and bench.steps == 1
    bench.page.editor.rename(" ")
    assert "needs a name" in bench.said[-1] and bench.steps == 1
    bench.page.editor.delete()
    bench.settle()
    assert bench.trial is None and bench.steps == 2 and "Undo brings it back" in bench.said[-1]
    bench.undo()
    bench.undo()
    assert bench.document.study == before


def test_without_a_trial_each_way_to_begin_one_is_offered(empty):
    page = empty.page
    assert page.parts.stack.currentWidget() is page.parts.start and not page.parts.pictures.isVisible()
    assert page.parts.tabs.currentWidget() is page.parts.planner
    QApplication.clipboard().setText("nothing like a table")
    page.parts.start.buttons["paste"].click()
    assert empty.steps == 0 and page.parts.stack.currentWidget() in (page.parts.start, page.importing.panel)
    QApplication.clipboard().setText(TABLE)
    page.parts.start.buttons["paste"].click()
    assert page.parts.stack.currentWidget() is page.importing.panel and len(page.importing.seen.runs) == 16
    page.importing.panel.cancel.click()
    assert page.parts.stack.currentWidget() is page.parts.start
    page.parts.start.buttons["plan"].click()
    empty.settle()
    assert (
        empty.steps == 1
        and page.parts.stack.currentIndex() == 0
        and page.parts.tabs.currentWidget() is page.parts.planner
    )


def test_a_further_column_is_adjusted_for_by_choice(bench):
    menu = bench.page.parts.plan.adjusted.made()
    wear = next(a for a in menu.actions() if a.text() == "Hours of wear")
    wear.trigger()
    bench.settle()
    assert bench.trial.plan.adjust_also == ("wear_h",) and bench.steps == 1
    assert bench.page.parts.plan.adjusted.text() == "hours of wear"
    assert bench.page.found.trial is bench.trial


def test_where_the_liners_age_is_known_its_drift_is_shown_too(bench):
    pictures = bench.page.parts.pictures
    assert pictures.along.isVisible() and pictures.canvases["order"].isVisible()
    assert not pictures.canvases["wear"].isVisible()
    pictures.along.setCurrentIndex(1)
    assert pictures.canvases["wear"].isVisible() and not pictures.canvases["order"].isVisible()
    bench.page.resize(1707, 900)
    bench.settle()
    assert pictures.canvases["wear"].isVisible() and pictures.canvases["order"].isVisible()
    assert not pictures.along.isVisible()
