"""The file itself: sound pages, references that hold, triggers and CHECKs as the schema has them."""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import CheckConstraint, text
from sqlalchemy.orm import Session

from beeledger.base.findings import Finding
from beeledger.database.checking.breach import breach
from beeledger.database.schema import TRIGGERS_SQLITE
from beeledger.model.base import Base


def sound(session: Session) -> Iterator[Finding]:
    """Pages and references (SQLite tells; PostgreSQL keeps them itself), triggers, exclusion and CHECKs."""
    if session.get_bind().dialect.name == "sqlite":
        yield from _sqlite(session)
    else:
        yield from _postgresql(session)


def _sqlite(session: Session) -> Iterator[Finding]:
    for (line,) in session.execute(text("PRAGMA quick_check")):
        if line != "ok":
            yield breach("sound", f"the file is damaged: {line}", "file", "Restore the last backup")
    for table, row, parent, _ in session.execute(text("PRAGMA foreign_key_check")):
        yield breach("sound", f"it refers to a row of {parent} that is not there", f"{table} {row}")
    there: dict[str, str | None] = dict(session.execute(text("SELECT name, sql FROM sqlite_master")).all())
    for trigger in TRIGGERS_SQLITE:
        name = trigger.split()[2]
        if name not in there:
            yield breach(
                "sound", f"the trigger {name} is missing", "file", "Open the ledger with this version again"
            )
    for table in Base.metadata.sorted_tables:
        for constraint in table.constraints:
            if isinstance(constraint, CheckConstraint) and str(constraint.name) not in (
                there.get(table.name) or ""
            ):
                yield breach(
                    "sound", f"the check {constraint.name} is missing", table.name, "Restore the last backup"
                )


def _postgresql(session: Session) -> Iterator[Finding]:
    names = set(session.scalars(text("SELECT conname FROM pg_constraint")))
    if "ex_placement_overlap" not in names:
        yield breach("sound", "the exclusion of overlapping placements is missing", "placement")
    for table in Base.metadata.sorted_tables:
        for constraint in table.constraints:
            if isinstance(constraint, CheckConstraint) and str(constraint.name)[:63] not in names:
                yield breach("sound", f"the check {constraint.name} is missing", table.name)
