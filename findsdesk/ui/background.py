"""Work away from the window's thread: the deed lane, the reading lane, the long lane and the pool.

The *deed lane* is one thread: every deed and every look-up of what is in hand, in order. The *reading lane* is one
thread for registers, figures and lists; its jobs can be called off, and an answer that comes late is dropped. The
*long lane* is one thread for what reads for minutes, e.g. an export: the window goes on reading beside it. The *pool*
is for work without the store. Whatever happens in a job comes back to the window's thread as a value or an
exception, through one ``QObject`` that lives as long as the program; a page closed meanwhile is simply skipped.
"""

from __future__ import annotations

import inspect
import threading
import time
from collections.abc import Callable
from itertools import count
from typing import TYPE_CHECKING, Any, Protocol, TypeVar

import shiboken6
from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, Signal

from findsdesk.domain.refusals import Refusal
from findsdesk.ui.changes import Changes
from findsdesk.words import N_

if TYPE_CHECKING:
    from concurrent.futures import Executor

_THREADS = {"deed": (1, "deed-lane"), "read": (1, "reading-lane"), "long": (1, "long-lane"), "pool": (2, "pool")}
T = TypeVar("T")
_PROGRESS_PAUSE = 0.1
"""Seconds between two reports of progress: at most ten a second."""


class Notices(Protocol):
    """Where an exception goes that no page takes."""

    def failed(self, fault: BaseException) -> None:
        """Show what went wrong."""


class Job:
    """One piece of work under way. ``called_off`` may be asked, and ``report`` called, from the working thread."""

    def __init__(
        self,
        number: int,
        lane: str,
        topic: str = "",
        progress: Callable[[int, int], None] | None = None,
        when_called_off: Callable[[], None] | None = None,
    ) -> None:
        self.number, self.lane, self.topic = number, lane, topic
        self.progress = progress
        self.when_called_off = when_called_off
        self._off = threading.Event()
        self._told = 0.0
        self._tell: Callable[[Callable[[], None]], None] | None = None

    def call_off(self) -> None:
        """Ask the work to stop; its answer is dropped, also when it comes all the same."""
        if not self._off.is_set():
            self._off.set()
            if self.when_called_off:
                self.when_called_off()

    def called_off(self) -> bool:
        """Return whether the work should stop; long work looks here between batches."""
        return self._off.is_set()

    def report(self, done: int, of: int) -> None:
        """Tell how far the work is, from any thread, at most ten times a second."""
        now = time.monotonic()
        if self.progress and self._tell and (now - self._told >= _PROGRESS_PAUSE or done == of):
            self._told = now
            progress = self.progress
            self._tell(lambda: None if self.called_off() else progress(done, of))

    def follow(self, done: int, of: int) -> None:
        """Tell how far the work is, from its thread, and end it there once it was called off.

        Refusal: ``called_off``, which nobody sees, since the answer of such a job is dropped.
        """
        if self.called_off():
            raise Refusal("called_off", N_("Called off. Ask again when you want it."))
        self.report(done, of)


class _Bridge(QObject):
    """Carries calls from the working threads to the window's thread."""

    come_back = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.come_back.connect(self._run, Qt.ConnectionType.QueuedConnection)
        self._came = threading.Event()

    def carry(self, call: Callable[[], None]) -> None:
        """Let a call be made on the window's thread, in its turn; called from a working thread."""
        self.come_back.emit(call)
        self._came.set()

    def take(self, longest_s: float) -> None:
        """Wait until something comes, at most so many seconds, and make the calls that have come, and nothing else."""
        self._came.wait(longest_s)
        self._came.clear()
        QCoreApplication.sendPostedEvents(self, QEvent.Type.MetaCall)

    def _run(self, call: Callable[[], None]) -> None:
        call()


def _is_gone(call: Callable[..., object]) -> bool:
    """Return whether the call belongs to a widget that Qt has deleted."""
    owner = call.__self__ if inspect.ismethod(call) else None
    return isinstance(owner, QObject) and not shiboken6.isValid(owner)


