"""The desk: what a place is given to read, act, say, ask and open other places with."""

from __future__ import annotations

import traceback
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Concatenate, ParamSpec, TypeVar

from PySide6.QtCore import QObject, QTimer, Signal

from beeledger.base.clock import Clock
from beeledger.base.errors import CannotNow, Refused
from beeledger.base.findings import Finding
from beeledger.base.paths import desk_folder
from beeledger.base.settings import DeskSettings, save_settings
from beeledger.database.ledger import Ledger
from beeledger.operations.act import Done, Operation, perform_draft
from beeledger.operations.drafts import DraftStore
from beeledger.ui.desk.jobs import Cancelled, Delivery, Job, Workers
from beeledger.ui.desk.reports import Reports

if TYPE_CHECKING:
    from sqlalchemy.orm import Session

P = ParamSpec("P")
R = TypeVar("R")
ASK_EVERY_MS = 1500
"""How often a desk asks whether another desk has acted."""


@dataclass(frozen=True, slots=True)
class Saying:
    """Something said to the person at the desk. ``tone`` is "done", "note", "watch" or "now"."""

    text: str
    tone: str = "note"
    remedy: str = ""
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Question:
    """A question with its answers; the first is the safe one. ``then`` gets the chosen answer or None."""

    title: str
    text: str
    answers: Sequence[str]
    then: Callable[[str | None], None]


@dataclass(frozen=True, slots=True)
class FileQuestion:
    """Asking for a file to read or write; ``then`` gets its path or None."""

    title: str
    pattern: str
    save: bool
    suggested: str
    then: Callable[[Path | None], None]


