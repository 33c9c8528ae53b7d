"""One item of stock in full: its accounts, lots, entries page by page, counts, use by week."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from sqlalchemy import func, select
from sqlalchemy.orm import Session, aliased

from beeledger.model.parties import Party
from beeledger.model.stock import StockCount, StockEntry, StockLot
from beeledger.queries.records.stock import Count, EntryRow, Held, ItemCard, Lot, WeekUse
from beeledger.queries.stock import items_of, places_of, rows_of, use_by_day
from beeledger.queries.stock_balances import Balance, account_names, account_of, balances
from beeledger.rules.stock import WEEK
from beeledger.rules.stock_items import PLACES, SUPPLIER, At

PAGE = 40
"""Entries on one page."""
_WEEKS = 52
_COUNTS = 12


def item_card(session: Session, item_id: int, today: date, page: int = 0) -> ItemCard:
    """An item in full, with one page of its entries, newest first. A constant number of statements."""
    item = items_of(session, [item_id])[0]
    names = account_names(session)
    held = balances(session, [item_id])
    total = session.scalar(select(func.count()).where(StockEntry.item_id == item_id)) or 0
    accounts = places_of(held, names)
    return ItemCard(
        item=item,
        row=rows_of(session, [item], today)[0],
        accounts=tuple(sorted(accounts, key=lambda one: one.kind not in PLACES)),
        lots=_lots(session, item_id, held, names, today),
        entries=_entries(session, item_id, names, page),
        entry_count=total,
        counts=_counts(session, item_id, names),
        weeks=_weeks(session, item_id, today),
    )


def _lots(
    session: Session, item_id: int, held: Sequence[Balance], names: Mapping[At, str], today: date
) -> tuple[Lot, ...]:
    by_lot: dict[int | None, list[Balance]] = defaultdict(list)
    for one in held:
        by_lot[one.lot_id].append(one)
    query = (
        select(StockLot, Party.name)
        .outerjoin(Party, Party.id == StockLot.supplier_id)
        .where(StockLot.item_id == item_id)
        .order_by(StockLot.acquired_on.desc(), StockLot.id.desc())
    )
    found = []
    for row, supplier in session.execute(query):
        mine = by_lot[row.id]
        there = [one for one in mine if one.at.kind in PLACES]
        left = sum(one.quantity for one in there)
        bought = -sum(one.quantity for one in mine if one.at == SUPPLIER)
        expired = left > 0 and row.expires_on is not None and row.expires_on < today
        found.append(
            Lot(
                row.id, row.batch or "", supplier or "", row.acquired_on, row.expires_on, row.price_pence, bought,
                left, places_of(there, names), expired,
            )
        )  # fmt: skip
    return tuple(sorted(found, key=lambda one: one.left == 0))


def _entries(session: Session, item_id: int, names: Mapping[At, str], page: int) -> tuple[EntryRow, ...]:
    counter = aliased(StockEntry)
    query = (
        select(StockEntry, StockLot.batch, counter.id)
        .outerjoin(StockLot, StockLot.id == StockEntry.lot_id)
        .outerjoin(counter, counter.counters_id == StockEntry.id)
        .where(StockEntry.item_id == item_id)
        .order_by(StockEntry.on.desc(), StockEntry.id.desc())
        .limit(PAGE)
        .offset(page * PAGE)
    )
    return tuple(
        EntryRow(
            row.id, row.on, row.quantity, _end(row, "from_", names), _end(row, "to_", names), batch or "",
            row.reason, row.note or "", row.round_id, row.batch_id, row.counters_id,
            countered=taken_back is not None or row.counters_id is not None,
        )
        for row, batch, taken_back in session.execute(query)
    )  # fmt: skip


def _end(row: StockEntry, end: str, names: Mapping[At, str]) -> Held:
    at = account_of(row, end)
    return Held(at.kind, at.number, names.get(at, ""), row.quantity)


def _counts(session: Session, item_id: int, names: Mapping[At, str]) -> tuple[Count, ...]:
    query = (
        select(StockCount)
        .where(StockCount.item_id == item_id)
        .order_by(StockCount.on.desc(), StockCount.id.desc())
        .limit(_COUNTS)
    )
    return tuple(
        Count(row.on, names.get(account_of(row, ""), ""), row.counted, row.held, row.reason or "")
        for row in session.scalars(query)
    )


def _weeks(session: Session, item_id: int, today: date) -> tuple[WeekUse, ...]:
    this_monday = today - timedelta(days=today.weekday())
    first = this_monday - timedelta(days=(_WEEKS - 1) * WEEK)
    used = use_by_day(session, [item_id], [(first, today)])[item_id]
    wasted = use_by_day(session, [item_id], [(first, today)], "wasted")[item_id]
    mondays = [first + timedelta(days=WEEK * number) for number in range(_WEEKS)]
    return tuple(WeekUse(monday, _within(used, monday), _within(wasted, monday)) for monday in mondays)


def _within(used: Mapping[date, int], monday: date) -> int:
    return sum(used.get(monday + timedelta(days=day), 0) for day in range(WEEK))
