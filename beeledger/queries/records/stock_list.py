"""The stock list for paper: every item with what is there and what lies ahead, and boxes by state."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.queries.records.stock import Equipment, StockRow


@dataclass(frozen=True, slots=True)
class StockList:
    """What is there on a day."""

    on: date
    rows: tuple[StockRow, ...]
    equipment: Equipment

    @property
    def low(self) -> int:
        """How many items are low."""
        return sum(row.is_low for row in self.rows)
