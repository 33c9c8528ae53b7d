"""The books of stock while an act writes in them, and the balances kept up at its end.

Entries are rows of the ledger; a balance is their sum, derived. Only the sums that an act changed are written
again, from the images the act keeps anyway, so that no act costs more in the tenth year than in the first.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from datetime import date
from typing import Any

from sqlalchemy import ColumnElement, delete, func, insert, select, update

from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade
from beeledger.base.text import listed
from beeledger.database.audit import Image, OpenAct
from beeledger.model.acts import Act, ActRow
from beeledger.model.stock import StockBalance, StockCount, StockEntry, StockItem
from beeledger.queries.stock_balances import LYING, account_names, account_of, as_columns, balances
from beeledger.rules.stock_items import PLACES, UNCOUNTED, Account, At, amount

_Key = tuple[int, int, At]
"""Item, lot (nought for none), account."""
_FOLLOWS = ("round_id", "batch_id")
"""An entry with one of these was not typed: it follows from a round or a jarring."""
_NO_LOT = 0
_SINCE = "counted since"
_MOST = 3
"""Acts that are named."""


class Books:
    """What places and hives hold of some items, kept true while entries are written; what is taken goes lot by lot."""

    def __init__(self, act: OpenAct, item_ids: Collection[int]) -> None:
        """Read the balances, with what this act has written so far."""
        self._act = act
        rows = []
        if item_ids:
            act.session.flush()
            rows = balances(act.session, item_ids, LYING)
        self._turns = {(row.item_id, row.lot_id or 0): row.turn for row in rows}
        self._held: Counter[_Key] = Counter(
            {(row.item_id, row.lot_id or 0, row.at): row.quantity for row in rows}
        )
        for key, change in _changes(act).items():
            self._held[key] += change

    def there(self, item_id: int, at: At, lot_id: int | None = None) -> int:
        """How much a place, or the hives, hold, of one lot or of all."""
        return sum(
            quantity
            for (item, lot, account), quantity in self._held.items()
            if (item, account) == (item_id, at) and lot_id in (None, lot)
        )

    def since(self, item_id: int, at: At, lot_id: int | None, on: date) -> int:
        """How much more of it came there than went on the days after ``on``."""
        more = 0
        for end, sign in (("to_", 1), ("from_", -1)):
            query = select(func.coalesce(func.sum(StockEntry.quantity), 0)).where(
                StockEntry.item_id == item_id, StockEntry.on > on, *_at(at, end),
                *(() if lot_id is None else (StockEntry.lot_id == lot_id,)),
            )  # fmt: skip
            more += sign * int(self._act.session.scalar(query) or 0)
        return more

    def lots_at(self, item_id: int, at: At) -> list[tuple[int | None, int]]:
        """Lots with what an account holds of each, in the order of use."""
        found = [
            (lot, quantity)
            for (item, lot, account), quantity in self._held.items()
            if (item, account) == (item_id, at) and quantity > 0
        ]
        found.sort(key=lambda one: self.turn(item_id, one[0]))
        return [(lot or None, quantity) for lot, quantity in found]

    def turn(self, item_id: int, lot_id: int | None) -> tuple[date, date, int]:
        """Where a lot stands in the order of use."""
        lot = lot_id or 0
        return self._turns.get((item_id, lot), (date.max, date.max if lot else date.min, lot))

    def write(
        self,
        item_id: int,
        lot_id: int | None,
        quantity: int,
        source: At,
        target: At,
        on: date,
        reason: str,
        **links: Any,
    ) -> StockEntry:
        """Write one entry."""
        row = StockEntry(
            item_id=item_id, lot_id=lot_id, on=on, quantity=quantity, reason=reason,
            **as_columns(source, "from_"), **as_columns(target, "to_"), **links,
        )  # fmt: skip
        self._act.session.add(row)
        self._held[item_id, lot_id or 0, source] -= quantity
        self._held[item_id, lot_id or 0, target] += quantity
        return row

    def take(
        self, item_id: int, quantity: int, source: At, target: At, on: date, reason: str,
        lot_id: int | None = None, **links: Any,
    ) -> int:  # fmt: skip
        """Write a quantity taken lot by lot; what the source does not hold comes from what was never counted in.

        Returns how much that was.
        """
        left = quantity
        for lot, held in self.lots_at(item_id, source):
            part = min(left, held) if lot_id in (None, lot) else 0
            if part:
                self.write(item_id, lot, part, source, target, on, reason, **links)
                left -= part
        if left and target != UNCOUNTED:
            self.write(item_id, lot_id, left, UNCOUNTED, target, on, reason, **links)
        return left

    def counter(self, row: StockEntry, on: date, reason: str) -> None:
        """Write the counter entry of one; what its target no longer holds is first put there as never counted in."""
        source, target = account_of(row, "from_"), account_of(row, "to_")
        links = {name: getattr(row, name) for name in _FOLLOWS}
        short = row.quantity - self.there(row.item_id, target, row.lot_id or 0)
        if target.kind in PLACES and short > 0:
            self.write(row.item_id, row.lot_id, short, UNCOUNTED, target, on, reason)
        self.write(
            row.item_id, row.lot_id, row.quantity, target, source, on, reason, counters_id=row.id, **links
        )


def _at(at: At, end: str) -> Iterator[ColumnElement[bool]]:
    """That an entry names an account at one end."""
    return (getattr(StockEntry, name) == value for name, value in as_columns(at, end).items())


def settle_stock(act: OpenAct) -> None:
    """Bring the balances up to the act's entries; the last thing an act does with stock.

    Refused, naming what took from it, when a place would hold less than nothing. Where that comes of taking
    back a round or a jarring, which nothing may stop, the shortage is put in as never counted.
    """
    if StockEntry.__tablename__ not in act.touched:
        return
    _hold_counts(act)
    changes = {key: change for key, change in _changes(act).items() if change}
    held = _rows(act, {item for item, _, _ in changes}, {lot for _, lot, _ in changes})
    short = [
        (key, -quantity)
        for key, change in changes.items()
        if key[2].kind in PLACES and (quantity := held.get(key, (0, 0))[1] + change) < 0
    ]
    if short and not _follows(act):
        raise Refused([_below(act, key, missing) for key, missing in short])
    for (item, lot, at), missing in short:
        Books(act, ()).write(item, lot or None, missing, UNCOUNTED, at, act.today, "corrected")
    if short:
        act.session.flush()
        changes = {key: change for key, change in _changes(act).items() if change}
    _write(act, held, changes)


def _hold_counts(act: OpenAct) -> None:
    """A count holds: what is written, or taken back, of days before a place was counted leaves it as counted.

    What was used before was not there any more when it was counted, and what came before was.
    """
    sums: Counter[tuple[int, At, date]] = Counter()
    for sign, image in _images(act):
        on = date.fromisoformat(image["on"])
        for end, way in (("from_", -1), ("to_", 1)):
            if (at := account_of(image, end)).kind in PLACES:
                sums[image["item_id"], at, on] += sign * way * image["quantity"]
    early = {key: change for key, change in sums.items() if change}
    counted = _counted(act, {item for item, _, _ in early}) if early else {}
    late = [key for key in early if key[2] < counted.get(key[:2], date.min)]
    if not late:
        return
    books = Books(act, {item for item, _, _ in late})
    for item, at, on in late:
        change = early[item, at, on]
        if change < 0:
            books.write(item, None, -change, UNCOUNTED, at, on, _SINCE)
        else:
            loose = min(change, max(0, books.there(item, at, _NO_LOT)))  # what a count put there had no lot
            if loose:
                books.write(item, None, loose, at, UNCOUNTED, on, _SINCE)
            if change > loose:
                books.take(item, change - loose, at, UNCOUNTED, on, _SINCE)
    act.session.flush()


def _counted(act: OpenAct, item_ids: Collection[int]) -> dict[tuple[int, At], date]:
    """The day on which each place was last counted for all lots of an item."""
    found: dict[tuple[int, At], date] = {}
    query = select(StockCount).where(StockCount.item_id.in_(list(item_ids)), StockCount.lot_id.is_(None))
    for row in act.session.scalars(query):
        key = row.item_id, account_of(row, "")
        found[key] = max(row.on, found.get(key, row.on))
    return found


def _images(act: OpenAct) -> Iterator[tuple[int, Image]]:
    """Entries that the act takes away (−1) and writes (+1)."""
    for before, after in act.images.get(StockEntry.__tablename__, {}).values():
        yield from ((sign, image) for sign, image in ((-1, before), (1, after)) if image is not None)


def _changes(act: OpenAct) -> Counter[_Key]:
    """What the act's entries so far change, by item, lot and account."""
    found: Counter[_Key] = Counter()
    for sign, image in _images(act):
        lot, quantity = image["lot_id"] or _NO_LOT, sign * image["quantity"]
        found[image["item_id"], lot, account_of(image, "from_")] -= quantity
        found[image["item_id"], lot, account_of(image, "to_")] += quantity
    return found


