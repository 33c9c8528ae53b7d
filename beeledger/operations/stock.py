"""Stock and equipment: bought, moved, used, wasted, counted, corrected, by double entry.

Every act takes a quantity from one account to another. What contradicts the record is asked about: when more
goes than a place holds by the books and that is accepted, the surplus comes from what was never counted in.
A count holds: what is written later of days before it leaves the place as it was counted.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select

from beeledger.base.dates import short
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import counted, listed, tidy
from beeledger.database.audit import OpenAct
from beeledger.model.stock import StockCount, StockEntry, StockItem, StockLot
from beeledger.operations.stock_books import Books
from beeledger.operations.stock_items import refuse, supplier_of, wrong
from beeledger.queries.stock_balances import account_names, account_of, as_columns
from beeledger.rules.stock_items import (
    HIVES,
    PLACES,
    SUPPLIER,
    TURNED,
    UNCOUNTED,
    USED,
    WASTED,
    At,
    ItemKind,
    amount,
)

MORE = "stock.more-than-there"
"""The code of the finding that asks whether more goes than the record holds; it may be accepted."""


@dataclass(frozen=True, slots=True)
class Bought:
    """A line of a delivery. ``price_pence`` is for the whole line; a lot is made of every line."""

    item_id: int
    quantity: int
    batch: str = ""
    expires_on: date | None = None
    price_pence: int | None = None
    tax_code: str = ""


@dataclass(frozen=True, slots=True)
class Delivery:
    """What came in on a day. ``supplier`` names a party, new or known, in place of ``supplier_id``.

    ``to`` must be a place, usually a store: ``At(Account.STORE, number)``.
    """

    on: date
    to: At
    lines: tuple[Bought, ...]
    supplier_id: int | None = None
    supplier: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Taken:
    """A line of goods. ``lot_id`` None: what expires first is taken first."""

    item_id: int
    quantity: int
    lot_id: int | None = None


@dataclass(frozen=True, slots=True)
class StockMove:
    """Goods carried between places, or boxes put on hives or taken off them."""

    on: date
    source: At
    target: At
    lines: tuple[Taken, ...]
    note: str = ""
    accepted: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class StockUse:
    """Goods used up or wasted at a place; ``reason`` says what for, in a word or two."""

    on: date
    source: At
    lines: tuple[Taken, ...]
    reason: str = ""
    note: str = ""
    accepted: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class CountLine:
    """A line of a count: ``lot_id`` None counts all lots of the item at the place together."""

    item_id: int
    counted: int
    lot_id: int | None = None


@dataclass(frozen=True, slots=True)
class StockTake:
    """A count at one place. The difference to the record goes to or from what was never counted in."""

    on: date
    at: At
    lines: tuple[CountLine, ...]
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Turning:
    """Boxes that change their state: so many of ``item_id`` at a place are ``into_id`` from now on."""

    on: date
    at: At
    item_id: int
    into_id: int
    quantity: int
    note: str = ""
    accepted: frozenset[str] = frozenset()


def buy_stock(act: OpenAct, new: Delivery) -> str:
    """Write a delivery: a lot of each line, from the supplier into a place; ``act.result`` is the lots' ids."""
    items, names = _items(act, [line.item_id for line in new.lines]), account_names(act.session)
    findings = _check_head(act, new.on, {"to": new.to}, names, new.lines)
    for row, line in enumerate(new.lines, start=1):
        findings += _check_line(items, line.item_id, line.quantity, row)
        if line.price_pence is not None and line.price_pence < 0:
            findings.append(wrong("price_pence", "a price is not below nothing", row=row))
        if line.expires_on is not None and line.expires_on < new.on:
            findings.append(wrong("expires_on", "it had expired when it came", "Look at the date again", row))
    refuse(findings)
    supplier_id = supplier_of(act, new.supplier_id, new.supplier)
    lots = [
        StockLot(
            item_id=line.item_id, supplier_id=supplier_id, batch=tidy(line.batch) or None, acquired_on=new.on,
            expires_on=line.expires_on, price_pence=line.price_pence, tax_code=tidy(line.tax_code) or None,
        )
        for line in new.lines
    ]  # fmt: skip
    act.session.add_all(lots)
    act.session.flush()
    books = Books(act, items)
    for line, lot in zip(new.lines, lots, strict=True):
        note = new.note.strip() or None
        books.write(line.item_id, lot.id, line.quantity, SUPPLIER, new.to, new.on, "bought", note=note)
    act.result = [lot.id for lot in lots]
    return f"Bought {_said(items, new.lines)}, {short(new.on)}"


