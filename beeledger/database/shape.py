"""What must not be lost by a step from schema to schema: rows counted, and everything that guards them."""

from __future__ import annotations

import re
from dataclasses import dataclass

from sqlalchemy import Connection, text

from beeledger.database.schema import LET_GO


@dataclass(frozen=True, slots=True)
class Shape:
    """Rows of each table, and its guards: (table, name, words) of CHECKs, triggers, unique indexes, STRICT, AUTOINCREMENT."""

    counts: dict[str, int]
    guards: frozenset[tuple[str, str, str]]


def shape_of(connection: Connection) -> Shape:
    """Count the rows and read the guards of every table."""
    tables, guards = _sqlite(connection) if connection.dialect.name == "sqlite" else _postgresql(connection)
    counts = {
        name: connection.exec_driver_sql(f'SELECT count(*) FROM "{name}"').scalar() or 0 for name in tables
    }
    return Shape(counts, frozenset(guards))


def lost(before: Shape, after: Shape) -> list[str]:
    """What a step would lose, in words; nothing when all is kept."""
    fewer = [
        f"rows of {table}"
        for table, count in before.counts.items()
        if table != "alembic_version" and after.counts.get(table, 0) < count
    ]
    gone = {
        f"{name} of {table}"
        for table, name, _ in before.guards - after.guards
        if table in after.counts and name not in LET_GO
    }
    return fewer + sorted(gone)


def _sqlite(connection: Connection) -> tuple[list[str], set[tuple[str, str, str]]]:
    rows = connection.exec_driver_sql(
        "SELECT type, name, tbl_name, sql FROM sqlite_master WHERE name NOT LIKE 'sqlite_%'"
    ).all()
    guards = set()
    for kind, name, table, sql in rows:
        if kind == "trigger" or (kind == "index" and sql.upper().startswith("CREATE UNIQUE")):
            guards.add((table, name, _plain(sql)))
        elif kind == "table":
            found = re.findall(r"CONSTRAINT \"?((?:ck|uq)_\w+)\"? ((?:CHECK|UNIQUE) \(.*\))", sql)
            guards |= {(table, name, _plain(words)) for name, words in found}
            guards |= {(table, "STRICT", "")} if re.search(r"\)[^)]*\bSTRICT\b[^)]*$", sql) else set()
            guards |= {(table, "AUTOINCREMENT", "")} if "AUTOINCREMENT" in sql else set()
    return [name for kind, name, _, _ in rows if kind == "table"], guards


def _plain(sql: str) -> str:
    return " ".join(sql.replace('"', "").split())


def _postgresql(connection: Connection) -> tuple[list[str], set[tuple[str, str, str]]]:
    tables = connection.execute(text("SELECT tablename FROM pg_tables WHERE schemaname = current_schema()"))
    constraints = connection.execute(
        text(
            "SELECT c.relname, k.conname, pg_get_constraintdef(k.oid) FROM pg_constraint k "
            "JOIN pg_class c ON c.oid = k.conrelid "
            "WHERE k.contype IN ('c', 'x', 'f', 'u') AND k.connamespace = current_schema()::regnamespace"
        )
    )
    indexes = connection.execute(
        text(
            "SELECT tablename, indexname, indexdef FROM pg_indexes "
            "WHERE schemaname = current_schema() AND indexdef LIKE 'CREATE UNIQUE%'"
        )
    )
    guards = {(table, name, words) for table, name, words in [*constraints, *indexes]}
    return list(tables.scalars()), guards
