"""Backups: a copy of the file taken while others work, opened and checked after writing."""

from __future__ import annotations

import sqlite3
from contextlib import closing, suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path

from beeledger.base.clock import Clock
from beeledger.base.errors import CannotNow
from beeledger.base.paths import free_name
from beeledger.database.faults import faults
from beeledger.database.ledger import Ledger
from beeledger.database.lone import alone, glancing, reading

STAMP = "%Y%m%d-%H%M%S"


def folder_for(ledger_file: Path) -> Path:
    """Where the backups of a ledger lie: beside it."""
    return ledger_file.with_name(ledger_file.stem + " backups")


def backup(ledger: Ledger, folder: Path | None = None) -> Path:
    """Write a backup of a SQLite ledger, open and check it; returns its path.

    Raises CannotNow for a PostgreSQL ledger (its server's own dump serves there), a full disk, or a
    copy that does not check.
    """
    if ledger.file is None:
        raise CannotNow(
            "A ledger on a database server is backed up by the server's own tools.",
            "Use pg_dump, or ask who keeps the server.",
        )
    return _write(ledger.file, folder or folder_for(ledger.file), ledger.clock.now(), "")


def backup_before_migration(ledger: Ledger, revision: str) -> None:
    """One backup before each migration, kept apart from the thinning; a server's is its keeper's work."""
    if ledger.file is not None:
        _write(ledger.file, folder_for(ledger.file), ledger.clock.now(), f"-before-{revision}")


def restore(backup_file: Path, ledger_file: Path, clock: Clock) -> Path | None:
    """Put a backup in the place of the ledger; the file that stood there is moved aside and named.

    Returns where it was moved to. Raises CannotNow when the backup is no sound ledger.
    """
    check_copy(backup_file)
    aside = None
    part = ledger_file.with_name(ledger_file.name + ".part")
    with faults():
        _copy(backup_file, part)
        try:
            if ledger_file.exists():
                aside = _put_aside(ledger_file, clock.now())
            part.replace(ledger_file)
        finally:
            part.unlink(missing_ok=True)
    return aside


def _put_aside(ledger_file: Path, now: datetime) -> Path:
    """Rename the ledger, with the log that may hold its last acts; refused while a desk has it open."""
    with suppress(sqlite3.DatabaseError):  # damaged, or no database at all: it is put aside as it is
        alone(ledger_file, _IN_USE)
    aside = free_name(ledger_file.with_name(f"{ledger_file.stem} aside {now:{STAMP}}{ledger_file.suffix}"))
    for extra in ("-wal", "-shm"):
        log = ledger_file.with_name(ledger_file.name + extra)
        if log.exists():
            log.rename(aside.with_name(aside.name + extra))
    return ledger_file.rename(aside)


_IN_USE = CannotNow(
    "This ledger is open at a desk.", "Close BeeLedger on every desk, then restore the backup again."
)


def backups_of(ledger_file: Path) -> list[Path]:
    """The backups of a ledger, newest first."""
    folder = folder_for(ledger_file)
    return sorted(folder.glob("*.db"), key=lambda path: path.name, reverse=True) if folder.is_dir() else []


def last_backup(ledger_file: Path) -> datetime | None:
    """When the newest backup was written, in UTC."""
    moments = (_moment_of(path) for path in backups_of(ledger_file))
    return next((moment for moment in moments if moment is not None), None)


def _moment_of(path: Path) -> datetime | None:
    """When a backup was written, by its name; None for a file that is none of ours."""
    try:
        return datetime.strptime(path.stem[:15], STAMP).replace(tzinfo=UTC)
    except ValueError:
        return None


def thin(ledger_file: Path, now: datetime) -> list[Path]:
    """Remove backups beyond hourly for a day, daily for a week, weekly for a month, monthly ever after.

    Backups before a migration stay. Returns what was removed.
    """
    seen: set[tuple[str, str]] = set()
    removed = []
    for path in backups_of(ledger_file):
        moment = _moment_of(path)
        if moment is None or "-before-" in path.stem:
            continue
        age = now - moment
        if age < timedelta(days=1):
            slot = ("hour", f"{moment:%Y%m%d%H}")
        elif age < timedelta(days=7):
            slot = ("day", f"{moment:%Y%m%d}")
        elif age < timedelta(days=31):
            slot = ("week", f"{moment:%G%V}")
        else:
            slot = ("month", f"{moment:%Y%m}")
        if slot in seen:
            path.unlink()
            removed.append(path)
        seen.add(slot)
    return removed


def check_copy(path: Path) -> None:
    """Open a copy and see that it is a sound ledger; CannotNow says what is wrong."""
    with faults():
        if not path.exists():
            raise CannotNow(f"There is no backup at {path}.", "Choose another.")
        connection = glancing(path)
        try:
            sound = connection.execute("PRAGMA quick_check").fetchone()[0] == "ok"
            ours = connection.execute("SELECT 1 FROM sqlite_master WHERE name = 'act_row'").fetchone()
        finally:
            connection.close()
    if not sound or not ours:
        raise CannotNow(f"{path.name} is no sound BeeLedger ledger.", "Choose another backup.")


def _write(source: Path, folder: Path, now: datetime, suffix: str) -> Path:
    with faults():
        folder.mkdir(parents=True, exist_ok=True)
        target = folder / f"{now:{STAMP}}{suffix}.db"
        _copy(source, target)
    check_copy(target)
    return target


def _copy(source: Path, target: Path) -> None:
    part = target.with_name(target.name + ".part")
    part.unlink(missing_ok=True)
    try:
        _copy_pages(source, part)
        part.replace(target)
    finally:
        part.unlink(missing_ok=True)


def _copy_pages(source: Path, part: Path) -> None:
    with closing(reading(source)) as old, closing(sqlite3.connect(part)) as new:
        old.backup(new)
        new.execute("PRAGMA journal_mode=DELETE")
