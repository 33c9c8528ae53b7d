"""Backups: a copy of the ledger taken while others work, opened, counted and checked after writing.

A ledger on a server is copied row by row into a file, so a backup is the same thing everywhere: one SQLite
file that any desk can open. Where it lies is said by a place that stands for the ledger: its own file, or for a
server's a name in this desk's folder.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import closing, suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

from beeledger.base.clock import Clock
from beeledger.base.errors import CannotNow
from beeledger.base.paths import desk_folder, free_name
from beeledger.base.text import listed
from beeledger.database.faults import faults
from beeledger.database.ledger import Ledger
from beeledger.database.lone import alone, glancing, reading
from beeledger.database.opening import open_ledger
from beeledger.database.papers import copy_missing
from beeledger.database.papers import folder_for as papers_beside

STAMP = "%Y%m%d-%H%M%S"


def folder_for(ledger_file: Path) -> Path:
    """Where the backups of a ledger lie: beside it."""
    return ledger_file.with_name(ledger_file.stem + " backups")


def place_of(ledger: Ledger) -> Path:
    """The path beside which the backups of a ledger lie; for a server's nothing stands there itself."""
    if ledger.file is not None:
        return ledger.file
    url = ledger.engine.url
    named = f"{url.database or 'ledger'} at {url.host or 'this computer'}"
    return desk_folder() / (
        "".join(letter if letter.isalnum() or letter in " .-_" else "-" for letter in named) + ".beeledger"
    )


def backup(
    ledger: Ledger, folder: Path | None = None, progress: Callable[[int, int], None] | None = None
) -> Path:
    """Write a backup of a ledger, open, count and check it; returns its path.

    Papers are photographs and scans: those of a server's ledger are in the backup itself, those beside a file
    go with it when ``folder`` is elsewhere. Raises CannotNow for a full disk, or a copy that does not check.
    """
    place, now = place_of(ledger), ledger.clock.now()
    if ledger.file is None:
        return _from_server(ledger, folder or folder_for(place), now, progress)
    written = _write(ledger.file, folder or folder_for(place), now, "")
    if folder is not None:
        with faults():
            copy_missing(papers_beside(ledger.file), papers_with(folder, ledger.file))
    return written


def _from_server(
    ledger: Ledger, folder: Path, now: datetime, progress: Callable[[int, int], None] | None
) -> Path:
    """One moment of a server's ledger, while others write on; proved by the copy itself."""
    from beeledger.database.copying import copy_ledger  # noqa: PLC0415  # alembic comes with it: not at every start

    with faults():
        folder.mkdir(parents=True, exist_ok=True)
    target = free_name(folder / f"{now:{STAMP}}.db")
    copy_ledger(ledger, str(target), ledger.clock, progress, hold=False)
    check_copy(target)
    return target


def papers_with(folder: Path, ledger_file: Path) -> Path:
    """Where the papers of a file's ledger lie that went with its backups to a folder elsewhere."""
    return folder / papers_beside(ledger_file).name


def backup_before_migration(ledger: Ledger, revision: str) -> None:
    """One backup before each migration, kept apart from the thinning; a server's is its keeper's work."""
    if ledger.file is not None:
        _write(ledger.file, folder_for(ledger.file), ledger.clock.now(), f"-before-{revision}")


def restore(backup_file: Path, ledger_file: Path, clock: Clock) -> Path | None:
    """Put a backup in the place of the ledger; the file that stood there is moved aside and named.

    Papers that came with the backup and are missing are brought back. Returns where the file was moved to. Raises
    CannotNow when the backup is no sound ledger.
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
        copy_missing(papers_with(backup_file.parent, ledger_file), papers_beside(ledger_file))
    return aside


def restore_on_server(backup_file: Path, target: str, clock: Clock) -> int:
    """Bring a backup into a server's database without tables; returns its rows. Whoever keeps the server makes it.

    Raises CannotNow when the backup is no sound ledger, or the database is not empty.
    """
    from beeledger.database.copying import copy_ledger  # noqa: PLC0415  # as above

    check_copy(backup_file)
    with faults(), TemporaryDirectory(prefix="beeledger-") as folder:
        own = (
            Path(folder) / "backup.beeledger"
        )  # an older one is brought up to date, and the backup stays as it is
        _copy(backup_file, own)
        ledger = open_ledger(own, clock, create=False)
        try:
            return copy_ledger(ledger, target, clock).rows
        finally:
            ledger.close()


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
        held = _copy(source, target)
    try:
        check_copy(target)
        with faults(), closing(glancing(target)) as copy:
            _see_rows_are_there(held, _rows(copy), target.name)
    except CannotNow:
        target.unlink(missing_ok=True)  # what does not check must not be taken for a backup later
        raise
    return target


def _copy(source: Path, target: Path) -> dict[str, int]:
    """Copy a file whole; returns the rows that each table had at that moment."""
    part = target.with_name(target.name + ".part")
    part.unlink(missing_ok=True)
    try:
        held = _copy_pages(source, part)
        part.replace(target)
    finally:
        part.unlink(missing_ok=True)
    return held


def _copy_pages(source: Path, part: Path) -> dict[str, int]:
    with closing(reading(source)) as old, closing(sqlite3.connect(part)) as new:
        old.execute("BEGIN")  # rows are counted and pages copied at one moment
        held = _rows(old)
        old.backup(new)
        new.execute("PRAGMA journal_mode=DELETE")
    return held


def _rows(connection: sqlite3.Connection) -> dict[str, int]:
    tables = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
    return {
        name: connection.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0]  # noqa: S608  # the file's own names
        for (name,) in tables
    }


def _see_rows_are_there(held: dict[str, int], found: dict[str, int], name: str) -> None:
    if unlike := sorted(table for table in held.keys() | found.keys() if held.get(table) != found.get(table)):
        raise CannotNow(
            f"{name} does not hold the rows of the ledger: {listed(unlike)}.",
            "Look at the disk, then write another.",
        )