def _follows(act: OpenAct) -> bool:
    """Whether what this act changed was not typed as stock, but follows from a round or a jarring."""
    images = act.images.get(StockEntry.__tablename__, {}).values()
    return any(image.get(name) for pair in images for image in pair if image for name in _FOLLOWS)


def _below(act: OpenAct, key: _Key, missing: int) -> Finding:
    """Less than nothing in a place: what took from it since, by name."""
    item_id, lot, at = key
    session = act.session
    query = (
        select(Act.sentence)
        .join(ActRow, ActRow.act_id == Act.id)
        .join(StockEntry, (ActRow.table == StockEntry.__tablename__) & (ActRow.row_id == StockEntry.id))
        .where(StockEntry.item_id == item_id, func.coalesce(StockEntry.lot_id, 0) == lot)
        .where(*_at(at, "from_"))
        .where(Act.id != act.id)
        .order_by(Act.id.desc())
        .limit(_MOST)
    )
    sentences = [f"“{sentence}”" for sentence in dict.fromkeys(session.scalars(query))]
    item = session.get_one(StockItem, item_id)
    place = account_names(session).get(at, "a place")
    what = f"{place} would hold {amount(missing, item.unit)} of {item.name} less than nothing"
    if sentences:
        what += f": on it stands {listed(sentences)}"
    return Finding("stock.below", Grade.REFUSED, what, "Take that back first, or count again")


