"""The worker thread: newest of a key wins, it stands still during a gesture, answers arrive in the window's thread."""

import gc
import threading

import pytest

from profiler.ui.work.jobs import Jobs


@pytest.fixture
def jobs(qapp):
    made = Jobs()
    yield made
    made.close()


def test_an_answer_arrives_in_the_windows_thread(jobs, qtbot):
    seen = []
    jobs.ask("sum", lambda p: (threading.get_ident(), 2 + 3), lambda a: seen.append((threading.get_ident(), *a)))
    qtbot.waitUntil(lambda: bool(seen))
    here, there, answer = seen[0]
    assert here == threading.get_ident() != there and answer == 5


def test_the_newest_question_of_a_key_wins_and_the_older_is_cancelled(jobs, qtbot):
    answers, started, ended = [], threading.Event(), []

    def long(progress):
        started.set()
        try:
            for _ in range(100000):
                progress.at(0.5)
                threading.Event().wait(0.001)
        finally:
            ended.append(True)
        return "old"

    jobs.ask("map", long, answers.append)
    assert started.wait(5)
    for i in range(5):
        jobs.ask("map", lambda p, i=i: f"new {i}", answers.append)
    qtbot.waitUntil(lambda: bool(answers))
    qtbot.wait(30)
    assert answers == ["new 4"] and ended == [True]


def test_questions_of_different_keys_are_all_answered(jobs, qtbot):
    answers = []
    for key in "abc":
        jobs.ask(key, lambda p, key=key: key, answers.append)
    qtbot.waitUntil(lambda: len(answers) == 3)
    assert answers == ["a", "b", "c"]


def test_work_stands_still_during_a_gesture_and_goes_on_after(jobs, qtbot):
    steps, answers = [], []

    def work(progress):
        for i in range(50):
            progress.at(i / 50)
            steps.append(i)
            threading.Event().wait(0.002)
        return "done"

    jobs.ask("map", work, answers.append)
    qtbot.waitUntil(lambda: len(steps) > 2)
    jobs.pause(True)
    qtbot.wait(20)
    before = len(steps)
    qtbot.wait(60)
    assert len(steps) == before < 50
    jobs.pause(False)
    qtbot.waitUntil(lambda: answers == ["done"])


def test_progress_is_told_in_order(jobs, qtbot):
    shares, answers = [], []
    jobs.ask("x", lambda p: [p.at(k / 4) for k in range(5)], answers.append, shares.append)
    qtbot.waitUntil(lambda: bool(answers))
    assert shares == [0.0, 0.25, 0.5, 0.75, 1.0]


def test_a_refusal_is_told_as_its_sentence_and_a_crash_does_not_end_the_thread(jobs, qtbot, caplog):
    told, answers = [], []

    def refuse(progress):
        raise ValueError("The range is crossed.")

    jobs.ask("a", refuse, answers.append, failed=told.append)
    jobs.ask("b", lambda p: 1 / 0, answers.append, failed=told.append)
    jobs.ask("c", lambda p: "fine", answers.append)
    qtbot.waitUntil(lambda: answers == ["fine"])
    assert told[0] == "The range is crossed." and "see the log" in told[1]


def test_closing_ends_the_thread_even_in_a_pause(qapp):
    jobs = Jobs()
    jobs.ask("x", lambda p: [p.at(0.0) for _ in range(10**9)], lambda a: None)
    jobs.pause(True)
    thread = jobs._thread
    jobs.close()
    assert thread is not None and not thread.is_alive() and not jobs.busy


def test_garbage_is_never_looked_for_in_the_worker(jobs, qtbot):
    """Else a closed window, which is a cycle, might be destroyed by the worker, and the program with it."""
    where, answers = [], []

    def heard(phase, info):
        where.append(threading.get_ident())

    def work(progress):
        kept = []
        for i in range(20):
            progress.at(i / 20)
            kept.append([[k] for k in range(5000)])
        return len(kept)

    gc.callbacks.append(heard)
    try:
        jobs.ask("x", work, answers.append)
        qtbot.waitUntil(lambda: answers == [20] and not jobs.busy)
        gc.collect()
    finally:
        gc.callbacks.remove(heard)
    assert set(where) == {threading.get_ident()}
    assert gc.isenabled()


def test_questions_in_quick_succession_are_all_answered_though_the_thread_may_just_be_ending(jobs, qtbot):
    answers = []
    for i in range(300):
        jobs.ask(str(i), lambda p, i=i: i, answers.append)
        if i % 7 == 0:
            qtbot.wait(1)
    qtbot.waitUntil(lambda: len(answers) == 300)
    assert answers == list(range(300))
