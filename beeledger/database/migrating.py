"""Migrations: backup first, alone on the database, and the whole compared before and after."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from alembic import command
from alembic.config import Config
from sqlalchemy import Connection, inspect, text

from beeledger.base.errors import CannotNow
from beeledger.base.text import listed
from beeledger.database.ledger import Ledger
from beeledger.database.lone import alone
from beeledger.database.schema import EXCLUSION_POSTGRESQL, HEAD, TRIGGERS_SQLITE
from beeledger.database.shape import Shape, lost, shape_of

FOLDER = Path(__file__).parent / "migrations"


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
            before, given = shape_of(connection), _numbers_given(connection)
            _upgrade(connection)
            guard(connection)
            _keep_numbers(connection, given)
            _see_all_is_kept(before, shape_of(connection))
            if ledger.is_sqlite and connection.exec_driver_sql("PRAGMA foreign_key_check").first():
                raise CannotNow("The step to the new version would break references.", "Nothing was changed.")
        if ledger.is_sqlite:
            _foreign_keys(connection, on=True)


def build(connection: Connection) -> None:
    """Make the tables of today's schema in an empty database, within the transaction at hand."""
    _upgrade(connection)
    guard(connection)


def _foreign_keys(connection: Connection, *, on: bool) -> None:
    """Straight to the driver: inside a transaction, which the engine would begin, the order has no effect."""
    driver: Any = connection.connection.driver_connection
    driver.execute(f"PRAGMA foreign_keys={'ON' if on else 'OFF'}")


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


def _numbers_given(connection: Connection) -> dict[str, int]:
    """The highest number each table of a file ever gave a row; PostgreSQL keeps its own count."""
    if connection.dialect.name != "sqlite" or not inspect(connection).has_table("sqlite_sequence"):
        return {}
    return dict(connection.execute(text("SELECT name, seq FROM sqlite_sequence")).all())


def _keep_numbers(connection: Connection, given: dict[str, int]) -> None:
    """Count on from there: a table made anew would give the numbers of rows that are gone once more."""
    for name, number in given.items():
        values = {"name": name, "number": number}
        there = text("UPDATE sqlite_sequence SET seq = max(seq, :number) WHERE name = :name")
        if inspect(connection).has_table(name) and not connection.execute(there, values).rowcount:
            connection.execute(text("INSERT INTO sqlite_sequence(name, seq) VALUES (:name, :number)"), values)


def _upgrade(connection: Connection) -> None:
    config = Config()
    config.set_main_option("script_location", str(FOLDER))
    config.attributes["connection"] = connection
    command.upgrade(config, HEAD)


def _see_all_is_kept(before: Shape, after: Shape) -> None:
    if gone := lost(before, after):
        raise CannotNow(
            f"The step to the new version would lose {listed(gone)}.",
            "Nothing was changed; keep the older version and report this.",
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
