"""Rows of a long table, made off the window's thread and kept while the record stands."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from typing import Generic, TypeVar

from beeledger.ui.widgets.cells import Row

L = TypeVar("L", bound=Hashable)


class RowsKept(Generic[L]):
    """The rows of lines, made anew only where the record changed: after an act that is a few of thousands."""

    def __init__(self, make: Callable[..., Row]) -> None:
        self._make = make
        self._said: tuple[Hashable, ...] = ()
        self._rows: dict[L, Row] = {}

    def of(self, lines: Iterable[L], *said: Hashable) -> list[Row]:
        """A row for each line in their order, as ``make(line, *said)`` gives it.

        Called by the read itself, off the window's thread: the first time takes long.
        """
        known = self._rows if self._said == said else {}
        rows = {line: known.get(line) or self._make(line, *said) for line in lines}
        self._said, self._rows = said, rows
        return list(rows.values())