class Desk(QObject):
    """The door between the window and the ledger. Reads and acts never run on the window's thread."""

    changed = Signal(object)
    """A ``Done``: an act of this desk, or one made up for what other desks did."""
    said = Signal(object)
    asked = Signal(object)
    opened = Signal(str, object)
    settings_changed = Signal(object)
    """The ``DeskSettings`` now in force."""
    restore_wanted = Signal(object)
    """The path of the backup that is to take the place of this ledger."""

    def __init__(
        self, ledger: Ledger, drafts: DraftStore, settings: DeskSettings, settings_file: Path
    ) -> None:
        super().__init__()
        self.ledger = ledger
        self.drafts = drafts
        self.settings = settings
        self.workers = Workers(self)
        self.last_done: Done | None = None
        self._settings_file = settings_file
        self._reports = Reports(desk_folder())
        self._asking = False
        self._open = True
        self.newest_act = ledger.last_act()
        """The number of the newest act of any desk that this one has heard of."""
        self.backed_up_to = self.newest_act
        """The act that the newest backup holds, so far as this desk knows; at the start, all there are."""
        self._poll = QTimer(self)
        self._poll.setInterval(ASK_EVERY_MS)
        self._poll.timeout.connect(self._ask_for_news)
        self._settle = QTimer(self)
        self._settle.setInterval(1000)
        self._settle.setSingleShot(True)
        self._settle.timeout.connect(self._settle_drafts)

    @property
    def clock(self) -> Clock:
        """The farm's clock."""
        return self.ledger.clock

    def start(self) -> None:
        """Begin to watch for what other desks do."""
        self._poll.start()

    def read(
        self,
        query: Callable[Concatenate[Session, P], R],
        *args: Any,
        owner: QObject,
        then: Callable[[R], None],
        key: str = "",
        failed: Callable[[BaseException], None] | None = None,
        **named: Any,
    ) -> None:
        """Run ``query(session, *args)`` off the window's thread and give ``then`` its records.

        With a ``key``, only the newest read of that key and owner is delivered.
        """
        stamp = self.workers.stamp(owner, key) if key else None
        call: Callable[..., R] = query

        def work() -> R:
            with self.ledger.read() as session:
                return call(session, *args, **named)

        self.workers.read(work, Delivery(owner, then, failed or self._failed, stamp))

    def fetch(
        self,
        work: Callable[[], R],
        *,
        owner: QObject,
        then: Callable[[R], None],
        key: str = "",
        failed: Callable[[BaseException], None] | None = None,
    ) -> None:
        """Run anything short that is no query off the window's thread: a look at files, a picture."""
        stamp = self.workers.stamp(owner, key) if key else None
        self.workers.read(work, Delivery(owner, then, failed or self._failed, stamp))

    def act(
        self,
        operation: Operation[P],
        *args: Any,
        owner: QObject | None = None,
        then: Callable[[Done], None] | None = None,
        refused: Callable[[Refused], None] | None = None,
        failed: Callable[[], None] | None = None,
        draft_uid: str | None = None,
        **named: Any,
    ) -> None:
        """Carry out an act; ``then`` gets what was done, ``refused`` the findings (else they are said).

        ``failed`` is told of anything else that kept it from being done, after it was said.
        """
        call: Callable[..., str] = operation

        def carried(done: Done) -> None:
            self._carried(done)
            if then is not None:
                then(done)

        self.workers.write(
            lambda: perform_draft(self.ledger, draft_uid, call, *args, **named),
            Delivery(owner, carried, lambda error: self._act_failed(error, refused, failed), None),
        )

    def undo(self, act_id: int, then: Callable[[Done], None] | None = None) -> None:
        """Take back an act; what stands on it is said where the last act is shown."""

        def carried(done: Done) -> None:
            self._carried(done)
            if then is not None:
                then(done)

        def work() -> Done:
            from beeledger.operations.undo import undo

            return undo(self.ledger, act_id)

        self.workers.write(work, Delivery(self, carried, self._failed, None))

    def run(
        self,
        title: str,
        work: Callable[[Job], R],
        *,
        owner: QObject,
        then: Callable[[R], None],
        failed: Callable[[BaseException], None] | None = None,
    ) -> Job:
        """Start a long job; it shows in the status line with progress and cancel."""
        job = Job(title)
        self.workers.run(job, work, Delivery(owner, then, failed or self._failed, None))
        return job

    def say(self, text: str, tone: str = "note", remedy: str = "", findings: Sequence[Finding] = ()) -> None:
        """Say something in the line where the last act stands."""
        self.said.emit(Saying(text, tone, remedy, tuple(findings)))

    def ask(self, title: str, text: str, answers: Sequence[str], then: Callable[[str | None], None]) -> None:
        """Ask a question; only for what cannot be undone."""
        self.asked.emit(Question(title, text, answers, then))

    def ask_file(
        self,
        title: str,
        pattern: str,
        then: Callable[[Path | None], None],
        *,
        save: bool = False,
        suggested: str = "",
    ) -> None:
        """Ask for a file. ``pattern`` as "Workbooks (*.xlsx)"."""
        self.asked.emit(FileQuestion(title, pattern, save, suggested, then))

    def open_place(self, name: str, what: object = None) -> None:
        """Go to a place, at something in it (an id, or what that place documents)."""
        self.opened.emit(name, what)

    def settle_soon(self) -> None:
        """Called after each saved keystroke: the disk holds it within a second."""
        if not self._settle.isActive():
            self._settle.start()

    def change_settings(self, **changes: Any) -> None:
        """Change settings of this desk and keep them."""
        self.settings = self.settings.but(**changes)
        self.ledger.who, self.ledger.desk = self.settings.who, self.settings.desk
        try:
            save_settings(self._settings_file, self.settings)
        except OSError as error:
            self.say(
                f"The settings could not be kept: {error.strerror}.",
                "now",
                "They hold until the window is closed.",
            )
        self.settings_changed.emit(self.settings)

    def fault(self, error: BaseException) -> None:
        """A bug: write a report into the desk's folder and say so, once for each fault."""
        if self._reports.met(error):
            return
        traceback.print_exception(error)
        path = self._reports.write(error, self.clock.now())
        kept = f"The report is {path}." if path else "No report could be written."
        self.say("A fault in the program. What was typed is kept.", "now", kept)

    def close(self) -> None:
        """Finish what is queued and let go of everything; a second time does nothing."""
        if not self._open:
            return
        self._open = False
        self._poll.stop()
        self._settle.stop()
        self.workers.stop()
        self.drafts.close()
        self.ledger.close()

    def _carried(self, done: Done) -> None:
        between = (
            done.act > self.newest_act + 1
        )  # acts are numbered without a gap: another desk was here first
        self.newest_act = max(self.newest_act, done.act)
        self.last_done = done
        self.changed.emit(done)
        if between:
            self.changed.emit(_news_of(self.newest_act))

    def _act_failed(
        self,
        error: BaseException,
        refused: Callable[[Refused], None] | None,
        failed: Callable[[], None] | None,
    ) -> None:
        if isinstance(error, Refused) and refused is not None:
            refused(error)
            return
        self._failed(error)
        if failed is not None:
            failed()

    def _failed(self, error: BaseException) -> None:
        if isinstance(error, Cancelled):
            self.say("Stopped as asked")
        elif isinstance(error, Refused):
            first = error.findings[0]
            more = f" (and {len(error.findings) - 1} more)" if len(error.findings) > 1 else ""
            self.say(first.sentence() + more, "now", findings=error.findings)
        elif isinstance(error, CannotNow):
            self.say(error.sentence, "now", error.remedy)
        else:
            self.fault(error)

    def _ask_for_news(self) -> None:
        if self._asking:
            return  # a slow server is asked again when it has answered
        self._asking = True
        self.workers.read(self.ledger.last_act, Delivery(self, self._news, self._no_news, None))

    def _no_news(self, _error: BaseException) -> None:
        self._asking = False  # a server that is away is told of by the next act or read of a person

    def _news(self, newest: int) -> None:
        self._asking = False
        if newest > self.newest_act:
            self.newest_act = newest
            self.changed.emit(_news_of(newest))

    def _settle_drafts(self) -> None:
        self.workers.write(self.drafts.settle, Delivery(self, None, self._failed, None))


def _news_of(newest: int) -> Done:
    """What other desks did: which tables it touched is not known."""
    return Done(newest, "news", "", frozenset({"*"}))
