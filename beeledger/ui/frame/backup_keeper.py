"""Keeps the backups of the ledger: one each hour in which something was done, and one when the window is closed after acts.

A ledger on a server is copied row by row, which takes longer: once a day.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from beeledger.database.backup import place_of
from beeledger.queries.acts import acts
from beeledger.ui.desk.desk import Desk
from beeledger.ui.frame.status_line import OLD, BackupState
from beeledger.ui.parts.backups import kept_backups, write_backup

if TYPE_CHECKING:
    from sqlalchemy.orm import Session

LOOK_EVERY_MS = 60_000
HOUR = timedelta(hours=1)


class BackupKeeper(QObject):
    """Knows the newest backup; writes one only once it was told to ``keep``."""

    told = Signal(object)
    """The ``BackupState`` as it is now."""

    def __init__(self, desk: Desk, parent: QObject) -> None:
        super().__init__(parent)
        self._desk = desk
        self._keeps = False
        self._place = place_of(desk.ledger)
        self._writing = False
        self.state = BackupState()
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_EVERY_MS)
        self._timer.timeout.connect(self._look_and_write)
        self._timer.start()
        desk.workers.job_moved.connect(self._job_moved)

    def keep(self) -> None:
        """From now on write a backup where one is due: by the hour, and when the window is closed."""
        self._keeps = True
        self._look_and_write()

    def look(self) -> None:
        """See what lies beside the ledger and tell it."""
        self._ask(lambda: None)

    def wanted(self) -> bool:
        """Whether there are acts that no backup holds yet, and the window should not go before one does."""
        here = (
            self._desk.ledger.file is not None
        )  # nobody waits at the door for the copy of a server's ledger
        return self._keeps and here and self._desk.newest_act > self._desk.backed_up_to

    def write(
        self, then: Callable[[Path], None], failed: Callable[[BaseException], None], *, thins: bool = True
    ) -> None:
        """Write a backup, and thin out the old ones unless that is left to the next."""
        write_backup(self._desk, owner=self, then=then, failed=failed, thins=thins)

    def _look_and_write(self) -> None:
        self._ask(self._write_if_due)

    def _ask(self, then: Callable[[], None]) -> None:
        def seen(newest: BackupState) -> None:
            self.state = newest
            self.told.emit(newest)
            then()

        self._desk.fetch(lambda: _newest(self._place), owner=self, then=seen)

    def _write_if_due(self) -> None:
        if self._keeps and not self._writing and self._desk.newest_act:
            self._desk.read(_last_act_at, owner=self, then=self._write_if_older, key="last act")

    def _write_if_older(self, last_act: datetime | None) -> None:
        at, now = self.state.at, self._desk.clock.now()
        often = HOUR if self._desk.ledger.file is not None else OLD
        behind = self._desk.newest_act > self._desk.backed_up_to or (
            last_act is not None and at is not None and last_act > at
        )
        if not self._writing and (at is None or now - at >= OLD or (behind and now - at >= often)):
            self._writing = True
            self.write(self._written, self._not_written)

    def _written(self, _path: Path) -> None:
        self._writing = False
        self.look()

    def _not_written(self, error: BaseException) -> None:
        self._writing = False
        self._desk.say(f"No backup was written: {error}", "watch")

    def _job_moved(self, job: object) -> None:
        if job is None:
            self.look()


def _newest(place: Path) -> BackupState:
    kept = max(kept_backups(place), key=lambda one: one.at, default=None)
    return BackupState(kept.at, kept.size_bytes) if kept else BackupState()


def _last_act_at(session: Session) -> datetime | None:
    return next((line.at for line in acts(session, limit=1)), None)
