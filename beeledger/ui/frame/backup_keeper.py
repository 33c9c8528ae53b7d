"""Keeps the backups of the ledger: one when the window is opened on an old one, one when it is closed after acts."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal

from beeledger.ui.desk.desk import Desk
from beeledger.ui.frame.status_line import OLD, BackupState
from beeledger.ui.parts.backups import kept_backups, write_backup

LOOK_EVERY_MS = 60_000


class BackupKeeper(QObject):
    """Knows the newest backup; writes one only once it was told to ``keep``."""

    told = Signal(object)
    """The ``BackupState`` as it is now."""

    def __init__(self, desk: Desk, parent: QObject) -> None:
        super().__init__(parent)
        self._desk = desk
        self._keeps = False
        self.state = BackupState(by_server=desk.ledger.file is None)
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_EVERY_MS)
        self._timer.timeout.connect(self.look)
        self._timer.start()
        desk.workers.job_moved.connect(self._job_moved)

    def keep(self) -> None:
        """Write a backup now if the last is older than a day, and from now on when the window is closed."""
        self._keeps = True
        self._ask(self._write_if_old)

    def look(self) -> None:
        """See what lies beside the ledger and tell it."""
        self._ask(lambda: None)

    def wanted(self) -> bool:
        """Whether there are acts that no backup holds yet."""
        return self._keeps and not self.state.by_server and self._desk.newest_act > self._desk.backed_up_to

    def write(self, then: Callable[[Path], None], failed: Callable[[BaseException], None]) -> None:
        """Write a backup."""
        write_backup(self._desk, owner=self, then=then, failed=failed)

    def _ask(self, then: Callable[[], None]) -> None:
        file = self._desk.ledger.file
        if file is None:
            self.told.emit(self.state)
            return

        def seen(newest: BackupState) -> None:
            self.state = newest
            self.told.emit(newest)
            then()

        self._desk.fetch(lambda: _newest(file), owner=self, then=seen)

    def _write_if_old(self) -> None:
        at = self.state.at
        old = at is None or self._desk.clock.now() - at >= OLD
        if old and self._desk.newest_act:
            self.write(self._written, self._not_written)

    def _written(self, _path: Path) -> None:
        self.look()

    def _not_written(self, error: BaseException) -> None:
        self._desk.say(f"No backup was written: {error}", "watch")

    def _job_moved(self, job: object) -> None:
        if job is None:
            self.look()


def _newest(file: Path) -> BackupState:
    kept = kept_backups(file)
    return BackupState(kept[0].at, kept[0].size_bytes) if kept else BackupState()
