"""What rounds and jarrings do to the stock of themselves: feed used, supers on and off, jars, lids and labels.

Nothing here stops the act it follows from: what the store does not hold comes from what was never counted in,
and the item is then shown to be counted. A day before the last count of an item is settled by that count: the
store stays as counted.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import exists, select
from sqlalchemy.orm import aliased

from beeledger.database.audit import OpenAct
from beeledger.model.stock import StockCount, StockEntry, StockItem, StockStore
from beeledger.operations.stock_books import Books
from beeledger.rules.rounds.entry import Entry, FeedKind
from beeledger.rules.stock_items import HIVES, TURNED, UNCOUNTED, USED, Account, At, BoxState, ItemKind, Unit
from beeledger.rules.stock_use import Draw, Kept, comes_off_as, feed_draws, jar_draws, supers_that_go_on


@dataclass(slots=True)
class _Shelf:
    """The items kept, the store things are taken from (none while the farm has none), and what counts have settled."""

    items: tuple[Kept, ...]
    store: At | None
    settled: Mapping[int, date]
    """The day of each item up to which a count, or its first entry, has settled it."""
    books: Books
    on: date
    links: Mapping[str, Any]

    def source(self, item_id: int) -> At | None:
        """Where an item is taken from on that day."""
        return self.store if self.on >= self.settled.get(item_id, date.min) else None


def follow_round(act: OpenAct, round_id: int | None, on: date, entries: Iterable[Entry]) -> None:
    """Write what a round's feed and supers did to the stock; what an earlier version of it did is countered.

    ``round_id`` None: work written at the desk, without a round.
    """
    fed, supers_on, supers_off = _sums(entries)
    old = () if round_id is None else _standing(act, StockEntry.round_id == round_id)
    shelf = _shelf(act, on, (ItemKind.FEED, ItemKind.BOX), old, {"round_id": round_id})
    if not shelf.items and not old:
        return
    for row in old:
        shelf.books.counter(row, row.on, "corrected")
    for draw in feed_draws(fed, shelf.items):
        _draw(shelf, draw, USED, "fed")
    _supers_on(shelf, supers_on)
    _supers_off(shelf, supers_off)
    act.session.flush()


def follow_jarring(act: OpenAct, batch_id: int, on: date, jar_g: int, jars: int) -> None:
    """Write the jars and lids that a jarring used."""
    shelf = _shelf(act, on, (ItemKind.JAR, ItemKind.LID), (), {"batch_id": batch_id})
    for kind in (ItemKind.JAR, ItemKind.LID):
        for draw in jar_draws(kind, jar_g, jars, shelf.items):
            _draw(shelf, draw, USED, "jarred")


def follow_labels(act: OpenAct, batch_id: int, on: date, jar_g: int, labels: int) -> None:
    """Write the labels that were printed for a batch: printed, they are used, whatever becomes of them."""
    shelf = _shelf(act, on, (ItemKind.LABEL,), (), {"batch_id": batch_id})
    for draw in jar_draws(ItemKind.LABEL, jar_g, labels, shelf.items):
        _draw(shelf, draw, USED, "printed")


def _sums(entries: Iterable[Entry]) -> tuple[dict[FeedKind, tuple[int, int]], int, int]:
    fed: dict[FeedKind, tuple[int, int]] = defaultdict(lambda: (0, 0))
    on = off = 0
    for entry in entries:
        if entry.feed_kind is not None and (entry.feed_ml or entry.feed_g):
            ml, grams = fed[entry.feed_kind]
            fed[entry.feed_kind] = (ml + (entry.feed_ml or 0), grams + (entry.feed_g or 0))
        on, off = on + (entry.supers_on or 0), off + (entry.supers_off or 0)
    return fed, on, off


def _shelf(
    act: OpenAct, on: date, kinds: Sequence[ItemKind], old: Sequence[StockEntry], links: Mapping[str, Any]
) -> _Shelf:
    store_id = act.session.scalar(select(StockStore.id).where(StockStore.usual.in_([True])).limit(1))
    counted = (
        select(StockCount.on)
        .where(
            StockCount.item_id == StockItem.id, StockCount.store_id == store_id, StockCount.lot_id.is_(None)
        )
        .order_by(StockCount.on.desc())
        .limit(1)
        .correlate(StockItem)
        .scalar_subquery()
    )
    first = (
        select(StockEntry.on)
        .where(StockEntry.item_id == StockItem.id)
        .order_by(StockEntry.on, StockEntry.id)
        .limit(1)
        .correlate(StockItem)
        .scalar_subquery()
    )
    query = select(StockItem, counted, first).where(
        StockItem.retired_on.is_(None), StockItem.kind.in_([str(kind) for kind in kinds])
    )
    rows = act.session.execute(query.order_by(StockItem.id)).all()
    settled = {row.id: max(day for day in (last, began, date.min) if day) for row, last, began in rows}
    ids = {row.id for row, _, _ in rows} | {row.item_id for row in old}
    store = At(Account.STORE, store_id) if store_id is not None else None
    items = tuple(_kept(row) for row, _, _ in rows)
    return _Shelf(items, store, settled, Books(act, ids), on, links)


def _kept(row: StockItem) -> Kept:
    return Kept(
        row.id, ItemKind(row.kind), Unit(row.unit), FeedKind(row.feed_kind) if row.feed_kind else None,
        row.sugar_hundredths, row.fits_g, row.box, row.frame_size,
        BoxState(row.box_state) if row.box_state else None,
    )  # fmt: skip


def _standing(act: OpenAct, mine: Any) -> Sequence[StockEntry]:
    """The entries of a round that nothing has countered yet, newest first."""
    counter = aliased(StockEntry)
    query = select(StockEntry).where(
        mine, StockEntry.counters_id.is_(None), ~exists().where(counter.counters_id == StockEntry.id)
    )
    return act.session.scalars(query.order_by(StockEntry.id.desc())).all()


def _draw(shelf: _Shelf, draw: Draw, target: At, reason: str) -> None:
    """Take from the items in the order of their lots; the rest was never counted in."""
    left = draw.quantity
    lots = sorted(
        (
            (shelf.books.turn(item_id, lot), item_id, lot, held)
            for item_id in draw.item_ids
            if (source := shelf.source(item_id)) is not None
            for lot, held in shelf.books.lots_at(item_id, source)
        ),
    )
    for _, item_id, lot, held in lots:
        part = min(left, held)
        if part and shelf.store is not None:
            shelf.books.write(
                item_id, lot or None, part, shelf.store, target, shelf.on, reason, **shelf.links
            )
            left -= part
    if left:
        shelf.books.write(
            draw.item_ids[0], None, left, UNCOUNTED, target, shelf.on, reason, **shelf.links
        )  # fmt: skip


def _supers_on(shelf: _Shelf, supers: int) -> None:
    candidates = supers_that_go_on(shelf.items)
    left = supers if candidates else 0
    for item in candidates:
        source = shelf.source(item.id)
        part = min(left, max(0, shelf.books.there(item.id, source))) if source is not None else 0
        if part and source is not None:
            shelf.books.take(item.id, part, source, HIVES, shelf.on, "supers on", **shelf.links)
            left -= part
    if left:
        shelf.books.write(
            candidates[0].id, None, left, UNCOUNTED, HIVES, shelf.on, "supers on", **shelf.links
        )


def _supers_off(shelf: _Shelf, supers: int) -> None:
    candidates = supers_that_go_on(shelf.items)
    left = supers if candidates else 0
    for item in candidates:
        part = min(left, max(0, shelf.books.there(item.id, HIVES)))
        if part:
            _bring_in(shelf, item, part)
            left -= part
    if left:
        wet = comes_off_as(candidates[0], shelf.items)
        target = shelf.source(wet.id)
        if target is not None:
            shelf.books.write(wet.id, None, left, UNCOUNTED, target, shelf.on, "supers off", **shelf.links)


def _bring_in(shelf: _Shelf, item: Kept, supers: int) -> None:
    wet = comes_off_as(item, shelf.items)
    target = shelf.source(wet.id) or UNCOUNTED
    if wet.id == item.id:
        shelf.books.take(item.id, supers, HIVES, target, shelf.on, "supers off", **shelf.links)
        return
    shelf.books.take(item.id, supers, HIVES, TURNED, shelf.on, "supers off", **shelf.links)
    shelf.books.write(wet.id, None, supers, TURNED, target, shelf.on, "supers off", **shelf.links)
