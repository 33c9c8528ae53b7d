"""The store of the sample farm: bought, used, counted, and its books are clean."""

from __future__ import annotations

from datetime import date

from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.model.stock import StockCount, StockEntry
from beeledger.queries.equipment import equipment_counts
from beeledger.queries.stock import stock_list
from tests.builders.yards import rows


def test_the_store_lives_with_the_farm_and_its_books_are_clean(sample_ledger: Ledger) -> None:
    assert check_ledger(sample_ledger).clean
    reasons = {row.reason for row in rows(sample_ledger, StockEntry)}
    assert reasons >= {
        "bought",
        "fed",
        "supers on",
        "supers off",
        "jarred",
        "printed",
        "turned",
        "wired into frames",
    }
    counted = {row.on for row in rows(sample_ledger, StockCount)}
    assert counted == {date(2025, 3, 16), date(2025, 7, 1), date(2025, 11, 2), date(2026, 3, 2)}
    with sample_ledger.read() as session:
        listed = stock_list(session, date(2026, 5, 14))
        boxes = equipment_counts(session)
    sugar = next(row for row in listed if row.name == "Sugar, granulated")
    assert sugar.outlook is not None
    assert sugar.outlook.basis == "the mean of the same weeks of 1 earlier year"
    assert sum(sugar.outlook.weeks) > 0
    assert all(abs(one.difference) <= 6 for one in boxes.on_hives)