def move_stock(act: OpenAct, new: StockMove) -> str:
    """Write goods carried between places, boxes also onto hives or off them. Asks ``MORE`` beyond what is there."""
    items, names = _items(act, [line.item_id for line in new.lines]), account_names(act.session)
    findings = _check_head(act, new.on, {"source": new.source, "target": new.target}, names, new.lines)
    if new.source == new.target:
        findings.append(wrong("target", "it is there already"))
    for row, line in enumerate(new.lines, start=1):
        item = items.get(line.item_id)
        if item is not None and HIVES in (new.source, new.target) and item.kind != ItemKind.BOX:
            findings.append(wrong("item_id", "only boxes are counted on hives", row=row))
    _take_lines(act, items, new, new.target, "moved", findings)
    way = f"from {names.get(new.source, '')} to {names.get(new.target, '')}"
    return f"Moved {_said(items, new.lines)} {way}, {short(new.on)}"


def use_stock(act: OpenAct, new: StockUse) -> str:
    """Write goods used up. Asks ``MORE`` when more goes than the place holds."""
    return _spend(act, new, USED, "used")


def waste_stock(act: OpenAct, new: StockUse) -> str:
    """Write goods spoiled, broken or thrown away; ``reason`` is wanted. Asks ``MORE`` as use does."""
    return _spend(act, new, WASTED, "wasted")


def count_stock(act: OpenAct, new: StockTake) -> str:
    """Write a count: what was there, and the difference to the record of that day, to or from never counted in.

    What came and went on later days still holds: it is written down beside the count, not swallowed by it.
    """
    items, names = _items(act, [line.item_id for line in new.lines]), account_names(act.session)
    findings = _check_head(act, new.on, {"at": new.at}, names, new.lines)
    for row, line in enumerate(new.lines, start=1):
        if line.item_id not in items:
            findings.append(wrong("item_id", "there is no such item", row=row))
        if line.counted < 0:
            findings.append(wrong("counted", "a count is not below nothing", row=row))
        findings += _check_lot(act, line.item_id, line.lot_id, row)
    if len({(line.item_id, line.lot_id) for line in new.lines}) < len(new.lines):
        findings.append(wrong("lines", "an item is counted twice", "Add the two counts up"))
    refuse(findings)
    books, off = Books(act, items), 0
    for line in new.lines:
        held = books.there(line.item_id, new.at, line.lot_id) - books.since(
            line.item_id, new.at, line.lot_id, new.on
        )
        _write_difference(books, new, line, held)
        off += line.counted != held
        act.session.add(
            StockCount(
                item_id=line.item_id, lot_id=line.lot_id, on=new.on, counted=line.counted, held=held,
                reason=tidy(new.reason) or None, **as_columns(new.at, ""),
            )
        )  # fmt: skip
    said = f", {off:,} not as the record had it" if off else ""
    return f"Counted {counted(len(new.lines), 'item')} in {names[new.at]}, {short(new.on)}{said}"


def turn_boxes(act: OpenAct, new: Turning) -> str:
    """Write that boxes changed their state where they are: wet ones that are clean now. Asks ``MORE`` as use does."""
    items = _items(act, [new.item_id, new.into_id])
    names = account_names(act.session)
    line = Taken(new.item_id, new.quantity)
    findings = _check_head(act, new.on, {"at": new.at}, names, (line,))
    findings += _check_line(items, new.item_id, new.quantity, None)
    one, other = items.get(new.item_id), items.get(new.into_id)
    if one is None or other is None or one.id == other.id or not _same_box(one, other):
        findings.append(wrong("into_id", "it has to be the same kind of box in another state"))
    books = Books(act, items)
    findings += _more(books, items, (line,), new.at, names, new.accepted)
    refuse(findings)
    books.take(new.item_id, new.quantity, new.at, TURNED, new.on, "turned", note=new.note.strip() or None)
    books.write(new.into_id, None, new.quantity, TURNED, new.at, new.on, "turned")
    return f"{counted(new.quantity, 'box', 'boxes')}: {items[new.item_id].name} to {items[new.into_id].name}"


def counter_entry(act: OpenAct, entry_id: int, reason: str) -> str:
    """Take back one entry by its counter entry.

    Refused for one that is countered, for a counter entry, and for what follows from a round or a jarring.
    """
    row = act.session.get_one(StockEntry, entry_id)
    item = act.session.get_one(StockItem, row.item_id)
    again = act.session.scalar(select(StockEntry.id).where(StockEntry.counters_id == entry_id))
    findings = []
    if again is not None or row.counters_id is not None:
        findings.append(wrong("entry_id", "it is taken back already"))
    if row.round_id is not None or row.batch_id is not None:
        what = "it follows from a round" if row.round_id is not None else "it follows from a jarring"
        findings.append(wrong("entry_id", what, "Correct that instead"))
    if account_of(row, "from_") == TURNED or account_of(row, "to_") == TURNED:
        findings.append(wrong("entry_id", "a box changed its state by it", "Change the state back instead"))
    if not tidy(reason):
        findings.append(wrong("reason", "say why"))
    refuse(findings)
    books = Books(act, [row.item_id])
    books.counter(row, row.on, tidy(reason))
    return f"Took back an entry of {short(row.on)}: {amount(row.quantity, item.unit)} of {item.name} {row.reason}"


