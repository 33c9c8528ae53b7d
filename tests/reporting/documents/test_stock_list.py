"""The stock list on paper: what is there, what to order, boxes by the books against the hives."""

from __future__ import annotations

from datetime import date
from io import BytesIO

from openpyxl import load_workbook

from beeledger.queries.records.stock import BoxCount, BoxesOnHives, Equipment, Held, StockRow
from beeledger.queries.records.stock_list import StockList
from beeledger.reporting.documents.stock_list import render_pdf, render_workbook
from beeledger.reporting.look.workbook import HEAD_ROW
from beeledger.reporting.pictures import page_count, page_text
from beeledger.rules.stock import Outlook
from beeledger.rules.stock_items import Account, BoxKind, BoxState, ItemKind, Unit
from tests.reporting.examples import FARM, MADE

DAY = date(2026, 5, 14)


def row(name: str, **but: object) -> StockRow:
    held = Held(Account.STORE, 1, "Barn", 40_000)
    facts = {
        "id": 1, "name": name, "kind": ItemKind.FEED, "unit": Unit.GRAM, "there": 40_000, "places": (held,),
        "pack": 25_000, "pack_word": "sack", "low": None, "supplier": "Fen Mill", "counted_on": date(2026, 3, 2),
        "uncounted": 0, "expires_on": None, "expired": 0, "outlook": None,
    }  # fmt: skip
    return StockRow(**(facts | but))


def stock() -> StockList:
    ahead = Outlook(
        (20_000, 20_000, 30_000), "a guess", date(2026, 5, 28), date(2026, 5, 8), 50_000, 2, short=False
    )
    boxes = BoxCount(7, "Supers, drawn", BoxKind.SUPER, None, BoxState.DRAWN, 93, 0, 4, 0, 60)
    on_hives = (BoxesOnHives(BoxKind.BROOD, 62, 60), BoxesOnHives(BoxKind.SUPER, 60, 58))
    low = row("White sugar", low=50_000, outlook=ahead)
    old = row("Fondant", id=2, expires_on=date(2026, 3, 31), expired=12_000)
    return StockList(DAY, (low, old), Equipment((boxes,), on_hives))


def words_of(record: StockList) -> str:
    pdf = render_pdf(record, FARM, MADE)
    return " ".join(" ".join(page_text(pdf, page).split()) for page in range(page_count(pdf)))


def test_each_item_says_what_is_there_and_what_to_order_by_when():
    text = words_of(stock())
    assert "White sugar 40 kg low 28 May 2026 8 May 2026 50 kg (2 × sack) Barn 40 kg" in text
    assert "Fondant 40 kg expired 31 Mar 2026" in text
    assert "2 items, 1 low" in text


def test_boxes_stand_by_place_and_by_the_books_beside_the_hives():
    text = words_of(stock())
    assert "Supers, drawn drawn 93 4 60 157" in text
    assert "brood boxes on hives: 62 by the books, 60 by the hives" in text


def test_who_lifts_is_warned_and_a_guess_is_called_one():
    text = words_of(stock())
    assert "heavier than one person should lift" in text
    assert "a guess, and for a person to decide" in text


def test_a_farm_that_keeps_nothing_yet_has_a_page_that_says_so():
    bare = StockList(DAY, (), Equipment((), ()))
    assert "Nothing is kept yet" in words_of(bare)


def test_the_workbook_holds_the_same_figures_to_the_gram():
    book = load_workbook(BytesIO(render_workbook(stock(), FARM, MADE)))
    rows = list(book["Items"].iter_rows(min_row=HEAD_ROW + 1, values_only=True))
    assert rows[0][:5] == ("White sugar", "feed", 40_000, "g", "low")
    assert rows[0][7:10] == (50_000, 2, "sack")
    boxes = list(book["Boxes"].iter_rows(min_row=HEAD_ROW + 1, values_only=True))
    assert boxes[0][4:] == (93, 0, 4, 0, 60, 157)
