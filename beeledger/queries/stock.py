"""Stock: what is there and where, what runs out when, what to order, and what the forms choose among.

What lies where is read from the balances; use is read for the years a forecast looks back and no further, so
that the list costs the same in the tenth year.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from sqlalchemy import and_, func, or_, select
from sqlalchemy.orm import Session

from beeledger.base.dates import short
from beeledger.model.honey import Batch
from beeledger.model.medicines import Medicine, MedicineDisposal, Treatment
from beeledger.model.parties import Party, Vehicle
from beeledger.model.sites import Site
from beeledger.model.stock import StockCount, StockEntry, StockItem, StockStore
from beeledger.queries.records.stock import MEDICINE, Choices, Held, Item, LowItem, Place, StockRow
from beeledger.queries.stock_balances import Balance, account_names, balances
from beeledger.rules.stock import Outlook, forecast, outlook, windows
from beeledger.rules.stock_items import PLACES, Account, At, BoxKind, BoxState, ItemKind, Unit, amount
from beeledger.rules.stores import figures as stores_figures

_YEAR_DAYS = 366


def stock_list(session: Session, today: date, *, retired: bool = False) -> list[StockRow]:
    """Every item the farm keeps, with ``retired`` also those it kept once, and the packs of medicine.

    A constant number of statements. Medicines that expired more than a year ago are not listed.
    """
    items = [item for item in items_of(session) if retired or item.retired_on is None]
    return [*rows_of(session, items, today), *_medicine_rows(session, today)]


def rows_of(session: Session, items: Sequence[Item], today: date) -> list[StockRow]:
    """Rows of the stock list for some items: a constant number of statements."""
    ids = [item.id for item in items]
    names = account_names(session)
    held: dict[int, list[Balance]] = defaultdict(list)
    for one in balances(session, ids, PLACES):
        held[one.item_id].append(one)
    counts = _last_counts(session, ids)
    known = _Known(
        names, held, counts, _uncounted(session, ids, counts), use_by_day(session, ids, windows(today)),
        _first_days(session, ids),
    )  # fmt: skip
    return [_row(item, known, today) for item in items]


def items_of(session: Session, item_ids: Collection[int] | None = None) -> list[Item]:
    """The items by kind and name: one statement."""
    query = (
        select(StockItem, Party.name)
        .outerjoin(Party, Party.id == StockItem.supplier_id)
        .order_by(StockItem.kind, StockItem.name)
    )
    if item_ids is not None:
        query = query.where(StockItem.id.in_(list(item_ids)))
    return [_item(row, supplier or "") for row, supplier in session.execute(query)]


def use_by_day(
    session: Session, item_ids: Collection[int], periods: Sequence[tuple[date, date]], into: str = "used"
) -> dict[int, dict[date, int]]:
    """What was used of each item by day in some periods, less what counter entries took back: two statements."""
    used: dict[int, dict[date, int]] = {item_id: {} for item_id in item_ids}
    gone = (
        select(StockEntry.item_id, StockEntry.on, func.sum(StockEntry.quantity))
        .where(StockEntry.item_id.in_(list(item_ids)), StockEntry.to_kind == into)
        .where(or_(*(StockEntry.on.between(*period) for period in periods)))
        .group_by(StockEntry.item_id, StockEntry.on)
    )
    for item_id, on, quantity in session.execute(gone):
        used[item_id][on] = int(quantity)
    first = StockEntry.__table__.alias("first")
    back = (
        select(StockEntry.item_id, first.c.on, func.sum(StockEntry.quantity))
        .join(first, first.c.id == StockEntry.counters_id)
        .where(StockEntry.item_id.in_(list(item_ids)), StockEntry.counters_id.is_not(None))
        .where(first.c.to_kind == into)
        .group_by(StockEntry.item_id, first.c.on)
    )
    for item_id, on, quantity in session.execute(back):
        if on in used[item_id]:
            used[item_id][on] -= int(quantity)
    return used


def low_items(session: Session, today: date) -> list[LowItem]:
    """What cannot wait: below the item's line or the next weeks' need, and lots that have expired."""
    rows = stock_list(session, today)
    return sorted(
        (found for row in rows for found in _pressing(row, today)), key=lambda one: (not one.late, one.name)
    )


def choices(session: Session) -> Choices:
    """What the forms choose among: a constant number of statements."""
    stores = session.execute(
        select(StockStore.id, StockStore.name, StockStore.usual, StockStore.closed_on).order_by(
            StockStore.name
        )
    ).all()
    places = [Place(Account.STORE, row.id, row.name, row.usual, row.closed_on is not None) for row in stores]
    for kind, query in (
        (Account.VAN, select(Vehicle.id, Vehicle.name).order_by(Vehicle.name)),
        (Account.SITE, select(Site.id, Site.name).where(Site.closed_on.is_(None)).order_by(Site.name)),
        (Account.EXTRACTOR, select(Party.id, Party.name).order_by(Party.name)),
    ):
        places += [Place(kind, number, name) for number, name in session.execute(query)]
    suppliers = select(Party.id, Party.name).where(Party.is_supplier.in_([True])).order_by(Party.name)
    jars = session.scalars(select(Batch.jar_g).distinct().order_by(Batch.jar_g))
    return Choices(
        tuple(items_of(session)), tuple(places),
        tuple((number, name) for number, name in session.execute(suppliers)),
        tuple(sorted(stores_figures().frames_g)), tuple(jars),
        next((row.id for row in stores if row.usual), None),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Known:
    names: Mapping[At, str]
    held: Mapping[int, Sequence[Balance]]
    counted: Mapping[int, date]
    uncounted: Mapping[int, int]
    used: Mapping[int, Mapping[date, int]]
    first: Mapping[int, date]


def _row(item: Item, known: _Known, today: date) -> StockRow:
    lots = known.held.get(item.id, ())
    there = sum(one.quantity for one in lots)
    ends = [one.expires_on for one in lots if one.expires_on is not None]
    return StockRow(
        id=item.id, name=item.name, kind=item.kind, unit=item.unit, there=there,
        places=places_of(lots, known.names), pack=item.pack, pack_word=item.pack_word, low=item.low,
        supplier=item.supplier, counted_on=known.counted.get(item.id), uncounted=known.uncounted.get(item.id, 0),
        expires_on=min(ends, default=None),
        expired=sum(one.quantity for one in lots if one.expires_on is not None and one.expires_on < today),
        outlook=_outlook(item, there, known, today), retired=item.retired_on is not None,
    )  # fmt: skip


def _outlook(item: Item, there: int, known: _Known, today: date) -> Outlook | None:
    if item.kind is ItemKind.BOX:
        return None  # a box is not used up: it goes on a hive and comes back
    ahead = forecast(known.used.get(item.id, {}), known.first.get(item.id), today)
    return outlook(ahead, there, today, item.lead_days, item.pack) if ahead is not None else None


def places_of(lots: Iterable[Balance], names: Mapping[At, str]) -> tuple[Held, ...]:
    """What accounts hold, lots together, the most first."""
    sums: dict[At, int] = defaultdict(int)
    for one in lots:
        sums[one.at] += one.quantity
    order = sorted(sums.items(), key=lambda each: (-each[1], each[0].kind, each[0].number or 0))
    return tuple(Held(at.kind, at.number, names.get(at, ""), quantity) for at, quantity in order if quantity)


def _medicine_rows(session: Session, today: date) -> list[StockRow]:
    """Packs of medicine of which something is left, but those long expired: one statement."""
    given, gone = (
        select(func.coalesce(func.sum(table.pieces), 0))
        .where(table.medicine_id == Medicine.id)
        .correlate(Medicine)
        .scalar_subquery()
        for table in (Treatment, MedicineDisposal)
    )
    long_past = today - timedelta(days=_YEAR_DAYS)
    query = (
        select(
            Medicine.id, Medicine.product, Medicine.batch, Medicine.expires_on, Medicine.pieces, Party.name,
            (given + gone).label("spent"),
        )
        .outerjoin(Party, Party.id == Medicine.supplier_id)
        .where(or_(Medicine.expires_on.is_(None), Medicine.expires_on >= long_past))
        .order_by(Medicine.product, Medicine.expires_on, Medicine.id)
    )  # fmt: skip
    return [_medicine_row(row, today) for row in session.execute(query) if row.pieces != row.spent]


def _medicine_row(row: Any, today: date) -> StockRow:
    left = None if row.pieces is None else row.pieces - int(row.spent)
    there = None if left is None else max(0, left)
    expired = row.expires_on is not None and row.expires_on < today
    return StockRow(
        id=row.id, name=f"{row.product}, batch {row.batch}" if row.batch else row.product, kind=MEDICINE,
        unit=Unit.PIECE, there=there, places=(), pack=None, pack_word="", low=None, supplier=row.name or "",
        counted_on=None, uncounted=max(0, -(left or 0)), expires_on=row.expires_on,
        expired=(there or 0) if expired else 0, outlook=None,
    )  # fmt: skip


def _pressing(row: StockRow, today: date) -> list[LowItem]:
    found = []
    if row.is_low:
        found.append(_low(row, today))
    if row.expired:
        what = f"{amount(row.expired, row.unit)} has expired"
        found.append(
            LowItem(row.id, row.name, row.kind, f"{row.name}: expired", what, row.expires_on, late=False)
        )
    return found


def _low(row: StockRow, today: date) -> LowItem:
    there, ahead = row.there or 0, row.outlook
    said = f"{amount(there, row.unit)} there" if there else "none there"
    out = ahead.runs_out_on if ahead else None
    if out is not None:
        said += f", runs out {short(out)}" if out > today else ""
    if ahead is not None and ahead.order:
        said += f"; order {amount(ahead.order, row.unit)}"
        said += f" ({ahead.order_packs:,} × {row.pack_word or 'pack'})" if ahead.order_packs else ""
    late = not there or (ahead is not None and ahead.order_by is not None and ahead.order_by < today)
    when = ahead.order_by if ahead and ahead.order_by else out
    return LowItem(row.id, row.name, row.kind, f"{row.name} is low", said, when, late=late)


def _last_counts(session: Session, ids: Collection[int]) -> dict[int, date]:
    latest = (
        select(StockCount.on)
        .where(StockCount.item_id == StockItem.id)
        .order_by(StockCount.on.desc(), StockCount.id.desc())
        .limit(1)
        .correlate(StockItem)
        .scalar_subquery()
    )
    query = select(StockItem.id, latest).where(StockItem.id.in_(list(ids)))
    return {item_id: on for item_id, on in session.execute(query) if on is not None}


def _first_days(session: Session, ids: Collection[int]) -> dict[int, date]:
    first = (
        select(StockEntry.on)
        .where(StockEntry.item_id == StockItem.id)
        .order_by(StockEntry.on, StockEntry.id)
        .limit(1)
        .correlate(StockItem)
        .scalar_subquery()
    )
    query = select(StockItem.id, first).where(StockItem.id.in_(list(ids)))
    return {item_id: on for item_id, on in session.execute(query) if on is not None}


def _uncounted(session: Session, ids: Collection[int], counts: Mapping[int, date]) -> dict[int, int]:
    """What went beyond what places held since each item was last counted, less what was taken back."""
    if not ids:
        return {}
    places = [str(kind) for kind in PLACES]
    later = or_(
        *(and_(StockEntry.item_id == number, StockEntry.on > counts.get(number, date.min)) for number in ids)
    )
    found: dict[int, int] = {}
    for end, other, sign in (("from_kind", "to_kind", 1), ("to_kind", "from_kind", -1)):
        query = (
            select(StockEntry.item_id, func.sum(StockEntry.quantity))
            .where(getattr(StockEntry, end) == str(Account.UNCOUNTED), later)
            .where(getattr(StockEntry, other).not_in(places))
            .group_by(StockEntry.item_id)
        )
        if sign < 0:
            query = query.where(StockEntry.counters_id.is_not(None))
        for item_id, quantity in session.execute(query):
            found[item_id] = found.get(item_id, 0) + sign * int(quantity)
    return {item_id: quantity for item_id, quantity in found.items() if quantity > 0}


def _item(row: StockItem, supplier: str) -> Item:
    return Item(
        id=row.id, name=row.name, kind=ItemKind(row.kind), unit=Unit(row.unit), pack=row.pack,
        pack_word=row.pack_word or "", low=row.low, lead_days=row.lead_days, supplier_id=row.supplier_id,
        supplier=supplier, feed_kind=row.feed_kind, sugar_hundredths=row.sugar_hundredths, fits_g=row.fits_g,
        box=BoxKind(row.box) if row.box else None, frame_size=row.frame_size,
        box_state=BoxState(row.box_state) if row.box_state else None, retired_on=row.retired_on,
        note=row.note or "",
    )  # fmt: skip