class Lanes:
    """The four places where work runs. Made once, on the window's thread, and shut down at the end."""

    def __init__(self, notices: Notices, changes: Changes | None = None) -> None:
        self._notices = notices
        self._changes = changes
        self._bridge = _Bridge()
        self._numbers = count(1)
        self._under_way: set[Job] = set()
        self._latest: dict[str, Job] = {}
        self._lanes: dict[str, Executor] = {}

    def deed(
        self,
        work: Callable[[], T],
        *,
        then: Callable[[T], None] | None = None,
        refused: Callable[[Refusal], None] | None = None,
        failed: Callable[[BaseException], None] | None = None,
    ) -> Job:
        """Run work on the deed lane, in order. What it returns may carry ``touched``: that is told as news."""
        return self._start(Job(next(self._numbers), "deed"), work, then, refused, failed)

    def read(
        self,
        work: Callable[[], T],
        *,
        then: Callable[[T], None] | None = None,
        refused: Callable[[Refusal], None] | None = None,
        failed: Callable[[BaseException], None] | None = None,
        topic: str = "",
        job: Job | None = None,
    ) -> Job:
        """Run work on the reading lane, or by its ``job`` on the long one. A later job calls off one of its topic."""
        job = job or self.job("read", topic=topic)
        return self._start(job, work, then, refused, failed)

    def pool(
        self,
        work: Callable[[], T],
        *,
        then: Callable[[T], None] | None = None,
        refused: Callable[[Refusal], None] | None = None,
        failed: Callable[[BaseException], None] | None = None,
        topic: str = "",
        job: Job | None = None,
    ) -> Job:
        """Run work that touches no store, beside everything else."""
        job = job or self.job("pool", topic=topic)
        return self._start(job, work, then, refused, failed)

    def job(
        self,
        lane: str,
        *,
        topic: str = "",
        progress: Callable[[int, int], None] | None = None,
        when_called_off: Callable[[], None] | None = None,
    ) -> Job:
        """Return a job to hand to ``read`` or ``pool`` whose work reports progress or can be stopped half-way."""
        made = Job(next(self._numbers), lane, topic, progress, when_called_off)
        made._tell = self._bridge.carry
        return made

    def idle(self) -> bool:
        """Return whether nothing is running, waiting or coming back."""
        return not self._under_way

    def reads(self, topic: str) -> bool:
        """Return whether something of that topic is being read."""
        return topic in self._latest

    def take_what_comes_back(self, longest_s: float) -> None:
        """Stand still until an answer comes back, at most so many seconds, and take it; no event besides is handled."""
        self._bridge.take(longest_s)

    def deeds_wait(self) -> bool:
        """Return whether a deed or a look-up of what is in hand is under way."""
        return any(job.lane == "deed" for job in self._under_way)

    def shutdown(self) -> None:
        """Let deeds finish, call everything else off, and stop the threads."""
        for job in list(self._under_way):
            if job.lane != "deed":
                job.call_off()
        for lane in self._lanes.values():
            lane.shutdown(wait=True, cancel_futures=False)

    def _start(
        self,
        job: Job,
        work: Callable[[], T],
        then: Callable[[T], None] | None,
        refused: Callable[[Refusal], None] | None,
        failed: Callable[[BaseException], None] | None,
    ) -> Job:
        if job.topic:
            earlier = self._latest.get(job.topic)
            self._latest[job.topic] = job
            if earlier:
                earlier.call_off()
        self._under_way.add(job)

        def run() -> None:
            value: Any = None
            fault: BaseException | None = None
            if not job.called_off():
                try:
                    value = work()
                except BaseException as caught:
                    fault = caught
            self._bridge.carry(lambda: self._finish(job, value, fault, then, refused or None, failed))

        self._lane(job.lane).submit(run)
        return job

    def _lane(self, name: str) -> Executor:
        """Return a lane; it begins with its first job, so that the window stands before."""
        if name not in self._lanes:
            from concurrent.futures import ThreadPoolExecutor

            self._lanes[name] = ThreadPoolExecutor(*_THREADS[name])
        return self._lanes[name]

    def _finish(
        self,
        job: Job,
        value: T,
        fault: BaseException | None,
        then: Callable[[T], None] | None,
        refused: Callable[[Refusal], None] | None,
        failed: Callable[[BaseException], None] | None,
    ) -> None:
        self._under_way.discard(job)
        if self._latest.get(job.topic) is job:
            del self._latest[job.topic]
        if fault is None and self._changes is not None:
            self._changes.add(getattr(value, "touched", ()))
        if job.called_off():
            return
        if fault is None:
            if then and not _is_gone(then):
                then(value)
        elif isinstance(fault, Refusal) and refused:
            if not _is_gone(refused):
                refused(fault)
        elif failed:
            if not _is_gone(failed):
                failed(fault)
        else:
            self._notices.failed(fault)
