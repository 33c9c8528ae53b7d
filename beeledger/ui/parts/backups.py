"""Backups as the window shows and writes them: always off the window's thread, thinned afterwards."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from PySide6.QtCore import QObject

from beeledger.database.backup import STAMP, backup, backups_of, thin
from beeledger.ui.desk.desk import Desk
from beeledger.ui.desk.jobs import Job

_STAMP_LENGTH = 15


@dataclass(frozen=True, slots=True)
class KeptBackup:
    """One backup: where it lies, when it was written, how large it is, and whether a new version made it."""

    path: Path
    at: datetime
    size_bytes: int
    before_version: bool = False


def kept_backups(ledger_file: Path) -> list[KeptBackup]:
    """The backups of a ledger, newest first. Looks at the disk: call it through ``desk.fetch``."""
    kept = []
    for path in backups_of(ledger_file):
        status = path.stat()
        try:
            at = datetime.strptime(path.stem[:_STAMP_LENGTH], STAMP).replace(tzinfo=UTC)
        except ValueError:
            at = datetime.fromtimestamp(status.st_mtime, UTC)
        kept.append(KeptBackup(path, at, status.st_size, "-before-" in path.stem))
    return kept


def write_backup(
    desk: Desk,
    *,
    owner: QObject,
    then: Callable[[Path], None],
    failed: Callable[[BaseException], None] | None = None,
) -> Job:
    """Write a backup as a job, open and check it, thin out the old ones."""
    holds = desk.newest_act

    def work(job: Job) -> Path:
        job.progress(0, 2)
        path = backup(desk.ledger)
        job.done, job.total = 1, 2
        if desk.ledger.file is not None:
            thin(desk.ledger.file, desk.clock.now())
        return path

    def written(path: Path) -> None:
        desk.backed_up_to = max(desk.backed_up_to, holds)
        then(path)

    return desk.run("Writing a backup", work, owner=owner, then=written, failed=failed)
