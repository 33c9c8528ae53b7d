"""What Stock shows: what is there, what runs out when, one item with its lots and entries, boxes by state."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.rules.stock import Outlook
from beeledger.rules.stock_items import Account, BoxKind, BoxState, ItemKind, Unit

MEDICINE = "medicine"
"""The kind of rows that are read from the medicines; they are counted and changed there."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where stock can lie: kind, number of the store, van, site or extractor, and its name."""

    kind: Account
    number: int
    name: str
    usual: bool = False
    """Of a store: whether rounds and jarrings take from it."""
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Held:
    """How much of an item or lot an account holds, in the item's unit. ``name`` is the account in words."""

    kind: Account
    number: int | None
    name: str
    quantity: int


@dataclass(frozen=True, slots=True)
class Item:
    """An item as its form holds it; quantities in its unit. See ``operations.stock_items.NewItem``."""

    id: int
    name: str
    kind: ItemKind
    unit: Unit
    pack: int | None
    pack_word: str
    low: int | None
    lead_days: int | None
    supplier_id: int | None
    supplier: str
    feed_kind: str | None
    sugar_hundredths: int | None
    fits_g: int | None
    box: BoxKind | None
    frame_size: str | None
    box_state: BoxState | None
    retired_on: date | None
    note: str


@dataclass(frozen=True, slots=True)
class StockRow:
    """A row of the stock list. A medicine's row has ``kind`` medicine and the pack's number as ``id``."""

    id: int
    name: str
    kind: str
    unit: Unit
    there: int | None
    """In all places together; None: a medicine of whose pack nobody wrote the pieces."""
    places: tuple[Held, ...]
    pack: int | None
    pack_word: str
    low: int | None
    supplier: str
    counted_on: date | None
    uncounted: int
    """Used beyond what the record held since it was last counted: above nought it wants counting."""
    expires_on: date | None
    """The earliest expiry among what is left."""
    expired: int
    """How much of what is left has expired."""
    outlook: Outlook | None
    """Use ahead, when it runs out, what to order by when; None: nothing is known of its use."""
    retired: bool = False

    @property
    def is_low(self) -> bool:
        """Below the item's own line, or below what the next weeks need."""
        if self.there is None or self.retired:
            return False
        return (self.low is not None and self.there < self.low) or (
            self.outlook is not None and self.outlook.short
        )


@dataclass(frozen=True, slots=True)
class Lot:
    """One lot of an item and how much of it is left in each place."""

    id: int
    batch: str
    supplier: str
    acquired_on: date | None
    expires_on: date | None
    price_pence: int | None
    """For all that was bought of it."""
    bought: int
    left: int
    places: tuple[Held, ...]
    expired: bool


@dataclass(frozen=True, slots=True)
class EntryRow:
    """A line of an item's entries, newest first; ``round_id`` and ``batch_id`` lead to what made it."""

    id: int
    on: date
    quantity: int
    source: Held
    target: Held
    """Both with the quantity of the entry."""
    lot: str
    reason: str
    note: str
    round_id: int | None
    batch_id: int | None
    counters_id: int | None
    countered: bool
    """Taken back by a later entry, or one that takes back: neither can be countered again."""


@dataclass(frozen=True, slots=True)
class Count:
    """A count: what was there beside what the record held."""

    on: date
    place: str
    counted: int
    held: int
    reason: str


@dataclass(frozen=True, slots=True)
class WeekUse:
    """Use in the week that begins on a Monday; what was taken back is taken off."""

    monday: date
    used: int
    wasted: int


@dataclass(frozen=True, slots=True)
class ItemCard:
    """One item in full. ``entries`` is one page of ``PAGE``; ``entry_count`` is all of them."""

    item: Item
    row: StockRow
    accounts: tuple[Held, ...]
    """Every account that holds something of it, places first; they add up to nothing."""
    lots: tuple[Lot, ...]
    entries: tuple[EntryRow, ...]
    entry_count: int
    counts: tuple[Count, ...]
    weeks: tuple[WeekUse, ...]
    """The last 52 weeks, oldest first."""


@dataclass(frozen=True, slots=True)
class BoxCount:
    """Boxes of one kind and frame size in one state, by where they are."""

    item_id: int
    name: str
    box: BoxKind
    frame_size: str | None
    state: BoxState
    store: int
    van: int
    site: int
    extractor: int
    hives: int
    """By the books."""


@dataclass(frozen=True, slots=True)
class BoxesOnHives:
    """Boxes of one kind on hives: by the books of stock beside what the hives' stacks say."""

    box: BoxKind
    by_books: int
    by_stacks: int

    @property
    def difference(self) -> int:
        """Books less stacks."""
        return self.by_books - self.by_stacks


@dataclass(frozen=True, slots=True)
class Equipment:
    """All boxes: by type and state, and the books against the hives."""

    counts: tuple[BoxCount, ...]
    on_hives: tuple[BoxesOnHives, ...]


@dataclass(frozen=True, slots=True)
class LowItem:
    """What cannot wait of stock: ``why`` in words; ``late`` when it is out or ordering is too late already."""

    item_id: int
    name: str
    kind: str
    title: str
    why: str
    when_on: date | None
    late: bool


@dataclass(frozen=True, slots=True)
class FeedNeed:
    """What autumn feeding will take: colonies seen, those still short, sugar and syrup they need."""

    on: date
    colonies: int
    """Living full colonies and nuclei."""
    known: int
    """Of these, with stores seen within the time a figure is good."""
    short: int
    sugar_g: int
    syrup_ml: int
    """As 2:1."""
    there_sugar_g: int
    """Sugar in the feed of the stock, as far as its share is on record."""


@dataclass(frozen=True, slots=True)
class Choices:
    """What the forms of Stock choose among."""

    items: tuple[Item, ...]
    places: tuple[Place, ...]
    """Stores, vans, sites and parties that can be extractors."""
    suppliers: tuple[tuple[int, str], ...]
    frame_sizes: tuple[str, ...]
    jar_sizes: tuple[int, ...]
    """Nominal weights in use, grams."""
    usual_store_id: int | None
