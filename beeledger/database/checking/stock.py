"""Stock and equipment: to the piece and the gram, nothing below nothing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session, aliased

from beeledger.base.findings import Finding
from beeledger.database.checking.breach import breach
from beeledger.model.stock import StockBalance, StockEntry, StockItem, StockLot
from beeledger.rules.stock_items import PLACES, Account, amount

_ENDS = ("from_", "to_")
_Key = tuple[int, int, str, int]
"""Item, lot (nought for none), kind of account, number of the place (nought for none)."""


def balanced(session: Session) -> Iterator[Finding]:
    """No place holds less than nothing of a lot, and the balances are the sums of the entries."""
    summed = _summed(session)
    said = {
        (row.item_id, row.lot_id, row.kind, row.number): row.quantity
        for row in session.execute(select(StockBalance.__table__))
    }
    items = {row.id: row for row in session.execute(select(StockItem.id, StockItem.name, StockItem.unit))}
    for key, quantity in sorted(summed.items()):
        if quantity < 0 and key[2] in {str(kind) for kind in PLACES}:
            below = amount(-quantity, items[key[0]].unit)
            what = f"{_place(key)} holds {below} of {items[key[0]].name} less than nothing"
            yield breach("stock", what, f"stock item {key[0]}", "Count the item there")
    for key in sorted(summed.keys() | said.keys()):
        if summed.get(key, 0) != said.get(key, 0):
            name = items[key[0]].name if key[0] in items else f"item {key[0]}"
            what = f"{_place(key)} is said to hold {said.get(key, 0):,} of {name}, the entries say {summed.get(key, 0):,}"
            yield breach("stock", what, f"stock item {key[0]}")


def lots_and_counters(session: Session) -> Iterator[Finding]:
    """An entry's lot is of its item; a counter entry is the exact reverse of what it takes back."""
    strange = (
        select(StockEntry.id)
        .join(StockLot, StockLot.id == StockEntry.lot_id)
        .where(StockLot.item_id != StockEntry.item_id)
    )
    for number in session.scalars(strange):
        yield breach("stock-lots", "an entry takes from a lot of another item", f"entry of stock {number}")
    first = aliased(StockEntry)
    query = select(StockEntry, first).join(first, first.id == StockEntry.counters_id)
    for row, taken_back in session.execute(query):
        if _sides(row) != tuple(reversed(_sides(taken_back))) or _goods(row) != _goods(taken_back):
            what = f"it does not reverse entry {taken_back.id}, which it takes back"
            yield breach("stock-lots", what, f"entry of stock {row.id}")


def turned(session: Session) -> Iterator[Finding]:
    """Boxes that changed their state: as many came out of the change as went in, for each kind and frame size."""
    sums: Counter[tuple[str, str]] = Counter()
    for end, sign in (("to_kind", 1), ("from_kind", -1)):
        query = (
            select(StockItem.box, StockItem.frame_size, func.sum(StockEntry.quantity))
            .join(StockItem, StockItem.id == StockEntry.item_id)
            .where(getattr(StockEntry, end) == str(Account.TURNED))
            .group_by(StockItem.box, StockItem.frame_size)
        )
        for box, size, quantity in session.execute(query):
            sums[box or "no box", size or ""] += sign * int(quantity)
    for (box, size), quantity in sorted(sums.items()):
        if quantity:
            what = (
                f"{abs(quantity):,} {box} {size}".rstrip()
                + " changed state and became nothing, or came of nothing"
            )
            yield breach("stock-turned", what, "entries of stock")


def _summed(session: Session) -> Counter[_Key]:
    sums: Counter[_Key] = Counter()
    for end, sign in zip(_ENDS, (-1, 1), strict=True):
        columns = [
            getattr(StockEntry, f"{end}{name}") for name in ("store_id", "vehicle_id", "site_id", "party_id")
        ]
        keys = (
            StockEntry.item_id, func.coalesce(StockEntry.lot_id, 0), getattr(StockEntry, f"{end}kind"),
            func.coalesce(*columns, 0),
        )  # fmt: skip
        for *key, quantity in session.execute(select(*keys, func.sum(StockEntry.quantity)).group_by(*keys)):
            sums[key[0], key[1], key[2], key[3]] += sign * int(quantity)
    return sums


def _place(key: _Key) -> str:
    return f"{key[2]} {key[3]}" if key[3] else key[2]


def _sides(row: StockEntry) -> tuple[tuple[Any, ...], ...]:
    names = ("kind", "store_id", "vehicle_id", "site_id", "party_id")
    return tuple(tuple(getattr(row, f"{end}{name}") for name in names) for end in _ENDS)


def _goods(row: StockEntry) -> tuple[int, int | None, int]:
    return row.item_id, row.lot_id, row.quantity
