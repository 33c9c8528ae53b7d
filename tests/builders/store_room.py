"""A store with sugar, supers, jars and lids bought into it: for tests of the stock. All names invented."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.stock import Bought, CountLine, Delivery, StockTake, buy_stock, count_stock
from beeledger.operations.stock_items import NewItem, NewStore, add_item, add_store
from beeledger.queries.stock_balances import balances
from beeledger.rules.rounds.entry import FeedKind
from beeledger.rules.stock_items import Account, At, BoxKind, BoxState, ItemKind, Unit

BOUGHT = date(2026, 3, 2)
SUGAR = NewItem(
    "Sugar, granulated", ItemKind.FEED, Unit.GRAM, pack=25_000, pack_word="sack", low=50_000, lead_days=7,
    supplier="Fen Mill", feed_kind=FeedKind.SUGAR, sugar_hundredths=10_000,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class StoreRoom:
    """The numbers of what was made."""

    ledger: Ledger
    barn: At
    sugar: int
    lots: tuple[int, int]
    """Two lots of sugar of 100 kg each; the second expires first."""
    drawn: int
    wet: int
    jars: int
    lids: int

    def there(self, item_id: int, at: At | None = None, lot_id: int | None = None) -> int:
        """What an account holds of an item; the barn unless another is named."""
        with self.ledger.read() as session:
            held = balances(session, [item_id])
        return sum(
            one.quantity for one in held if one.at == (at or self.barn) and lot_id in (None, one.lot_id)
        )


def super_item(name: str, state: BoxState) -> NewItem:
    """A National super in one state."""
    return NewItem(
        name, ItemKind.BOX, Unit.PIECE, box=BoxKind.SUPER, frame_size="national_super", box_state=state
    )


def store_room(ledger: Ledger) -> StoreRoom:
    """200 kg of sugar in two lots, 40 drawn supers counted in, 1,000 jars of 340 g and lids for any jar."""
    barn = At(Account.STORE, perform(ledger, add_store, NewStore("Barn")).result)
    sugar = perform(ledger, add_item, SUGAR).result
    drawn = perform(ledger, add_item, super_item("Supers, drawn", BoxState.DRAWN)).result
    wet = perform(ledger, add_item, super_item("Supers, wet", BoxState.WET)).result
    jars = perform(ledger, add_item, NewItem("Jars 340 g", ItemKind.JAR, Unit.PIECE, fits_g=340)).result
    lids = perform(ledger, add_item, NewItem("Lids", ItemKind.LID, Unit.PIECE)).result
    lines = (
        Bought(sugar, 100_000, "A1", date(2028, 6, 30), 9_000),
        Bought(sugar, 100_000, "A2", date(2027, 6, 30), 9_200),
        Bought(jars, 1_000),
        Bought(lids, 1_000),
    )
    lots = perform(ledger, buy_stock, Delivery(BOUGHT, barn, lines, supplier="Fen Mill")).result
    perform(ledger, count_stock, StockTake(BOUGHT, barn, (CountLine(drawn, 40),)))
    return StoreRoom(ledger, barn, sugar, (lots[0], lots[1]), drawn, wet, jars, lids)
