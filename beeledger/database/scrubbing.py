"""Erased words out of the file itself: what a database leaves behind in free pages and logs is written over.

What the disk keeps underneath, a server's write-ahead archive and its dumps are beyond the program's reach.
"""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import closing

from beeledger.base.errors import CannotNow
from beeledger.database.faults import faults
from beeledger.database.ledger import WAIT_MS, Ledger
from beeledger.model.base import Base

_BUSY = CannotNow(
    "Another desk is reading: the old words may still lie in the ledger's log.",
    "Close BeeLedger on the other desks, then clean the file again.",
)


def scrub(ledger: Ledger, tables: Iterable[str] = ()) -> None:
    """Write the database anew without what was erased: a file whole with its log, on a server the ``tables`` named.

    Raises CannotNow when another desk holds on to the old pages.
    """
    with faults():
        if ledger.is_sqlite:
            _scrub_file(ledger)
        else:
            _scrub_tables(ledger, tables)


def _scrub_file(ledger: Ledger) -> None:
    ledger.engine.dispose()  # a pooled connection of our own would hold the old pages
    with closing(ledger.engine.raw_connection()) as connection:
        cursor = connection.cursor()
        cursor.execute("PRAGMA query_only=OFF")
        cursor.execute("PRAGMA secure_delete=ON")
        cursor.execute("VACUUM")
        busy, _pages, _moved = cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
        cursor.close()
    if busy:
        raise _BUSY


def _scrub_tables(ledger: Ledger, tables: Iterable[str]) -> None:
    named = [name for name in ("act", "act_image", *tables) if name in Base.metadata.tables]
    with ledger.engine.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
        connection.exec_driver_sql(f"SET lock_timeout = '{WAIT_MS}ms'")
        for name in sorted(set(named)):
            connection.exec_driver_sql(f'VACUUM FULL "{name}"')
        connection.exec_driver_sql("RESET lock_timeout")
