"""The tables of Stock: items with what is there and what lies ahead, and boxes by state and place."""

from __future__ import annotations

from collections.abc import Collection, Hashable, Sequence
from datetime import date

from beeledger.base.dates import long, short
from beeledger.base.text import counted
from beeledger.queries.records.stock import MEDICINE, BoxCount, BoxesOnHives, Equipment, StockRow
from beeledger.rules.stock_items import BoxKind, ItemKind
from beeledger.ui.places.stock.quantities import (
    KIND_WORDS,
    STATE_WORDS,
    UNIT_SIGNS,
    packs_words,
    rough,
    roughly,
    said,
)
from beeledger.ui.widgets.cells import Align, Cell, Column, Row, Run
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.marks import Mark

_DAY = "30 Sep"
_BATCH = ", batch "
"""What stands between product and batch in the name of a pack of medicine."""
_RIGHT = Align.RIGHT
ITEMS = (
    Column("name", "Item", slack=True, whole=True, sample="340 g hexagonal jars"),
    Column("kind", "Kind", sample="foundation", spare=4),
    Column("there", "There", sample="9,999.9", align=_RIGHT),
    Column("unit", "", sample="kg", sorts=False, group_end=True),
    Column("state", "State", sample="order now", marks=True),
    Column("out", "Runs out", sample=_DAY),
    Column("by", "Order by", sample=_DAY, spare=3),
    Column("order", "Order", sample="99 sacks", group_end=True, spare=1),
    Column("expires", "Expires", sample=_DAY, spare=2),
    Column("where", "Where", slack=True, sample="Barn", spare=6),
)
BOXES = (
    Column("name", "Boxes", slack=True, whole=True, sample="Supers, drawn comb"),
    Column("box", "Kind", sample="brood box"),
    Column("frames", "Frames", sample="national deep"),
    Column("state", "State", sample="drawn comb", group_end=True),
    Column("store", "Stores", sample="9,999", align=_RIGHT),
    Column("van", "Vans", sample="9,999", align=_RIGHT),
    Column("site", "Sites", sample="9,999", align=_RIGHT),
    Column("extractor", "Extractor", sample="9,999", align=_RIGHT),
    Column("hives", "On hives", sample="9,999", align=_RIGHT, group_end=True),
    Column("all", "All", sample="9,999", align=_RIGHT),
)
CHIPS = (("low", "low"), ("feed", "feed"), ("jars", "jars"), ("boxes", "boxes"), ("retired", "retired"))
_KINDS: dict[str, frozenset[str]] = {
    "feed": frozenset({ItemKind.FEED}),
    "jars": frozenset({ItemKind.JAR, ItemKind.LID, ItemKind.LABEL}),
    "boxes": frozenset({ItemKind.BOX, ItemKind.FRAMES, ItemKind.FOUNDATION}),
}
BOX_WORDS = {BoxKind.BROOD: "brood box", BoxKind.SUPER: "super"}


def row_id(row: StockRow) -> Hashable:
    """The id of a row: the item's number; a pack of medicine has a number of another room."""
    return (MEDICINE, row.id) if row.kind == MEDICINE else row.id


def stock_row(row: StockRow, today: date) -> Row:
    """An item, ready to show."""
    words, mark, ink = state_of(row, today)
    ahead = row.outlook
    out, by = (ahead.runs_out_on, ahead.order_by) if ahead else (None, None)
    order = order_words(row)
    where = ", ".join(one.name for one in row.places)
    name = row.name.replace(_BATCH, " ") if row.kind == MEDICINE else row.name
    cells = (
        Cell(name, weight=600, tip=row.name if name != row.name else ""),
        Cell(KIND_WORDS.get(row.kind, row.kind), "ink2"),
        Cell("" if row.there is None else rough(row.there, row.unit), weight=500),
        Cell("" if row.there is None else UNIT_SIGNS[row.unit], "ink3"),
        Cell(words, ink, mark=mark, tip=state_tip(row)),
        Cell(_day(out, today), "ink2"),
        Cell(_day(by, today) if order else "", "ink2"),
        Cell(order, "ink2"),
        Cell(_day(row.expires_on, today), "watch" if row.expired else "ink2"),
        Cell(
            where, "ink2", tip=", ".join(f"{one.name} {said(one.quantity, row.unit)}" for one in row.places)
        ),
    )
    sort = (
        row.name, KIND_WORDS.get(row.kind, row.kind), row.there, None, words or None, out, by if order else None,
        ahead.order if ahead and ahead.order else None, row.expires_on, where or None,
    )  # fmt: skip
    return Row(row_id(row), cells, sort)


def state_of(row: StockRow, today: date) -> tuple[str, Mark | None, Token]:
    """What an item asks for, in a word: the first of what is pressing."""
    if row.retired:
        return "retired", None, "ink2"
    if is_late(row, today):
        return "order now", Mark.LATE, "now"
    if row.is_low:
        return ("low" if row.there else "none left"), Mark.TODAY, "watch"
    if row.expired:
        return "expired", Mark.ODD, "watch"
    if row.uncounted:
        return "count it", Mark.ODD, "watch"
    return "", None, "ink"


