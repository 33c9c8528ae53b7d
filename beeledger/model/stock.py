"""Stock and equipment by double entry: items, their lots, stores, entries, counts, and balances derived from them."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from sqlalchemy import CheckConstraint, ForeignKey, Index, text
from sqlalchemy.orm import Mapped, mapped_column

from beeledger.model.base import KEPT, STRICT, Base, Kept, at_least, between, one_of
from beeledger.rules.rounds.entry import FeedKind
from beeledger.rules.stock_items import PLACES, Account, BoxKind, BoxState, ItemKind, Unit

_REFERENCES = (("store", "store_id"), ("van", "vehicle_id"), ("site", "site_id"), ("extractor", "party_id"))


def _named(end: str) -> tuple[CheckConstraint, ...]:
    """An account of a kind that is a place names that place and no other."""
    return tuple(
        CheckConstraint(
            f"({end}kind = '{kind}') = ({end}{column} IS NOT NULL)", name=f"{end or 'place_'}{kind}_named"
        )
        for kind, column in _REFERENCES
    )


def _number(end: str) -> str:
    return "COALESCE(" + ", ".join(f"{end}{column}" for _, column in _REFERENCES) + ", 0)"


class StockItem(Kept):
    """A thing the farm keeps and counts."""

    __tablename__ = "stock_item"
    __table_args__ = (
        one_of("kind", ItemKind), one_of("unit", Unit), one_of("feed_kind", FeedKind), one_of("box", BoxKind),
        one_of("box_state", BoxState), CheckConstraint("length(name) > 0", name="name_given"),
        at_least("pack", 1), at_least("low"), between("lead_days", 0, 730), between("sugar_hundredths", 0, 10_000),
        between("fits_g", 5, 25_000),
        CheckConstraint("feed_kind IS NULL OR kind = 'feed'", name="feed_is_feed"),
        CheckConstraint("(kind = 'box') = (box IS NOT NULL)", name="box_kind_given"),
        CheckConstraint("(kind = 'box') = (box_state IS NOT NULL)", name="box_state_given"),
        CheckConstraint("kind <> 'box' OR unit = 'piece'", name="boxes_are_pieces"),
        Index("uq_stock_item_box", "box", "frame_size", "box_state", unique=True,
              sqlite_where=text("retired_on IS NULL AND box IS NOT NULL"),
              postgresql_where=text("retired_on IS NULL AND box IS NOT NULL")),
        KEPT,
    )  # fmt: skip

    name: Mapped[str] = mapped_column(unique=True)
    kind: Mapped[str]
    unit: Mapped[str]
    pack: Mapped[int | None]
    """How much one bought pack holds, in the item's unit."""
    pack_word: Mapped[str | None]
    """What a pack is called: sack, pallet, box."""
    low: Mapped[int | None]
    """Below so much it is low; None: only the forecast tells."""
    lead_days: Mapped[int | None]
    """Days from order to delivery."""
    supplier_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"))
    feed_kind: Mapped[str | None]
    """Which feed of the rounds it is."""
    sugar_hundredths: Mapped[int | None]
    """The share of sugar by weight, hundredths of a per cent."""
    fits_g: Mapped[int | None]
    """A jar, lid or label: the nominal weight of the jar it is for; None: for any."""
    box: Mapped[str | None]
    frame_size: Mapped[str | None]
    """The size of its frames, by the names of the rounds rule file."""
    box_state: Mapped[str | None]
    retired_on: Mapped[date | None]
    note: Mapped[str | None]


class StockStore(Kept):
    """A place of the farm's own where stock lies: the barn, the honey room, the cold store."""

    __tablename__ = "stock_store"
    __table_args__ = (CheckConstraint("length(name) > 0", name="name_given"), KEPT)

    name: Mapped[str] = mapped_column(unique=True)
    usual: Mapped[bool] = mapped_column(default=False)
    """Whether rounds and jarrings take from it."""
    closed_on: Mapped[date | None]


class StockLot(Kept):
    """What came in together: one supplier's batch of an item."""

    __tablename__ = "stock_lot"
    __table_args__ = (
        at_least("price_pence"),
        Index("ix_stock_lot_item", "item_id", "expires_on"),
        KEPT,
    )

    item_id: Mapped[int] = mapped_column(ForeignKey("stock_item.id"))
    supplier_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"))
    batch: Mapped[str | None]
    """The supplier's batch."""
    acquired_on: Mapped[date | None]
    expires_on: Mapped[date | None]
    price_pence: Mapped[int | None]
    """For all of the lot."""
    tax_code: Mapped[str | None]


