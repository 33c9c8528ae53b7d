"""What each account holds, read from the balances that every act keeps up; and accounts as columns and words.

The cost does not grow with years: a balance is one row for an item, lot and account that holds something.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from datetime import date
from functools import partial
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.model.parties import Party, Vehicle
from beeledger.model.sites import Site
from beeledger.model.stock import StockBalance, StockLot, StockStore
from beeledger.rules.stock_items import PLACES, Account, At

_COLUMNS = {
    Account.STORE: "store_id",
    Account.VAN: "vehicle_id",
    Account.SITE: "site_id",
    Account.EXTRACTOR: "party_id",
}
LYING = (*PLACES, Account.HIVES)
"""Accounts that hold what can be taken."""
WORDS: Mapping[Account, str] = {
    Account.SUPPLIER: "supplier",
    Account.HIVES: "the hives",
    Account.USED: "used",
    Account.WASTED: "wasted",
    Account.LOST: "lost",
    Account.UNCOUNTED: "never counted in",
    Account.TURNED: "changed into another state",
}
"""How accounts without a number are said."""


@dataclass(frozen=True, slots=True)
class Balance:
    """What one account holds of one lot of an item; ``lot_id`` None: of no lot."""

    item_id: int
    lot_id: int | None
    at: At
    quantity: int
    expires_on: date | None = None
    acquired_on: date | None = None

    @property
    def turn(self) -> tuple[date, date, int]:
        """The order in which lots are used: what expires first, then what came first."""
        return self.expires_on or date.max, self.acquired_on or date.min, self.lot_id or 0


def balances(
    session: Session, item_ids: Collection[int] | None = None, kinds: Collection[Account] | None = None
) -> list[Balance]:
    """All balances of some items, or of every item, in the order of use.

    ``kinds`` asks for some kinds of account alone. Where goods came from and went keeps a row of every lot there
    ever was; where they lie (``LYING``) only of lots that are not used up, so this costs the same every year.
    """
    query = select(
        StockBalance.item_id, StockBalance.lot_id, StockBalance.kind, StockBalance.number, StockBalance.quantity,
        StockLot.expires_on, StockLot.acquired_on,
    ).outerjoin(StockLot, StockLot.id == StockBalance.lot_id)  # fmt: skip
    if item_ids is not None:
        query = query.where(StockBalance.item_id.in_(list(item_ids)))
    if kinds is not None:
        query = query.where(StockBalance.kind.in_([str(kind) for kind in kinds]))
    found = [
        Balance(item, lot or None, At(Account(kind), number or None), quantity, expires, acquired)
        for item, lot, kind, number, quantity, expires, acquired in session.execute(query)
    ]
    return sorted(found, key=lambda one: one.turn)


def as_columns(at: At, end: str) -> dict[str, Any]:
    """An account as the columns of a row hold it; ``end`` is "from_", "to_" or nothing."""
    values: dict[str, Any] = {f"{end}kind": str(at.kind)}
    if at.kind in PLACES:
        values[f"{end}{_COLUMNS[at.kind]}"] = at.number
    return values


def account_of(row: Any, end: str) -> At:
    """The account that a row, or an image of one as a mapping, names at one end."""
    value: Callable[[str], Any] = row.get if isinstance(row, Mapping) else partial(getattr, row)
    kind = Account(value(f"{end}kind"))
    return At(kind, value(f"{end}{_COLUMNS[kind]}") if kind in PLACES else None)


def account_names(session: Session) -> dict[At, str]:
    """Every account in words; four statements."""
    names = {At(kind): word for kind, word in WORDS.items()}
    tables = (
        (Account.STORE, StockStore), (Account.VAN, Vehicle), (Account.SITE, Site), (Account.EXTRACTOR, Party)
    )  # fmt: skip
    for kind, table in tables:
        for number, name in session.execute(select(table.id, table.name)):
            names[At(kind, number)] = name
    return names
