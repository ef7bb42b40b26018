from __future__ import annotations

import threading

import pytest
from pytestqt.qtbot import QtBot

from pigmap.errors import PlanError
from pigmap.qt.jobs import Jobs, Poster, Progress, Stop


def test_work_runs_off_the_windows_thread_and_hands_its_result_over(qtbot: QtBot) -> None:
    jobs = Jobs()
    steps: list[float] = []

    def work(progress: Progress, stop: Stop) -> str:
        progress(0.5)
        return threading.current_thread().name

    job = jobs.run(work)
    job.progressed.connect(steps.append)
    with qtbot.waitSignal(job.done) as result:
        pass
    assert result.args == ["job"]
    assert steps == [0.5]
    jobs.close()


def test_work_that_is_stopped_hands_over_what_it_has(qtbot: QtBot) -> None:
    jobs = Jobs()
    begun = threading.Event()

    def work(progress: Progress, stop: Stop) -> int:
        begun.set()
        turns = 0
        while not stop():
            turns += 1
        return turns

    job = jobs.run(work)
    qtbot.waitUntil(begun.is_set)
    with qtbot.waitSignal(job.done, timeout=2_000):
        job.stop()
    jobs.close()


def test_a_refusal_comes_back_as_one(qtbot: QtBot) -> None:
    jobs = Jobs()

    def work(progress: Progress, stop: Stop) -> None:
        raise PlanError("No ground for {name}.", remedy="Open a field.", name="Sows")

    with qtbot.waitSignal(jobs.run(work).failed) as refused:
        pass
    assert refused.args is not None
    assert str(refused.args[0]) == "No ground for Sows. Open a field."
    jobs.close()


def test_a_fault_of_the_program_is_not_swallowed(qtbot: QtBot) -> None:
    jobs = Jobs()

    def work(progress: Progress, stop: Stop) -> None:
        raise ZeroDivisionError

    with qtbot.captureExceptions() as raised:
        job = jobs.run(work)
        with pytest.raises(ZeroDivisionError):
            job.wait()
        qtbot.waitUntil(lambda: bool(raised))
    assert raised[0][0] is ZeroDivisionError


def test_closing_stops_what_runs_and_waits(qtbot: QtBot) -> None:
    jobs = Jobs()
    begun = threading.Event()

    def work(progress: Progress, stop: Stop) -> None:
        begun.set()
        while not stop():
            pass

    job = jobs.run(work)
    qtbot.waitUntil(begun.is_set)
    jobs.close()
    assert not job.running


def test_work_that_never_began_is_closed_too() -> None:
    jobs = Jobs()
    job = jobs.run(lambda progress, stop: None)
    jobs.close()
    assert not job.running


def test_what_is_posted_from_a_thread_runs_on_the_windows(qtbot: QtBot) -> None:
    poster = Poster()
    ran: list[threading.Thread] = []
    thread = threading.Thread(target=lambda: poster.post(lambda: ran.append(threading.current_thread())))
    thread.start()
    thread.join()
    assert not ran
    qtbot.waitUntil(lambda: bool(ran))
    assert ran == [threading.main_thread()]
