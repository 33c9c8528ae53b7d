"""How often a query asks the database."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import event

from beeledger.database.ledger import Ledger


@contextmanager
def statements(ledger: Ledger) -> Iterator[list[str]]:
    """The statements said while the block runs."""
    said: list[str] = []

    def note(_connection, _cursor, statement, *_rest) -> None:
        said.append(statement)

    event.listen(ledger.engine, "before_cursor_execute", note)
    try:
        yield said
    finally:
        event.remove(ledger.engine, "before_cursor_execute", note)
