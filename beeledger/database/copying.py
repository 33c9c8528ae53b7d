"""A whole ledger from SQLite to PostgreSQL or back: all or nothing, and proved before it counts.

The target is made anew in one transaction (a server) or as a part file that takes its name at the end (a
file): whatever breaks off, no half ledger is left. Rows pass in batches, so a large ledger needs no more memory
than a small one.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Table, insert, inspect, text
from sqlalchemy.engine import make_url
from sqlalchemy.exc import DataError, IntegrityError

from beeledger.base.clock import Clock
from beeledger.base.errors import CannotNow
from beeledger.base.text import listed
from beeledger.database.faults import faults
from beeledger.database.ledger import Ledger, engine_for
from beeledger.database.migrating import build
from beeledger.database.numbers import count_on, numbers_given
from beeledger.database.proving import (
    RowMarks,
    TableSum,
    all_rows,
    count_rows,
    ledger_tables,
    read_sum,
    table_sum,
)

Progress = Callable[[int, int], None]
"""Told the rows done and the rows there are, each passing twice; what it raises breaks the copy off."""


@dataclass(frozen=True, slots=True)
class Copied:
    """A copy that was proved: what each table came to, on both sides alike."""

    tables: tuple[TableSum, ...]

    @property
    def rows(self) -> int:
        """Rows of all tables together."""
        return sum(table.rows for table in self.tables)


def copy_ledger(
    source: Ledger, target: str, clock: Clock, progress: Progress | None = None, *, hold: bool = True
) -> Copied:
    """Copy the whole ledger to a file that is not there yet or a PostgreSQL database without tables.

    While it runs nobody else writes to the source; with ``hold`` off they may, and the copy is of one moment.
    Raises CannotNow when the target is not empty, or when the two are not alike at the end: then nothing
    is left at the target.
    """
    with faults(), _target_of(target, clock) as into, _held(source, hold=hold), source.read() as session:
        return _Copy(session.connection(), into, progress or _silent).carry()


def address_shown(target: str) -> str:
    """A ledger's address as it may be shown: without its password."""
    if not target.startswith("postgresql"):
        return target
    return make_url(target).render_as_string(hide_password=True)


@dataclass(slots=True)
class _Copy:
    source: Connection
    target: Connection
    progress: Progress
    total: int = field(default=0)
    done: int = field(default=0)

    def carry(self) -> Copied:
        """Rows over, references back in force, numbers counted on; then both sides are compared."""
        self.total = 2 * sum(count_rows(self.source).values())
        references = _without_references(self.target)
        try:
            sent = [self._send(table) for table in ledger_tables()]
            _with_references(self.target, references)
        except (IntegrityError, DataError) as error:
            raise CannotNow(
                f"The new database does not take a row of this ledger: {str(error.orig).splitlines()[0]}.",
                "Nothing was left there. See what beeledger check says of the ledger.",
            ) from error
        count_on(self.target, numbers_given(self.source))
        came = [self._seen(table) for table in ledger_tables()]
        if unlike := [one.table for one, other in zip(sent, came, strict=True) if one != other]:
            raise CannotNow(
                f"The copy is not like the ledger in {listed(unlike)}.",
                "It was taken away again, and the ledger is as it was. Report this.",
            )
        return Copied(tuple(came))

    def _send(self, table: Table) -> TableSum:
        marks = RowMarks()
        with all_rows(self.source, table) as found:
            for rows in found.partitions():
                marks.add(rows)
                self.target.execute(insert(table), [row._asdict() for row in rows])
                self._passed(len(rows))
        return table_sum(self.source, table, marks)

    def _seen(self, table: Table) -> TableSum:
        seen = read_sum(self.target, table)
        self._passed(seen.rows)
        return seen

    def _passed(self, rows: int) -> None:
        self.done += rows
        self.progress(self.done, self.total)


@contextmanager
def _held(source: Ledger, *, hold: bool) -> Iterator[None]:
    """Be the only writer of the source, so that no act is done that the copy would not hold."""
    if not hold:
        yield
        return
    with source.engine.connect().execution_options(ledger_mode="write") as connection, connection.begin():
        yield


@contextmanager
def _target_of(target: str, clock: Clock) -> Iterator[Connection]:
    """A transaction on the new, empty ledger; it counts only when the block ends well."""
    if target.startswith("postgresql"):
        with _opened(Ledger(target, engine_for(target), clock)) as connection:
            yield connection
        return
    path = Path(target)
    if path.exists():
        raise CannotNow(f"There is something at {path} already.", "Copy into a file that is not there yet.")
    if not path.parent.is_dir():
        raise CannotNow(f"There is no folder {path.parent}.", "Make it, or choose another place.")
    part = path.with_name(path.name + ".part")
    part.unlink(missing_ok=True)
    try:
        with _opened(Ledger(str(part), engine_for(str(part)), clock)) as connection:
            yield connection
        _settle(part)
        part.rename(path)
    finally:
        for left in ("", "-wal", "-shm"):
            part.with_name(part.name + left).unlink(missing_ok=True)


@contextmanager
def _opened(new: Ledger) -> Iterator[Connection]:
    """The connection of a part file does not keep a log: broken off, the file is thrown away as it is."""
    try:
        with new.engine.connect().execution_options(ledger_mode="write") as connection:
            if new.is_sqlite:
                driver: Any = connection.connection.driver_connection
                for order in ("journal_mode=OFF", "synchronous=OFF", "foreign_keys=OFF"):
                    driver.execute(f"PRAGMA {order}")
            with connection.begin():
                if inspect(connection).get_table_names():
                    raise CannotNow(
                        "The database to copy into is not empty.",
                        "Make a new one for it. The one given was left as it is.",
                    )
                build(connection)
                yield connection
    finally:
        new.close()


def _settle(part: Path) -> None:
    """The disk holds the file before it takes its name."""
    with part.open("rb+") as file:
        os.fsync(file.fileno())


def _without_references(connection: Connection) -> list[tuple[str, str, str]]:
    """On PostgreSQL take the references off, for rows may refer to later ones; on a file they are off already."""
    if connection.dialect.name == "sqlite":
        return []
    found = connection.execute(
        text(
            "SELECT c.relname, k.conname, pg_get_constraintdef(k.oid) FROM pg_constraint k "
            "JOIN pg_class c ON c.oid = k.conrelid "
            "WHERE k.contype = 'f' AND k.connamespace = current_schema()::regnamespace ORDER BY 1, 2"
        )
    ).all()
    for table, name, _words in found:
        connection.exec_driver_sql(f'ALTER TABLE "{table}" DROP CONSTRAINT "{name}"')
    return [(table, name, words) for table, name, words in found]


def _with_references(connection: Connection, references: list[tuple[str, str, str]]) -> None:
    """Put the references back in force over all rows."""
    if connection.dialect.name == "sqlite":
        broken = connection.exec_driver_sql("PRAGMA foreign_key_check").first()
        if broken is not None:
            raise CannotNow(
                f"Row {broken[1]} of {broken[0]} refers to a row of {broken[2]} that is not there.",
                "Nothing was copied. See what beeledger check says of the ledger.",
            )
    for table, name, words in references:
        connection.exec_driver_sql(f'ALTER TABLE "{table}" ADD CONSTRAINT "{name}" {words}')


def _silent(_done: int, _total: int) -> None:
    """Nobody wants to know."""
