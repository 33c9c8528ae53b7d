"""Backups: a copy of the file taken while others work, opened and checked after writing."""

from __future__ import annotations

import sqlite3
from datetime import UTC, datetime, timedelta
from pathlib import Path

from beeledger.base.clock import Clock
from beeledger.base.errors import CannotNow
from beeledger.database.faults import faults
from beeledger.database.ledger import Ledger

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
    with faults():
        if ledger_file.exists():
            aside = ledger_file.with_name(
                f"{ledger_file.stem} aside {clock.now():{STAMP}}{ledger_file.suffix}"
            )
            with sqlite3.connect(ledger_file) as old:
                old.execute("PRAGMA wal_checkpoint(TRUNCATE)")
            old.close()
            ledger_file.rename(aside)
            for extra in ("-wal", "-shm"):
                ledger_file.with_name(ledger_file.name + extra).unlink(missing_ok=True)
        _copy(backup_file, ledger_file)
    return aside


def backups_of(ledger_file: Path) -> list[Path]:
    """The backups of a ledger, newest first."""
    folder = folder_for(ledger_file)
    return sorted(folder.glob("*.db"), key=lambda path: path.name, reverse=True) if folder.is_dir() else []


def last_backup(ledger_file: Path) -> datetime | None:
    """When the newest backup was written, in UTC."""
    for path in backups_of(ledger_file):
        try:
            return datetime.strptime(path.stem[:15], STAMP).replace(tzinfo=UTC)
        except ValueError:
            continue
    return None


def thin(ledger_file: Path, now: datetime) -> list[Path]:
    """Remove backups beyond hourly for a day, daily for a week, weekly for a month, monthly ever after.

    Backups before a migration stay. Returns what was removed.
    """
    seen: set[tuple[str, str]] = set()
    removed = []
    for path in backups_of(ledger_file):
        if "-before-" in path.stem:
            continue
        moment = datetime.strptime(path.stem[:15], STAMP).replace(tzinfo=now.tzinfo)
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
        connection = sqlite3.connect(f"file:{path}?mode=ro", uri=True)
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
    reading = sqlite3.connect(f"file:{source}?mode=ro", uri=True)
    writing = sqlite3.connect(part)
    try:
        reading.backup(writing)
        writing.execute("PRAGMA journal_mode=DELETE")
    finally:
        writing.close()
        reading.close()
    part.replace(target)
