"""The items of stock and the stores they lie in."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select

from beeledger.base.dates import short
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import folded, listed, tidy
from beeledger.database.audit import OpenAct
from beeledger.model.stock import StockEntry, StockItem, StockStore
from beeledger.operations.parties import supplier_named
from beeledger.queries.stock_balances import account_names, balances
from beeledger.rules.rounds.entry import FeedKind
from beeledger.rules.stock_items import PLACES, BoxKind, BoxState, ItemKind, Unit, amount

_FOR_JARS = (ItemKind.JAR, ItemKind.LID, ItemKind.LABEL)


@dataclass(frozen=True, slots=True)
class NewItem:
    """An item as its form holds it; quantities in its unit. ``supplier`` names a party, new or known.

    ``feed_kind`` and ``sugar_hundredths`` are for feed, ``fits_g`` for jars, lids and labels (the nominal
    weight; None: any), ``box``, ``frame_size`` and ``box_state`` for boxes.
    """

    name: str
    kind: ItemKind
    unit: Unit
    pack: int | None = None
    pack_word: str = ""
    low: int | None = None
    lead_days: int | None = None
    supplier_id: int | None = None
    supplier: str = ""
    feed_kind: FeedKind | None = None
    sugar_hundredths: int | None = None
    fits_g: int | None = None
    box: BoxKind | None = None
    frame_size: str = ""
    box_state: BoxState | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class NewStore:
    """A store of the farm's own; the usual one is where rounds and jarrings take from."""

    name: str
    usual: bool = False


def add_item(act: OpenAct, new: NewItem) -> str:
    """Write a new item; ``act.result`` is its id. Refused with a name in use or what its kind forbids."""
    refuse(_check_item(act, new, None))
    row = StockItem()
    _fill(act, row, new)
    act.session.add(row)
    act.session.flush()
    act.result = row.id
    return f"Added {row.name} to the stock"


def change_item(act: OpenAct, item_id: int, new: NewItem) -> str:
    """Write all that the form holds over an item. Its unit and what box it is stay once it has entries."""
    row = act.session.get_one(StockItem, item_id)
    findings = _check_item(act, new, item_id)
    used = act.session.scalar(select(StockEntry.id).where(StockEntry.item_id == item_id).limit(1))
    kept = (row.unit, row.kind, row.box, row.frame_size, row.box_state)
    if used is not None and kept[0] != new.unit:
        findings.append(wrong("unit", f"it is kept in {row.unit} by its entries", "Make a new item instead"))
    another = kept[1:] != (new.kind, new.box, tidy(new.frame_size) or None, new.box_state)
    if used is not None and another and ItemKind.BOX in (row.kind, new.kind):
        what = "entries stand on what kind of box it is"
        findings.append(wrong("box_state", what, "Make a new item instead"))
    refuse(findings)
    _fill(act, row, new)
    act.result = row.id
    return f"Changed {row.name} in the stock"


def retire_item(act: OpenAct, item_id: int, on: date) -> str:
    """The farm keeps it no longer. Refused while some of it lies in a place."""
    row = act.session.get_one(StockItem, item_id)
    left = balances(act.session, [item_id], PLACES)
    findings = [] if on <= act.today else [wrong("on", "this day is still to come")]
    if left:
        names = account_names(act.session)
        there = [f"{amount(one.quantity, row.unit)} in {names[one.at]}" for one in left]
        what = f"there is some left: {listed(there)}"
        findings.append(wrong("item_id", what, "Count it, or write down what became of it"))
    refuse(findings)
    row.retired_on = on
    return f"{row.name} is kept no longer, {short(on)}"


def keep_item_again(act: OpenAct, item_id: int) -> str:
    """The farm keeps an item again."""
    row = act.session.get_one(StockItem, item_id)
    refuse(_box_kept_already(act, row.box, row.frame_size, row.box_state, item_id))
    row.retired_on = None
    return f"{row.name} is kept again"


def add_store(act: OpenAct, new: NewStore) -> str:
    """Write a store; ``act.result`` is its id. The first one is the usual one whatever the form says."""
    _check_store(act, new, None)
    others = act.session.scalars(select(StockStore)).all()
    row = StockStore(name=tidy(new.name), usual=new.usual or not others)
    _alone_usual(others, row)
    act.session.add(row)
    act.session.flush()
    act.result = row.id
    return f"Added the store {row.name}"


def change_store(act: OpenAct, store_id: int, new: NewStore) -> str:
    """Rename a store, or make it the usual one."""
    _check_store(act, new, store_id)
    row = act.session.get_one(StockStore, store_id)
    row.name, row.usual = tidy(new.name), new.usual
    _alone_usual(act.session.scalars(select(StockStore).where(StockStore.id != store_id)).all(), row)
    return f"Changed the store {row.name}"


