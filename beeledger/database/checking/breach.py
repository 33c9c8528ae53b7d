"""How a breach is said."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any, TypeVar

from beeledger.base.findings import Finding, Grade, Where

_Query = TypeVar("_Query", bound=Any)


def breach(
    code: str, what: str, record: str, mend: str = "Take back the act that did it, or correct the record"
) -> Finding:
    """A finding of the check: which line, what is wrong, with which record."""
    return Finding(code, Grade.REFUSED, what, mend, Where(record=record))


def among(query: _Query, column: Any, only: Collection[int] | None) -> _Query:
    """The select for some colonies alone; None: for all."""
    if only is None:
        return query
    narrowed: _Query = query.where(column.in_(only))
    return narrowed