def _spend(act: OpenAct, new: StockUse, target: At, word: str) -> str:
    items, names = _items(act, [line.item_id for line in new.lines]), account_names(act.session)
    findings = _check_head(act, new.on, {"source": new.source}, names, new.lines)
    if target == WASTED and not tidy(new.reason):
        findings.append(wrong("reason", "say what became of it"))
    _take_lines(act, items, new, target, tidy(new.reason) or word, findings)
    return f"{word.capitalize()} {_said(items, new.lines)} from {names[new.source]}, {short(new.on)}"


def _take_lines(
    act: OpenAct, items: dict[int, StockItem], new: StockMove | StockUse, target: At, reason: str,
    findings: list[Finding],
) -> None:  # fmt: skip
    for row, line in enumerate(new.lines, start=1):
        findings += _check_line(items, line.item_id, line.quantity, row)
        findings += _check_lot(act, line.item_id, line.lot_id, row)
    books = Books(act, items)
    findings += _more(books, items, new.lines, new.source, account_names(act.session), new.accepted)
    refuse(findings)
    note = new.note.strip() or None
    for line in new.lines:
        books.take(
            line.item_id, line.quantity, new.source, target, new.on, reason, line.lot_id, note=note
        )  # fmt: skip


def _write_difference(books: Books, new: StockTake, line: CountLine, held: int) -> None:
    reason = tidy(new.reason) or "counted"
    if line.counted > held:
        over = line.counted - held
        books.write(line.item_id, line.lot_id, over, UNCOUNTED, new.at, new.on, reason)
    elif line.counted < held:
        books.take(
            line.item_id, held - line.counted, new.at, UNCOUNTED, new.on, reason, line.lot_id
        )  # fmt: skip


def _items(act: OpenAct, item_ids: Collection[int]) -> dict[int, StockItem]:
    query = select(StockItem).where(StockItem.id.in_(set(item_ids)))
    return {row.id: row for row in act.session.scalars(query)}


def _check_head(
    act: OpenAct, on: date, accounts: dict[str, At], names: dict[At, str], lines: Sequence[object]
) -> list[Finding]:
    findings = [] if on <= act.today else [wrong("on", "this day is still to come")]
    for field, at in accounts.items():
        if at.kind not in PLACES and not (at == HIVES and field in ("source", "target", "at")):
            findings.append(wrong(field, "nothing lies there: name a store, van, site or extractor"))
        elif at not in names:
            findings.append(wrong(field, "there is no such place"))
    if not lines:
        findings.append(wrong("lines", "say what and how much"))
    return findings


def _check_line(items: dict[int, StockItem], item_id: int, quantity: int, row: int | None) -> list[Finding]:
    findings = []
    if item_id not in items:
        findings.append(wrong("item_id", "there is no such item", row=row))
    elif items[item_id].retired_on is not None:
        what = f"{items[item_id].name} is kept no longer"
        findings.append(wrong("item_id", what, "Keep it again first", row))
    if quantity < 1:
        findings.append(wrong("quantity", "say how much, above nought", row=row))
    return findings


def _check_lot(act: OpenAct, item_id: int, lot_id: int | None, row: int) -> list[Finding]:
    if lot_id is None:
        return []
    lot = act.session.get(StockLot, lot_id)
    return (
        [] if lot is not None and lot.item_id == item_id else [wrong("lot_id", "it has no such lot", row=row)]
    )


def _more(
    books: Books, items: dict[int, StockItem], lines: Sequence[Taken], source: At, names: dict[At, str],
    accepted: Collection[str],
) -> list[Finding]:  # fmt: skip
    """What the record does not hold of what goes: asked about, unless it is accepted."""
    if MORE in accepted:
        return []
    findings, gone = [], dict[int, int]()
    for row, line in enumerate(lines, start=1):
        item = items.get(line.item_id)
        if item is None:
            continue
        gone[item.id] = gone.get(item.id, 0) + line.quantity
        there = min(
            books.there(item.id, source, line.lot_id) - line.quantity,
            books.there(item.id, source) - gone[item.id],
        )
        if there < 0:
            held = amount(max(0, books.there(item.id, source, line.lot_id)), item.unit)
            what = f"by the record {names.get(source, 'it')} holds {held} of {item.name}"
            mend = "Accept it, and count the item when you can"
            findings.append(Finding(MORE, Grade.AGAINST, what, mend, Where(field="quantity", row=row)))
    return findings


def _same_box(one: StockItem, other: StockItem) -> bool:
    return one.kind == ItemKind.BOX and (one.box, one.frame_size) == (other.box, other.frame_size)


def _said(items: dict[int, StockItem], lines: Sequence[Taken | Bought]) -> str:
    words = [
        f"{amount(line.quantity, items[line.item_id].unit)} of {items[line.item_id].name}" for line in lines
    ]
    return listed(words) if len(words) <= _NAMED else listed([*words[:_NAMED], f"{len(words) - _NAMED} more"])


_NAMED = 3
