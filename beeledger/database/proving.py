"""Whether two databases hold the same: rows counted, columns summed by the database, every value of every row hashed."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Column, Connection, Integer, LargeBinary, Result, Table, case, func, select

from beeledger.model.attachments import PaperBytes
from beeledger.model.base import Base, YesNo

BATCH = 2_000
"""Rows in hand at once: what a copy needs of memory does not grow with the ledger."""
FEW, ONE = 200, 1
"""The same of images, which may be large, and of papers, which are photographs and scans."""
_WRAP = 1 << 128


@dataclass(frozen=True, slots=True)
class TableSum:
    """What one table comes to; equal on two databases when their rows are, in whatever order they lie."""

    table: str
    rows: int
    sums: tuple[tuple[str, int | None], ...]
    """Each whole-number and yes-or-no column with its sum as the database itself makes it."""
    mark: str
    """The sum of the hashes of all rows, each over every value of the row."""


@dataclass(slots=True)
class RowMarks:
    """Adds up the hashes of rows as they pass. Sums do not hang on the order, and a row twice counts twice."""

    rows: int = 0
    total: int = field(default=0)

    def add(self, rows: Iterable[Sequence[Any]]) -> None:
        """Take these rows in: values as Python holds them, alike from both databases."""
        for row in rows:
            said = repr([_short(value) for value in row]).encode("utf-8", "surrogatepass")
            hashed = hashlib.blake2b(said, digest_size=16).digest()
            self.total = (self.total + int.from_bytes(hashed, "big")) % _WRAP
            self.rows += 1

    @property
    def mark(self) -> str:
        """The sum in hexadecimal digits."""
        return f"{self.total:032x}"


def ledger_tables() -> Sequence[Table]:
    """Every table of the ledger, those referred to before those that refer."""
    return Base.metadata.sorted_tables


def count_rows(connection: Connection) -> dict[str, int]:
    """The number of rows of each table."""
    return {
        table.name: connection.scalar(select(func.count()).select_from(table)) or 0
        for table in ledger_tables()
    }


def all_rows(connection: Connection, table: Table) -> Result[Any]:
    """All rows of a table, to be taken in ``partitions`` and closed; neither side holds more than a batch."""
    options = {"stream_results": True, "yield_per": _at_once(table)}
    return connection.execute(select(table), execution_options=options)


def table_sum(connection: Connection, table: Table, marks: RowMarks) -> TableSum:
    """What the database itself counts and sums, with the marks of the rows that passed."""
    summed = [column for column in table.columns if isinstance(column.type, (Integer, YesNo))]
    wanted = [func.count(), *(func.sum(_number(column)) for column in summed)]
    count, *sums = connection.execute(select(*wanted).select_from(table)).one()
    whole = [None if value is None else int(value) for value in sums]
    names = [column.name for column in summed]
    return TableSum(table.name, count, tuple(zip(names, whole, strict=True)), marks.mark)


def read_sum(connection: Connection, table: Table) -> TableSum:
    """Count, sum and hash a table by reading it from first to last row."""
    marks = RowMarks()
    with all_rows(connection, table) as found:
        for rows in found.partitions():
            marks.add(rows)
    return table_sum(connection, table, marks)


def _at_once(table: Table) -> int:
    if table is PaperBytes.__table__:
        return ONE
    return FEW if any(isinstance(column.type, LargeBinary) for column in table.columns) else BATCH


def _short(value: Any) -> Any:
    """Bytes by their hash, kept apart from text that would read alike."""
    return (hashlib.blake2b(value).digest(),) if isinstance(value, bytes) else value


def _number(column: Column[Any]) -> Any:
    return case((column, 1), (~column, 0)) if isinstance(column.type, YesNo) else column
