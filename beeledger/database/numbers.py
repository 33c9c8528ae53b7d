"""The numbers that tables have given their rows: a row that is gone keeps its number for ever."""

from __future__ import annotations

from sqlalchemy import Connection, Table, func, inspect, select, text

from beeledger.model.base import Base


def numbers_given(connection: Connection) -> dict[str, int]:
    """The highest number each numbered table ever gave a row."""
    kept = _kept_by_file(connection) if connection.dialect.name == "sqlite" else _kept_by_server(connection)
    given = {}
    for table in _numbered():
        highest = connection.scalar(select(func.max(table.c.id))) or 0
        given[table.name] = max(highest, kept.get(table.name, 0))
    return given


def count_on(connection: Connection, given: dict[str, int]) -> None:
    """Let each table of a new ledger count on from the number that it gave last in the old one."""
    for table in _numbered():
        if not given.get(table.name):
            continue
        values = {"name": table.name, "number": given[table.name]}
        if connection.dialect.name == "postgresql":
            connection.execute(text("SELECT setval(pg_get_serial_sequence(:name, 'id'), :number)"), values)
        elif table.dialect_options["sqlite"]["autoincrement"]:
            connection.execute(text("DELETE FROM sqlite_sequence WHERE name = :name"), values)
            connection.execute(text("INSERT INTO sqlite_sequence(name, seq) VALUES (:name, :number)"), values)


def _numbered() -> list[Table]:
    """Tables that number their rows themselves."""
    tables = Base.metadata.sorted_tables
    return [table for table in tables if table.autoincrement_column is not None]


def _kept_by_file(connection: Connection) -> dict[str, int]:
    if not inspect(connection).has_table("sqlite_sequence"):
        return {}
    return dict(connection.execute(text("SELECT name, seq FROM sqlite_sequence")).all())


def _kept_by_server(connection: Connection) -> dict[str, int]:
    given = {}
    for table in _numbered():
        name = connection.scalar(text("SELECT pg_get_serial_sequence(:name, 'id')"), {"name": table.name})
        given[table.name] = (
            connection.scalar(
                text(f"SELECT CASE WHEN is_called THEN last_value ELSE 0 END FROM {name}")  # noqa: S608  # the server's own word
            )
            or 0
        )
    return given
