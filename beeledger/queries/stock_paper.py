"""The record of the printed stock list."""

from __future__ import annotations

from datetime import date

from sqlalchemy.orm import Session

from beeledger.queries.equipment import equipment_counts
from beeledger.queries.records.stock_list import StockList
from beeledger.queries.stock import stock_list


def stock_sheet(session: Session, today: date) -> StockList:
    """Everything the farm keeps now, for paper: a constant number of statements."""
    return StockList(today, tuple(stock_list(session, today)), equipment_counts(session))
