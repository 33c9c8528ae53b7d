"""A SQLite file by itself: looked at without touching it, and whether any desk has it open."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from beeledger.base.errors import CannotNow


def reading(path: Path) -> sqlite3.Connection:
    """A connection that cannot write, and takes its turn with the desks that do."""
    return sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)


def glancing(path: Path) -> sqlite3.Connection:
    """A connection for a short look that leaves no trace, not even a file beside it, where nobody has it open.

    It takes no turn with a desk that opens the file meanwhile, so nothing is copied by it.
    """
    log = path.with_name(path.name + "-wal")
    if log.exists() and log.stat().st_size:
        return reading(path)
    return sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro&immutable=1", uri=True)


def alone(path: Path, busy: CannotNow) -> None:
    """Raise ``busy`` while any connection to the file is open, of this process too."""
    with closing(sqlite3.connect(path, isolation_level=None, timeout=0.2)) as connection:
        try:
            # In WAL mode every open connection holds a share of the file, and exclusive mode wants all of it.
            connection.execute("PRAGMA locking_mode=EXCLUSIVE")
            connection.execute("BEGIN EXCLUSIVE")
            connection.execute("ROLLBACK")
        except sqlite3.OperationalError as error:
            if "locked" in str(error):
                raise busy from None
            raise