def supplier_of(act: OpenAct, supplier_id: int | None, supplier: str) -> int | None:
    """The number of the supplier that is named, made where it is new."""
    party = supplier_named(act, supplier_id, supplier)
    return party.id if party is not None else None


def wrong(field: str, what: str, mend: str = "", row: int | None = None) -> Finding:
    """What forbids an act of stock, beside its field."""
    return Finding(f"stock.{field}", Grade.REFUSED, what, mend, Where(field=field, row=row))


def refuse(findings: Iterable[Finding]) -> None:
    """Raise Refused when there is anything to say."""
    if found := list(findings):
        raise Refused(found)


def _alone_usual(others: Iterable[StockStore], row: StockStore) -> None:
    for other in others:
        if row.usual and other.usual:
            other.usual = False


def _check_store(act: OpenAct, new: NewStore, store_id: int | None) -> None:
    findings = [] if tidy(new.name) else [wrong("name", "a store needs a name")]
    names = act.session.execute(select(StockStore.id, StockStore.name)).all()
    if any(row.id != store_id and folded(row.name) == folded(new.name) for row in names):
        findings.append(wrong("name", f"there is a store {tidy(new.name)} already"))
    refuse(findings)


def _check_item(act: OpenAct, new: NewItem, item_id: int | None) -> list[Finding]:
    findings = [] if tidy(new.name) else [wrong("name", "an item needs a name")]
    names = act.session.execute(select(StockItem.id, StockItem.name)).all()
    if any(row.id != item_id and folded(row.name) == folded(new.name) for row in names):
        findings.append(wrong("name", f"there is {tidy(new.name)} already"))
    ranges = (
        ("pack", new.pack, 1, None), ("low", new.low, 0, None), ("lead_days", new.lead_days, 0, 730),
        ("sugar_hundredths", new.sugar_hundredths, 0, 10_000), ("fits_g", new.fits_g, 5, 25_000),
    )  # fmt: skip
    for field, value, least, most in ranges:
        if value is not None and (value < least or (most is not None and value > most)):
            findings.append(wrong(field, f"{value:,} is not a figure for this"))
    if new.feed_kind is not None and new.kind is not ItemKind.FEED:
        findings.append(wrong("feed_kind", "only feed is a kind of feed"))
    if new.fits_g is not None and new.kind not in _FOR_JARS:
        findings.append(wrong("fits_g", "only jars, lids and labels are for a size of jar"))
    return findings + _check_box(act, new, item_id)


def _check_box(act: OpenAct, new: NewItem, item_id: int | None) -> list[Finding]:
    if new.kind is not ItemKind.BOX:
        given = new.box is not None or new.box_state is not None
        return [wrong("box", "only a box is a brood box or a super")] if given else []
    findings = []
    if new.box is None:
        findings.append(wrong("box", "say whether it is a brood box or a super"))
    if new.box_state is None:
        findings.append(wrong("box_state", "say in what state it is"))
    if new.unit is not Unit.PIECE:
        findings.append(wrong("unit", "boxes are counted in pieces"))
    if findings:
        return findings
    return _box_kept_already(act, new.box, tidy(new.frame_size) or None, new.box_state, item_id)


def _box_kept_already(
    act: OpenAct, box: str | None, frame_size: str | None, state: str | None, item_id: int | None
) -> list[Finding]:
    if box is None:
        return []
    query = select(StockItem).where(
        StockItem.box == box, StockItem.box_state == state, StockItem.retired_on.is_(None)
    )
    for other in act.session.scalars(query):
        if other.id != item_id and other.frame_size == frame_size:
            return [wrong("box_state", f"boxes of that kind and state are kept as {other.name}")]
    return []


def _fill(act: OpenAct, row: StockItem, new: NewItem) -> None:
    row.name, row.kind, row.unit = tidy(new.name), str(new.kind), str(new.unit)
    row.pack, row.pack_word = new.pack, tidy(new.pack_word) or None
    row.low, row.lead_days = new.low, new.lead_days
    row.feed_kind = str(new.feed_kind) if new.feed_kind else None
    row.sugar_hundredths, row.fits_g = new.sugar_hundredths, new.fits_g
    row.box, row.frame_size = str(new.box) if new.box else None, tidy(new.frame_size) or None
    row.box_state = str(new.box_state) if new.box_state else None
    row.note = new.note.strip() or None
    row.supplier_id = supplier_of(act, new.supplier_id, new.supplier)