def _rows(act: OpenAct, item_ids: Collection[int], lot_ids: Collection[int]) -> dict[_Key, tuple[int, int]]:
    """The number and quantity of each balance of some items and lots."""
    query = select(
        StockBalance.id, StockBalance.item_id, StockBalance.lot_id, StockBalance.kind, StockBalance.number,
        StockBalance.quantity,
    ).where(StockBalance.item_id.in_(list(item_ids)), StockBalance.lot_id.in_(list(lot_ids)))  # fmt: skip
    return {
        (item, lot, At(Account(kind), number or None)): (row_id, quantity)
        for row_id, item, lot, kind, number, quantity in act.session.execute(query)
    }


def _write(act: OpenAct, held: Mapping[_Key, tuple[int, int]], changes: Mapping[_Key, int]) -> None:
    # Straight to the table: derived rows are no part of the audit.
    connection = act.session.connection()
    gone, fresh = [], []
    for key, change in changes.items():
        row_id, quantity = held.get(key, (0, 0))
        if row_id and quantity + change:
            connection.execute(
                update(StockBalance).where(StockBalance.id == row_id).values(quantity=quantity + change)
            )
        elif row_id:
            gone.append(row_id)
        else:
            item, lot, at = key
            fresh.append(
                {
                    "item_id": item,
                    "lot_id": lot,
                    "kind": str(at.kind),
                    "number": at.number or 0,
                    "quantity": change,
                }
            )
    if gone:
        connection.execute(delete(StockBalance).where(StockBalance.id.in_(gone)))
    if fresh:
        connection.execute(insert(StockBalance), fresh)
