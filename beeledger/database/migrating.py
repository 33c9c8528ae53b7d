"""Migrations: backup first, alone on the database, and the whole compared before and after."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from alembic import command
from alembic.config import Config
from sqlalchemy import Connection, text

from beeledger.base.errors import CannotNow
from beeledger.database.ledger import Ledger
from beeledger.database.lone import alone
from beeledger.database.schema import EXCLUSION_POSTGRESQL, HEAD, TRIGGERS_SQLITE

FOLDER = Path(__file__).parent / "migrations"


@dataclass(frozen=True, slots=True)
class Shape:
    """What must not be lost by a step: rows counted, triggers, CHECK texts."""

    counts: dict[str, int]
    triggers: frozenset[str]
    checks: dict[str, frozenset[str]]


def migrate(ledger: Ledger, revision: str | None) -> None:
    """Bring the database from ``revision`` to HEAD in one transaction.

    Raises CannotNow when other desks are connected, or when rows, triggers or CHECKs would be lost;
    then nothing has changed.
    """
    if revision is not None:
        _alone(ledger)
        _backup(ledger, revision)
    with ledger.engine.connect() as connection:
        if ledger.is_sqlite:
            _foreign_keys(connection, on=False)
        with connection.execution_options(ledger_mode="write").begin():
            before = shape_of(connection)
            _upgrade(connection)
            guard(connection)
            _compare(before, shape_of(connection))
            if ledger.is_sqlite and connection.exec_driver_sql("PRAGMA foreign_key_check").first():
                raise CannotNow("The step to the new version would break references.", "Nothing was changed.")
        if ledger.is_sqlite:
            _foreign_keys(connection, on=True)


def _foreign_keys(connection: Connection, *, on: bool) -> None:
    """Straight to the driver: inside a transaction, which the engine would begin, the order has no effect."""
    driver: Any = connection.connection.driver_connection
    driver.execute(f"PRAGMA foreign_keys={'ON' if on else 'OFF'}")


def shape_of(connection: Connection) -> Shape:
    """Count, and read the triggers and CHECK texts of, every table."""
    if connection.dialect.name == "sqlite":
        rows = connection.exec_driver_sql("SELECT type, name, sql FROM sqlite_master").all()
        tables = {name: sql for kind, name, sql in rows if kind == "table" and not name.startswith("sqlite_")}
        triggers = frozenset(name for kind, name, _ in rows if kind == "trigger")
        checks = {
            name: frozenset(re.findall(r"CONSTRAINT (ck_\w+ CHECK \(.*\))", sql))
            for name, sql in tables.items()
        }
    else:
        names = connection.execute(
            text("SELECT tablename FROM pg_tables WHERE schemaname = current_schema()")
        ).scalars()
        tables = dict.fromkeys(names, "")
        triggers = frozenset(
            connection.execute(text("SELECT conname FROM pg_constraint WHERE contype = 'x'")).scalars().all()
        )
        found = connection.execute(
            text(
                "SELECT conrelid::regclass::text, conname || ' ' || pg_get_constraintdef(oid) FROM pg_constraint WHERE contype = 'c'"
            )
        ).all()
        checks = {name: frozenset(c for table, c in found if table.strip('"') == name) for name in tables}
    counts = {
        name: connection.exec_driver_sql(f'SELECT count(*) FROM "{name}"').scalar() or 0 for name in tables
    }
    return Shape(counts, triggers, checks)


def guard(connection: Connection) -> None:
    """Make again the triggers (SQLite) or the exclusion (PostgreSQL) that a step may have dropped."""
    if connection.dialect.name == "sqlite":
        for trigger in TRIGGERS_SQLITE:
            name = trigger.split()[2]
            connection.exec_driver_sql(f"DROP TRIGGER IF EXISTS {name}")
            connection.exec_driver_sql(trigger)
    else:
        there = connection.execute(
            text("SELECT 1 FROM pg_constraint WHERE conname = 'ex_placement_overlap'")
        ).first()
        if there is None:
            connection.exec_driver_sql(EXCLUSION_POSTGRESQL)


def _upgrade(connection: Connection) -> None:
    config = Config()
    config.set_main_option("script_location", str(FOLDER))
    config.attributes["connection"] = connection
    command.upgrade(config, HEAD)


def _compare(before: Shape, after: Shape) -> None:
    lost = [
        table
        for table, count in before.counts.items()
        if table != "alembic_version" and after.counts.get(table, 0) < count
    ]
    if lost or before.triggers - after.triggers:
        raise CannotNow(
            f"The step to the new version would lose rows or triggers ({', '.join(lost) or 'triggers'}).",
            "Nothing was changed; keep the older version and report this.",
        )
    for table, checks in before.checks.items():
        if table in after.checks and len(after.checks[table]) < len(checks):
            raise CannotNow(
                f"The step to the new version would lose checks of {table}.", "Nothing was changed."
            )


def _alone(ledger: Ledger) -> None:
    busy = CannotNow(
        "This ledger needs a new schema, and other desks have it open.",
        "Close BeeLedger on the other desks and open it again.",
    )
    if ledger.file is not None:
        ledger.engine.dispose()  # what this desk itself had open
        alone(ledger.file, busy)
        return
    with ledger.engine.connect() as connection:
        others = connection.execute(
            text(
                "SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() "
                "AND application_name = 'beeledger' AND pid <> pg_backend_pid()"
            )
        ).scalar()
    if others:
        raise busy


def _backup(ledger: Ledger, revision: str) -> None:
    from beeledger.database.backup import backup_before_migration  # noqa: PLC0415  # only when a step is due

    backup_before_migration(ledger, revision)
