"""Closing the window: places may object, a running job is asked about, unsaved acts are backed up first."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from beeledger.ui.desk.desk import Desk
from beeledger.ui.desk.jobs import Cancelled
from beeledger.ui.desk.place import Place
from beeledger.ui.frame.backup_keeper import BackupKeeper

STAY, STOP = "Let it finish", "Stop it and close"
OPEN, GO = "Keep it open", "Close without a backup"


class Closing(QObject):
    """Decides whether the window may go now, and closes it when what had to be done first is done."""

    stayed = Signal()
    """The person, or a place, wants the window to stay open after all."""

    def __init__(
        self,
        desk: Desk,
        keeper: BackupKeeper,
        places: Callable[[], Iterable[Place]],
        close: Callable[[], object],
    ) -> None:
        super().__init__(desk)
        self._desk = desk
        self._keeper = keeper
        self._places = places
        self._close = close
        self._under_way = False
        self._backup_waived = False
        self._stopping = False
        desk.workers.job_moved.connect(self._job_moved)

    def may_close(self) -> bool:
        """Whether nothing is left to do. If there is, it is begun, and the window closes after it."""
        if self._under_way:
            return False
        if not all(place.leave() for place in self._places()):
            self.stayed.emit()
            return False
        if self._desk.workers.jobs:
            self._ask_about_jobs()
            return False
        if self._keeper.wanted() and not self._backup_waived:
            self._back_up()
            return False
        return True

    def _ask_about_jobs(self) -> None:
        title = self._desk.workers.jobs[0].title
        text = f"“{title}” has not finished. Nothing is harmed if it is stopped; it can be started again."
        self._desk.ask("A job is still running", text, (STAY, STOP), self._answered)

    def _answered(self, answer: str | None) -> None:
        if answer != STOP:
            self.stayed.emit()
            return
        self._stopping = True
        self._desk.workers.stop_jobs()
        self._job_moved(None)

    def _job_moved(self, _job: object) -> None:
        if self._stopping and not self._desk.workers.jobs:
            self._stopping = False
            self._close()

    def _back_up(self) -> None:
        self._under_way = True
        self._desk.say("Writing a backup, then the window closes")
        # the backup that is to be restored may be an older one of this hour: nothing is thinned out at the door
        self._keeper.write(self._backed_up, self._not_backed_up, thins=False)

    def _backed_up(self, _path: Path) -> None:
        self._under_way = False
        self._close()

    def _not_backed_up(self, error: BaseException) -> None:
        self._under_way = False
        if isinstance(error, Cancelled):
            self._desk.say("The backup was stopped; the window stays open")
            self.stayed.emit()
            return

        def answered(answer: str | None) -> None:
            if answer == GO:
                self._backup_waived = True
                self._close()
            else:
                self.stayed.emit()

        self._desk.ask("No backup was written", f"{error}", (OPEN, GO), answered)
