"""Backups as the window shows and writes them: always off the window's thread, thinned afterwards."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from PySide6.QtCore import QObject

from beeledger.database.backup import STAMP, backup, backups_of, place_of, thin
from beeledger.database.erased_backups import holding, let_go
from beeledger.database.ledger import Ledger
from beeledger.queries.parties import erasures
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
    goes_at: datetime | None = None
    """When it is removed because it still holds a person who was erased since."""


def kept_backups(ledger_file: Path, erased: Sequence[datetime] = ()) -> list[KeptBackup]:
    """The backups of a ledger, newest first. Looks at the disk: call it through ``desk.fetch``.

    ``erased`` are the moments at which parties were erased: what was written before goes some day.
    """
    goes = {one.path: one.goes_at for one in holding(ledger_file, erased)}
    kept = []
    for path in backups_of(ledger_file):
        status = path.stat()
        try:
            at = datetime.strptime(path.stem[:_STAMP_LENGTH], STAMP).replace(tzinfo=UTC)
        except ValueError:
            at = datetime.fromtimestamp(status.st_mtime, UTC)
        kept.append(KeptBackup(path, at, status.st_size, "-before-" in path.stem, goes.get(path)))
    return kept


def backups_of_ledger(ledger: Ledger) -> list[KeptBackup]:
    """The same, with the day on which those go that still hold somebody erased since."""
    with ledger.read() as session:
        moments = erasures(session)
    return kept_backups(place_of(ledger), moments)


def write_backup(
    desk: Desk,
    *,
    owner: QObject,
    then: Callable[[Path], None],
    failed: Callable[[BaseException], None] | None = None,
    thins: bool = True,
) -> Job:
    """Write a backup as a job, open and check it, thin out the old ones unless that is left to the next."""
    holds = desk.newest_act

    def work(job: Job) -> Path:
        job.progress(0, 2)
        path = backup(desk.ledger, progress=job.progress)
        place = place_of(desk.ledger)
        if thins:
            thin(place, desk.clock.now())
        with desk.ledger.read() as session:
            moments = erasures(session)
        let_go(place, moments, desk.clock.now())
        return path

    def written(path: Path) -> None:
        desk.backed_up_to = max(desk.backed_up_to, holds)
        then(path)

    return desk.run("Writing a backup", work, owner=owner, then=written, failed=failed)
