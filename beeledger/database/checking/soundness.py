"""The file itself: sound pages, references that hold, triggers and CHECKs as the schema has them."""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import CheckConstraint, UniqueConstraint, text
from sqlalchemy.orm import Session

from beeledger.base.findings import Finding
from beeledger.database.checking.breach import breach
from beeledger.database.schema import TRIGGERS_SQLITE
from beeledger.database.shape import shape_of
from beeledger.model.base import Base

RESTORE = "Restore the last backup"


def sound(session: Session) -> Iterator[Finding]:
    """Pages and references (SQLite tells; PostgreSQL keeps them itself), triggers, exclusion and CHECKs."""
    if session.get_bind().dialect.name == "sqlite":
        yield from _sqlite(session)
    else:
        yield from _postgresql(session)


def _sqlite(session: Session) -> Iterator[Finding]:
    for (line,) in session.execute(text("PRAGMA quick_check")):
        if line != "ok":
            yield breach("sound", f"the file is damaged: {line}", "file", RESTORE)
    for table, row, parent, _ in session.execute(text("PRAGMA foreign_key_check")):
        yield breach("sound", f"it refers to a row of {parent} that is not there", f"{table} {row}")
    guards = shape_of(session.connection()).guards
    yield from _missing({name for _, name, _ in guards}, {trigger.split()[2] for trigger in TRIGGERS_SQLITE})
    strict = {table for table, name, _ in guards if name == "STRICT"}
    for table in Base.metadata.sorted_tables:
        if table.name not in strict:
            yield breach("sound", "it no longer refuses values of another type", table.name, RESTORE)


def _postgresql(session: Session) -> Iterator[Finding]:
    guards = shape_of(session.connection()).guards
    yield from _missing({name for _, name, _ in guards}, {"ex_placement_overlap"})


def _missing(there: set[str], overlap: set[str]) -> Iterator[Finding]:
    """What the tables say must guard them and does not."""
    for name in sorted(overlap - there):
        yield breach("sound", f"the guard {name} is missing", "placement", RESTORE)
    for table in Base.metadata.sorted_tables:
        constraints = [
            one for one in table.constraints if isinstance(one, (CheckConstraint, UniqueConstraint))
        ]
        indexes = [one for one in table.indexes if one.unique]
        for name in sorted({str(one.name) for one in (*constraints, *indexes)} - there):
            yield breach("sound", f"the guard {name} is missing", table.name, RESTORE)