def is_late(row: StockRow, today: date) -> bool:
    """Whether the day to order by is past."""
    ahead = row.outlook
    return (
        bool(order_words(row)) and ahead is not None and ahead.order_by is not None and ahead.order_by < today
    )


def pressing_first(rows: Sequence[StockRow], today: date) -> list[StockRow]:
    """What asks for something stands above the rest, worst first; then by kind, and medicines last."""
    order = ("order now", "none left", "low", "expired", "count it")
    kinds = list(KIND_WORDS)

    def key(row: StockRow) -> tuple[int, int, str]:
        words = state_of(row, today)[0]
        pressing = order.index(words) if words in order else len(order)
        return pressing, kinds.index(row.kind) if row.kind in kinds else len(kinds), row.name.lower()

    return sorted(rows, key=key)


def state_tip(row: StockRow) -> str:
    """All there is to say of the state."""
    found = []
    if row.is_low:
        found.append("below its own line" if _below_line(row) else "less than the next weeks need")
    if row.expired:
        found.append(f"{said(row.expired, row.unit)} is past its date")
    if row.uncounted:
        found.append(f"{said(row.uncounted, row.unit)} more went than the record held")
    return "; ".join(found)


def order_words(row: StockRow) -> str:
    """How much to order, in packs where a pack is known; blank where nothing is to be ordered."""
    if row.outlook is None or not row.outlook.order or row.retired:
        return ""
    return packs_words(row.outlook.order_packs, row.pack_word) or roughly(row.outlook.order, row.unit)


def passes(row: StockRow, on: Collection[Hashable]) -> bool:
    """Whether the chips that are on show a row: one of the kinds asked for, and low where that is asked."""
    kinds = [_KINDS[str(key)] for key in on if key in _KINDS]
    return ("low" not in on or row.is_low) and (not kinds or any(row.kind in each for each in kinds))


def sums(rows: Sequence[StockRow]) -> list[Run]:
    """What the foot says of the rows shown."""
    low, expired = sum(row.is_low for row in rows), sum(row.expired > 0 for row in rows)
    odd = sum(row.uncounted > 0 for row in rows)
    runs = [Run(counted(len(rows), "item"), "ink", 600, gap=12)]
    if low:
        runs.append(Run(f"{low:,} low", "watch", 600, mark=Mark.TODAY, gap=12))
    if expired:
        runs.append(Run(f"{expired:,} with some expired", "watch", mark=Mark.ODD, gap=12))
    if odd:
        runs.append(Run(f"{odd:,} to count", "watch", mark=Mark.ODD))
    return runs


def box_row(count: BoxCount) -> Row:
    """Boxes of one kind and state, ready to show; a blank where there are none."""
    places = (count.store, count.van, count.site, count.extractor, count.hives)
    every = sum(places)
    frames = (count.frame_size or "").replace("_", " ")
    words = (count.name, BOX_WORDS[count.box], frames, STATE_WORDS.get(count.state, ""))
    cells = (
        Cell(words[0], weight=600),
        *(Cell(each, "ink2") for each in words[1:]),
        *(Cell(figure_or_blank(number)) for number in places),
        Cell(f"{every:,}", weight=600),
    )
    return Row(count.item_id, cells, (*words, *places, every))


def box_sums(equipment: Equipment) -> dict[str, str]:
    """The sums under the columns of boxes."""
    counts = equipment.counts
    found = {
        "store": sum(one.store for one in counts), "van": sum(one.van for one in counts),
        "site": sum(one.site for one in counts), "extractor": sum(one.extractor for one in counts),
        "hives": sum(one.hives for one in counts),
    }  # fmt: skip
    every = sum(found.values())
    return {key: figure_or_blank(number) for key, number in found.items()} | {"all": f"{every:,}"}


def books_words(one: BoxesOnHives) -> list[Run]:
    """What is on hives by the books of stock, beside what was last written of the hives themselves."""
    name = {BoxKind.BROOD: "Brood boxes", BoxKind.SUPER: "Supers"}[one.box]
    runs = [Run(f"{name} on hives: {one.by_books:,} by the books, {one.by_stacks:,} by the hives", gap=8)]
    if not one.difference:
        return [*runs, Run("they agree", "ink2")]
    much = "more" if one.difference > 0 else "fewer"
    return [*runs, Run(f"{abs(one.difference):,} {much} by the books", "watch", 600, mark=Mark.ODD)]


def figure_or_blank(number: int) -> str:
    """A count that is blank for none."""
    return f"{number:,}" if number else ""


def _below_line(row: StockRow) -> bool:
    return row.low is not None and row.there is not None and row.there < row.low


def _day(day: date | None, today: date) -> str:
    if day is None:
        return ""
    return short(day) if day.year == today.year else long(day)