class StockEntry(Kept):
    """A quantity of an item from one account to another. Never edited; corrected by a counter entry."""

    __tablename__ = "stock_entry"
    __table_args__ = (
        at_least("quantity", 1), one_of("from_kind", Account), one_of("to_kind", Account),
        *_named("from_"), *_named("to_"),
        CheckConstraint(f"from_kind <> to_kind OR {_number('from_')} <> {_number('to_')}", name="two_accounts"),
        CheckConstraint("counters_id <> id", name="counters_another"),
        Index("ix_stock_entry_item", "item_id", "on", "id"),
        Index("ix_stock_entry_used", "item_id", "to_kind", "on", "quantity"),
        Index("ix_stock_entry_lot", "lot_id"),
        Index("ix_stock_entry_countering", "item_id", "on", sqlite_where=text("counters_id IS NOT NULL"),
              postgresql_where=text("counters_id IS NOT NULL")),
        Index("ix_stock_entry_uncounted", "item_id", "on", sqlite_where=text("from_kind = 'uncounted'"),
              postgresql_where=text("from_kind = 'uncounted'")),
        Index("ix_stock_entry_round", "round_id"),
        Index("ix_stock_entry_batch", "batch_id"),
        KEPT,
    )  # fmt: skip

    item_id: Mapped[int] = mapped_column(ForeignKey("stock_item.id"))
    lot_id: Mapped[int | None] = mapped_column(ForeignKey("stock_lot.id"))
    on: Mapped[date]
    quantity: Mapped[int]
    from_kind: Mapped[str]
    from_store_id: Mapped[int | None] = mapped_column(ForeignKey("stock_store.id"))
    from_vehicle_id: Mapped[int | None] = mapped_column(ForeignKey("vehicle.id"))
    from_site_id: Mapped[int | None] = mapped_column(ForeignKey("site.id"))
    from_party_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"))
    to_kind: Mapped[str]
    to_store_id: Mapped[int | None] = mapped_column(ForeignKey("stock_store.id"))
    to_vehicle_id: Mapped[int | None] = mapped_column(ForeignKey("vehicle.id"))
    to_site_id: Mapped[int | None] = mapped_column(ForeignKey("site.id"))
    to_party_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"))
    reason: Mapped[str]
    """One word: bought, moved, fed, counted, corrected."""
    note: Mapped[str | None]
    round_id: Mapped[int | None] = mapped_column(ForeignKey("round.id"))
    batch_id: Mapped[int | None] = mapped_column(ForeignKey("batch.id"))
    counters_id: Mapped[int | None] = mapped_column(ForeignKey("stock_entry.id"), unique=True)
    """The entry that this one takes back."""


class StockCount(Kept):
    """What was counted of an item at a place on a day, beside what the record held."""

    __tablename__ = "stock_count"
    __table_args__ = (
        at_least("counted"), at_least("held"), one_of("kind", PLACES), *_named(""),
        Index("ix_stock_count_item", "item_id", "on", "id"),
        KEPT,
    )  # fmt: skip

    item_id: Mapped[int] = mapped_column(ForeignKey("stock_item.id"))
    lot_id: Mapped[int | None] = mapped_column(ForeignKey("stock_lot.id"))
    on: Mapped[date]
    kind: Mapped[str]
    store_id: Mapped[int | None] = mapped_column(ForeignKey("stock_store.id"))
    vehicle_id: Mapped[int | None] = mapped_column(ForeignKey("vehicle.id"))
    site_id: Mapped[int | None] = mapped_column(ForeignKey("site.id"))
    party_id: Mapped[int | None] = mapped_column(ForeignKey("party.id"))
    counted: Mapped[int]
    held: Mapped[int]
    reason: Mapped[str | None]


class StockBalance(Base):
    """What an account holds of an item and lot: the sum of its entries, kept up at the end of each act.

    Not in History; ``check`` adds the entries up again. Without references: the row of a lot that an undo
    takes away goes after it, in the same act. Nought stands for no lot and for no number.
    """

    __tablename__ = "stock_balance"
    __table_args__ = (
        one_of("kind", Account),
        CheckConstraint("quantity <> 0", name="something_there"),
        CheckConstraint("quantity > 0 OR kind NOT IN ('store', 'van', 'site', 'extractor')", name="not_below_nothing"),
        Index("uq_stock_balance", "item_id", "lot_id", "kind", "number", unique=True),
        Index("ix_stock_balance_place", "kind", "number"),
        STRICT,
    )  # fmt: skip
    audited: ClassVar[bool] = False

    id: Mapped[int] = mapped_column(primary_key=True)
    item_id: Mapped[int]
    lot_id: Mapped[int]
    kind: Mapped[str]
    number: Mapped[int]
    """Of the store, van, site or extractor."""
    quantity: Mapped[int]
