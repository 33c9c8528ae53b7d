"""The stock list: what is there and where, what runs out when and what to order, boxes by state, room to count."""

from __future__ import annotations

from datetime import date

from reportlab.platypus import Flowable

from beeledger.base.dates import long
from beeledger.base.text import counted
from beeledger.queries.records.heading import Farm, Made
from beeledger.queries.records.stock import BoxCount, StockRow
from beeledger.queries.records.stock_list import StockList
from beeledger.reporting.look.figures import room_for, section
from beeledger.reporting.look.page import LANDSCAPE, Heading, build
from beeledger.reporting.look.tables import Cell, Column, Ledger, Row, long_day_mm
from beeledger.reporting.look.text import Lines
from beeledger.reporting.look.workbook import Book, Field, Value
from beeledger.rules.stock_items import Unit, amount

KEY = "stock-list"
TITLE = "Stock list"
_NOTE = (
    "When it runs out and what to order is reckoned from the farm's own use in the same weeks of earlier years, or in "
    "the last weeks: a guess, and for a person to decide. Full sacks, drums and pallets are heavier than one person "
    "should lift."
)


def heading(record: StockList) -> Heading:
    """What stands at the head."""
    low = f", {record.low} low" if record.low else ""
    return Heading(KEY, TITLE, "what is there", long(record.on), f"{counted(len(record.rows), 'item')}{low}")


def render_pdf(record: StockList, farm: Farm, made: Made) -> bytes:
    """The list as PDF, A4 across, with an empty column to count in."""
    story: list[Flowable] = [_items(record)]
    if record.equipment.counts:
        story += [*section("Boxes", _books(record), room_for(len(record.equipment.counts))), _boxes(record)]
    return build(heading(record), farm, made, [*story, Lines(_NOTE, above=6)], LANDSCAPE)


def _items(record: StockList) -> Ledger:
    day = long_day_mm()
    columns = [
        Column("Item", 60, face="SemiBold"),
        Column("There", 22, align="right", group_end=True),
        Column("Counted", 20, group_end=True),
        Column("State", 22),
        Column("Runs out", day),
        Column("Order by", day),
        Column("Order", 40, group_end=True),
        Column("Expires", day + 4),
        Column("Where"),
    ]
    rows = [_row(row, record.on) for row in record.rows]
    return Ledger(columns, rows, empty="Nothing is kept yet")


def _row(row: StockRow, on: date) -> Row:
    ahead = row.outlook
    order = ahead is not None and ahead.order > 0
    late = ahead is not None and order and ahead.order_by is not None and ahead.order_by < on
    by = long(ahead.order_by) if ahead is not None and order and ahead.order_by else ""
    return [
        row.name,
        "" if row.there is None else amount(row.there, row.unit),
        "",
        _state(row),
        long(ahead.runs_out_on) if ahead and ahead.runs_out_on else "",
        Cell(by, "now", mark="late") if late else by,
        _order(row),
        Cell(long(row.expires_on), "watch", mark="odd")
        if row.expires_on and row.expired
        else _day(row.expires_on),
        ", ".join(f"{one.name} {amount(one.quantity, row.unit)}" for one in row.places),
    ]


def _state(row: StockRow) -> Cell:
    if row.is_low:
        return Cell("low" if row.there else "none left", "watch", mark="due")
    if row.expired:
        return Cell("expired", "watch", mark="odd")
    return Cell("count it", "watch", mark="odd") if row.uncounted else Cell("")


def _order(row: StockRow) -> str:
    if row.outlook is None or not row.outlook.order:
        return ""
    packs = row.outlook.order_packs
    whole = amount(row.outlook.order, row.unit)
    return f"{whole} ({packs:,} × {row.pack_word or 'pack'})" if packs else whole


def _day(day: date | None) -> str:
    return long(day) if day else ""


def _boxes(record: StockList) -> Ledger:
    columns = [
        Column("Boxes", 60, face="SemiBold"),
        Column("State", 30, group_end=True),
        *(
            Column(name, 22, align="right")
            for name in ("Stores", "Vans", "Sites", "Extractor", "On hives", "All")
        ),
        Column(""),
    ]
    return Ledger(columns, [_box_row(one) for one in record.equipment.counts])


def _box_row(one: BoxCount) -> Row:
    places = (one.store, one.van, one.site, one.extractor, one.hives)
    return [
        one.name,
        str(one.state),
        *(f"{number:,}" if number else "" for number in places),
        f"{sum(places):,}",
        "",
    ]


def _books(record: StockList) -> str:
    return "; ".join(
        f"{one.box.value} boxes on hives: {one.by_books:,} by the books, {one.by_stacks:,} by the hives"
        if one.box.value == "brood"
        else f"supers: {one.by_books:,} by the books, {one.by_stacks:,} by the hives"
        for one in record.equipment.on_hives
    )


_ITEMS = (
    Field("Item", wide=30), Field("Kind", wide=12), Field("There", "count", 12), Field("Unit", wide=8),
    Field("State", wide=12), Field("Runs out", "day"), Field("Order by", "day"), Field("Order", "count", 12),
    Field("Packs", "count", 8), Field("Pack", wide=10), Field("Expires", "day"), Field("Last counted", "day"),
    Field("Supplier", wide=24), Field("Where", wide=40),
)  # fmt: skip
_BOXES = (
    Field("Boxes", wide=30), Field("Kind", wide=10), Field("Frames", wide=18), Field("State", wide=14),
    Field("Stores", "count", 9), Field("Vans", "count", 9), Field("Sites", "count", 9), Field("Extractor", "count", 10),
    Field("On hives", "count", 10), Field("All", "count", 9),
)  # fmt: skip


def render_workbook(record: StockList, farm: Farm, made: Made) -> bytes:
    """The list as a workbook of two sheets; quantities in grams, millilitres or pieces, as the unit says."""
    book = Book(heading(record), farm, made)
    book.sheet("Items", _ITEMS, [_values(row) for row in record.rows])
    book.sheet("Boxes", _BOXES, [_box_values(one) for one in record.equipment.counts], wide=False)
    return book.save()


def _values(row: StockRow) -> tuple[Value, ...]:
    ahead = row.outlook
    order = ahead is not None and ahead.order > 0
    unit = {Unit.GRAM: "g", Unit.MILLILITRE: "ml", Unit.PIECE: "pieces"}[row.unit]
    return (
        row.name, str(row.kind), row.there, unit, str(_state(row).text), ahead.runs_out_on if ahead else None,
        ahead.order_by if ahead and order else None, ahead.order if ahead and order else None,
        ahead.order_packs if ahead and order else None, row.pack_word, row.expires_on, row.counted_on, row.supplier,
        ", ".join(f"{one.name} {amount(one.quantity, row.unit)}" for one in row.places),
    )  # fmt: skip


def _box_values(one: BoxCount) -> tuple[Value, ...]:
    places = (one.store, one.van, one.site, one.extractor, one.hives)
    return (one.name, str(one.box), one.frame_size or "", str(one.state), *places, sum(places))
