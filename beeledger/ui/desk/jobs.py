"""Work off the window's thread: the one writer, the readers, and long jobs with progress and cancel.

The only module of the window that knows threads. Results come back on the window's thread, and only to
owners that are still there.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, field
from threading import Event
from typing import Any

from PySide6.QtCore import QObject, Qt, Signal, Slot
from shiboken6 import isValid

from beeledger.base.errors import CannotNow, Refused

Then = Callable[[Any], None]


@dataclass(slots=True)
class Delivery:
    """What came of a piece of work, on its way to the window's thread."""

    owner: QObject | None
    then: Then | None
    failed: Callable[[BaseException], None]
    stamp: tuple[int, str, int] | None
    value: Any = None
    error: BaseException | None = None


class Cancelled(Exception):
    """Raised inside a job when the person at the desk asked it to stop."""


@dataclass(slots=True)
class Job:
    """A long piece of work as the status line shows it."""

    title: str
    done: int = 0
    total: int = 0
    stop: Event = field(default_factory=Event)
    report: Callable[[Job], None] | None = None

    def progress(self, done: int, total: int) -> None:
        """Tell how far it is; raises Cancelled when it was asked to stop."""
        if self.stop.is_set():
            raise Cancelled
        self.done, self.total = done, total
        if self.report is not None:
            self.report(self)


class Workers(QObject):
    """One writer, two readers and a thread for long jobs beside the window's thread."""

    delivered = Signal(object)
    job_moved = Signal(object)
    waiting_changed = Signal(int)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._writer = ThreadPoolExecutor(1, thread_name_prefix="acts")
        self._readers = ThreadPoolExecutor(2, thread_name_prefix="reads")
        self._long = ThreadPoolExecutor(1, thread_name_prefix="jobs")
        self._newest: dict[tuple[int, str], int] = {}
        self._waiting = 0
        self._stopped = False
        self.jobs: list[Job] = []
        self.delivered.connect(self._deliver, Qt.ConnectionType.QueuedConnection)

    def write(self, work: Callable[[], Any], delivery: Delivery) -> None:
        """Queue one act; acts run one at a time, in order."""
        self._start(self._writer, work, delivery)

    def read(self, work: Callable[[], Any], delivery: Delivery) -> None:
        """Queue one read; one that a newer read has overtaken while it waited is not even begun."""

        def wanted() -> Any:
            return None if self._overtaken(delivery) else work()

        self._start(self._readers, wanted, delivery)

    def run(self, job: Job, work: Callable[[Job], Any], delivery: Delivery) -> None:
        """Start a long job that reports progress and can be stopped; long jobs wait for each other."""
        self.jobs.append(job)
        job.report = self.job_moved.emit
        self.job_moved.emit(job)

        def begun() -> Any:
            if job.stop.is_set():
                raise Cancelled
            return work(job)

        self._start(self._long, begun, delivery, job)

    def stamp(self, owner: QObject, key: str) -> tuple[int, str, int]:
        """A stamp by which an older read of the same key is passed over."""
        place = (id(owner), key)
        self._newest[place] = self._newest.get(place, 0) + 1
        return (*place, self._newest[place])

    @property
    def waiting(self) -> int:
        """How many pieces of work are not done yet."""
        return self._waiting

    def stop_jobs(self) -> None:
        """Ask every long job to stop; each does at its next step."""
        for job in self.jobs:
            job.stop.set()

    def stop(self) -> None:
        """Finish the acts that are queued, drop the reads nobody will see, and let the threads go.

        What is asked for afterwards, by pieces of a window on its way out, is not begun.
        """
        self._stopped = True
        self.stop_jobs()
        self._readers.shutdown(wait=True, cancel_futures=True)
        self._long.shutdown(wait=True, cancel_futures=True)
        self._writer.shutdown(wait=True)

    def _start(
        self, pool: ThreadPoolExecutor, work: Callable[[], Any], delivery: Delivery, job: Job | None = None
    ) -> None:
        if self._stopped:
            return
        self._waiting += 1
        self.waiting_changed.emit(self._waiting)
        future = pool.submit(work)
        future.add_done_callback(lambda done: self._hand_over(done, delivery, job))

    def _hand_over(self, done: Future[Any], delivery: Delivery, job: Job | None) -> None:
        if done.cancelled():
            return
        delivery.error = done.exception()
        if delivery.error is None:
            delivery.value = done.result()
        if isValid(self):
            self.delivered.emit((delivery, job))

    @Slot(object)
    def _deliver(self, parcel: tuple[Delivery, Job | None]) -> None:
        delivery, job = parcel
        self._waiting -= 1
        if job is not None:
            self.jobs.remove(job)
            self.job_moved.emit(None)
        self.waiting_changed.emit(self._waiting)
        if self._stopped or (delivery.owner is not None and not isValid(delivery.owner)):
            return
        if self._overtaken(delivery):
            return
        if delivery.error is not None:
            delivery.failed(delivery.error)
        elif delivery.then is not None:
            delivery.then(delivery.value)

    def _overtaken(self, delivery: Delivery) -> bool:
        stamp = delivery.stamp
        return stamp is not None and self._newest.get(stamp[:2]) != stamp[2]


def expected(error: BaseException) -> bool:
    """Whether an error is for the person at the desk and not a bug."""
    return isinstance(error, (CannotNow, Refused, Cancelled))
