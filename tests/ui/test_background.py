"""Work away from the window's thread: order, late answers, refusals, faults, closed pages, news."""

import threading
from dataclasses import dataclass
from typing import Any

import pytest
import shiboken6
from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QLabel, QPushButton

from findsdesk.domain.refusals import Refusal
from findsdesk.ui.background import Job
from findsdesk.ui.bench import _let_rest
from findsdesk.ui.changes import Changes


@dataclass(frozen=True)
class Outcome:
    said: str
    touched: frozenset[tuple[str, int]] = frozenset()


def test_deeds_run_in_order_off_the_window_and_answer_on_it(around, qtbot):
    ran: list[tuple[int, bool]] = []
    answered: list[tuple[int, bool]] = []
    window_thread = threading.current_thread()

    def work(number: int) -> int:
        ran.append((number, threading.current_thread() is window_thread))
        return number

    for number in range(20):
        around.lanes.deed(
            lambda number=number: work(number),
            then=lambda n: answered.append((n, threading.current_thread() is window_thread)),
        )
    qtbot.waitUntil(around.lanes.idle)
    assert ran == [(number, False) for number in range(20)]
    assert answered == [(number, True) for number in range(20)]


def test_a_refusal_goes_to_who_asked_and_to_the_notices_otherwise(around, qtbot):
    def refuse() -> None:
        raise Refusal("unknown_code", "{Container} {number} is not known here.", number=131)

    refused: list[str] = []
    around.lanes.deed(refuse, refused=lambda refusal: refused.append(refusal.code))
    around.lanes.deed(refuse)
    qtbot.waitUntil(around.lanes.idle)
    assert refused == ["unknown_code"]
    assert around.notices.told == [("Bucket 131 is not known here.", "", "")]


def test_our_own_fault_becomes_a_report(around, qtbot):
    def stumble() -> None:
        raise KeyError("tray 15")

    around.lanes.read(stumble)
    qtbot.waitUntil(around.lanes.idle)
    ((_head, _text, report),) = around.notices.told
    assert "KeyError: 'tray 15'" in report
    assert "stumble" in report


def test_a_later_reading_on_the_same_topic_drops_the_earlier(around, qtbot):
    gate = threading.Event()
    answers: list[str] = []

    def slow() -> str:
        gate.wait(5)
        return "earlier"

    first = around.lanes.read(slow, then=answers.append, topic="register")
    around.lanes.read(lambda: "later", then=answers.append, topic="register")
    around.lanes.read(lambda: "other", then=answers.append, topic="figures")
    gate.set()
    qtbot.waitUntil(around.lanes.idle)
    assert first.called_off()
    assert answers == ["later", "other"]


def test_a_job_called_off_before_its_turn_never_runs(around, qtbot):
    gate, ran = threading.Event(), []
    around.lanes.read(lambda: gate.wait(5))
    waiting = around.lanes.read(lambda: ran.append(1))
    waiting.call_off()
    gate.set()
    qtbot.waitUntil(around.lanes.idle)
    assert ran == []


def test_long_work_is_stopped_from_outside_and_tells_how_far_it_is(around, qtbot):
    told: list[tuple[int, int]] = []
    begun, stop = threading.Event(), []
    job: Job = around.lanes.job("pool", progress=lambda *p: told.append(p), when_called_off=lambda: stop.append(1))

    def work() -> int:
        done = 0
        while not job.called_off() and done < 10_000_000:
            done += 1
            job.report(done, 10_000_000)
            begun.set()
        return done

    answers: list[int] = []
    around.lanes.pool(work, then=answers.append, job=job)
    qtbot.waitUntil(lambda: bool(told))
    job.call_off()
    qtbot.waitUntil(around.lanes.idle)
    assert answers == []
    assert stop == [1]
    assert all(of == 10_000_000 for _done, of in told)


def test_a_page_closed_meanwhile_is_skipped(around, qtbot):
    page = QLabel()
    gate = threading.Event()

    def work() -> str:
        gate.wait(5)
        return "too late"

    around.lanes.deed(work, then=page.setText)

    class Page(QLabel):
        def take(self, text: str) -> None:
            self.setText(text)

    other = Page()
    around.lanes.deed(lambda: "too late", then=other.take)
    shiboken6.delete(other)
    gate.set()
    qtbot.waitUntil(around.lanes.idle)
    assert around.notices.told == []
    assert page.text() == "too late"


def test_what_a_deed_touched_is_told_as_news(around, qtbot):
    told: set[tuple[str, int]] = set()
    around.changes.touched.connect(told.update)
    around.lanes.deed(lambda: Outcome("a", frozenset({("container", 131)})))
    around.lanes.deed(lambda: Outcome("b", frozenset({("tray", 15), ("container", 131)})))
    qtbot.waitUntil(lambda: told == {("container", 131), ("tray", 15)})


def test_what_follows_within_a_tenth_of_a_second_waits_for_more(qtbot):
    changes = Changes()
    told: list[frozenset[tuple[str, int]]] = []
    changes.touched.connect(told.append)
    changes.add([("container", 1)])
    changes.tell_now()
    changes.add([("container", 2)])
    changes.add([("container", 3)])
    QCoreApplication.processEvents()
    assert told == [frozenset({("container", 1)})]
    qtbot.waitUntil(lambda: len(told) == 2)
    assert told[1] == frozenset({("container", 2), ("container", 3)})


def test_a_refused_deed_is_no_news(around, qtbot):
    def refuse() -> Any:
        raise Refusal("no", "No.")

    around.lanes.deed(refuse, refused=lambda _refusal: None)
    qtbot.waitUntil(around.lanes.idle)
    with qtbot.assertNotEmitted(around.changes.touched):
        around.changes.tell_now()


def test_changes_within_a_tenth_of_a_second_are_one(qtbot):
    changes = Changes()
    told: list[frozenset[tuple[str, int]]] = []
    changes.touched.connect(told.append)
    changes.add([("container", 1)])
    changes.add([("container", 2), ("tag", 1)])
    assert told == []
    qtbot.waitUntil(lambda: bool(told))
    assert told == [frozenset({("container", 1), ("container", 2), ("tag", 1)})]


def test_what_stands_around_the_bench_hears_the_news_after_it(qtbot):
    changes = Changes()
    told: list[tuple[str, int]] = []
    changes.touched.connect(lambda things: told.append(("bench", len(things))))
    changes.told_around.connect(lambda things: told.append(("around", len(things))))
    changes.add([("container", 1)])
    changes.tell_now()
    changes.add([("container", 2)])
    changes.tell_now()
    assert told == [("bench", 1), ("bench", 1)]
    assert changes.waiting()
    qtbot.waitUntil(lambda: not changes.waiting())
    assert told[2:] == [("around", 2)]


@pytest.mark.parametrize("lane", ["deed", "read", "pool"])
def test_idle_tells_whether_anything_is_under_way(around, qtbot, lane):
    gate = threading.Event()
    getattr(around.lanes, lane)(lambda: gate.wait(5))
    assert not around.lanes.idle()
    gate.set()
    qtbot.waitUntil(around.lanes.idle)


def test_a_button_that_went_with_what_its_act_changed_is_not_woken(qtbot):
    """A page that is shown anew before the act's answer is back has other buttons by then."""
    button = QPushButton("Write")
    wake = _let_rest(button)
    shiboken6.delete(button)
    wake()
    other = QPushButton("Write")
    qtbot.addWidget(other)
    wake = _let_rest(other)
    assert not other.isEnabled()
    wake()
    assert other.isEnabled()
