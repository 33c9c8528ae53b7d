"""Stock as one works in it by keyboard."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from beeledger.database.ledger import Ledger
from beeledger.model.stock import StockCount, StockEntry, StockItem, StockLot, StockStore
from beeledger.operations.act import perform
from beeledger.operations.stock import StockUse, Taken, use_stock
from beeledger.rules.stock_items import HIVES, USED, WASTED, Account, At
from beeledger.ui.places.stock.forms import at_key
from beeledger.ui.widgets.form import Form
from tests.builders.store_room import StoreRoom, store_room
from tests.builders.yards import rows
from tests.ui.places.sitting import Seat, seated

ENTER = Qt.Key.Key_Return
CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def room(sqlite_ledger: Ledger) -> StoreRoom:
    return store_room(sqlite_ledger)


@pytest.fixture
def seat(room: StoreRoom, qtbot: Any, tmp_path: Path) -> Iterator[Seat]:
    with seated(room.ledger, "stock", qtbot, tmp_path) as made:
        yield made


def opened(seat: Seat, key: Qt.Key) -> Form:
    """Press Ctrl and a key at the list, and take the form that opens."""
    QTest.keyClick(seat.place.lists.focusProxy(), key, CTRL)
    seat.until(lambda: seat.place.side.form() is not None)
    form = seat.place.side.form()
    assert isinstance(form, Form)
    return form


def type_into(form: Form, field: str, words: str) -> None:
    editor = form.fields[field].editor
    editor.setFocus()
    if isinstance(editor, QLineEdit):
        editor.selectAll()
    QTest.keyClicks(editor, words)


def post(seat: Seat, form: Form) -> None:
    QTest.keyClick(next(iter(form.fields.values())).editor, ENTER, CTRL)
    seat.settle()


def choose(seat: Seat, item_id: int) -> None:
    seat.place.table.choose([item_id])
    seat.settle()
    seat.until(lambda: seat.place.card.shown is not None and seat.place.card.shown.item.id == item_id)


def test_the_list_says_what_is_there_in_which_unit_and_what_is_low(seat: Seat, room: StoreRoom) -> None:
    perform(
        room.ledger, use_stock, StockUse(date(2026, 5, 12), room.barn, (Taken(room.sugar, 160_000),), "fed")
    )
    seat.place.refresh()
    seat.settle()
    shown = {row.id: [cell.text for cell in row.cells] for row in seat.place.table.records.all_rows()}
    assert shown[room.sugar][:5] == ["Sugar, granulated", "feed", "40", "kg", "low"]
    assert shown[room.jars][:5] == ["Jars 340 g", "jars", "1,000", "", ""]
    assert next(iter(shown)) == room.sugar  # what is low stands first
    assert seat.place.subtitle == "1 low"


def test_chips_show_low_ones_and_kinds(seat: Seat, room: StoreRoom) -> None:
    def names(*keys: str) -> set[Any]:
        seat.place.lists.chips.set_chips(
            [(key, key) for key in ("low", "feed", "jars", "boxes", "retired")], keys
        )
        seat.place._chipped(seat.place.lists.chips.on())
        seat.settle()
        return {row.id for row in seat.place.table.records.rows_shown()}

    assert names("jars") == {room.jars, room.lids}
    assert names("boxes") == {room.drawn, room.wet}
    assert names("feed", "jars") == {room.sugar, room.jars, room.lids}
    assert names("low") == set()


def test_an_item_is_added_by_keyboard_alone(seat: Seat, room: StoreRoom) -> None:
    form = opened(seat, Qt.Key.Key_N)
    assert form.fields["feed_kind"].isVisible()
    assert not form.fields["box"].isVisible()
    for field, words in (
        ("name", "Fondant"), ("pack", "12.5"), ("pack_word", "box"), ("low", "50"), ("lead_days", "9"),
        ("supplier", "Fen Mill"), ("sugar_hundredths", "85"),
    ):  # fmt: skip
        type_into(form, field, words)
    post(seat, form)
    row = rows(room.ledger, StockItem)[-1]
    assert (row.name, row.kind, row.unit, row.pack, row.pack_word) == ("Fondant", "feed", "g", 12_500, "box")
    assert (row.low, row.lead_days, row.sugar_hundredths) == (50_000, 9, 8_500)
    assert seat.place.side.form() is None
    seat.settle()
    assert seat.place.table.chosen() == [row.id]


def test_an_item_needs_a_name_and_it_is_said_beside_the_field(seat: Seat) -> None:
    form = opened(seat, Qt.Key.Key_N)
    post(seat, form)
    assert form.fields["name"].message() == "an item needs a name"
    QTest.keyClick(form, Qt.Key.Key_Escape)
    assert seat.place.side.form() is None


def test_a_delivery_of_two_lines_makes_two_lots_in_the_usual_store(seat: Seat, room: StoreRoom) -> None:
    choose(seat, room.sugar)
    before = len(rows(room.ledger, StockLot))
    form = opened(seat, Qt.Key.Key_D)
    assert form.fields["item_id1"].value() == str(room.sugar)
    for field, words in (
        ("quantity1", "3 sacks"),
        ("batch1", "S 9"),
        ("expires_on1", "1 Jun 2028"),
        ("price_pence1", "61.50"),
    ):
        type_into(form, field, words)
    QTest.keyClick(form.fields["price_pence1"].editor, Qt.Key.Key_N, CTRL | Qt.KeyboardModifier.ShiftModifier)
    assert form.fields["item_id2"].editor.hasFocus()
    type_into(form, "item_id2", "Lids")
    type_into(form, "quantity2", "500")
    post(seat, form)
    sugar, lids = rows(room.ledger, StockLot)[before:]
    assert (sugar.item_id, sugar.batch, sugar.expires_on, sugar.price_pence) == (
        room.sugar,
        "S 9",
        date(2028, 6, 1),
        6_150,
    )
    assert lids.item_id == room.lids
    assert room.there(room.sugar) == 275_000
    assert room.there(room.lids, None, lids.id) == 500


def test_what_is_wrong_with_the_second_line_stands_beside_it(seat: Seat) -> None:
    form = opened(seat, Qt.Key.Key_D)
    QTest.keyClick(form.fields["quantity1"].editor, Qt.Key.Key_N, CTRL | Qt.KeyboardModifier.ShiftModifier)
    type_into(form, "quantity1", "5")
    type_into(form, "item_id2", "Lids")
    type_into(form, "quantity2", "12 kg")
    post(seat, form)
    assert form.fields["quantity2"].message() == "it is kept in pieces, not in kg"
    assert seat.place.side.form() is form


def test_more_than_is_there_is_asked_about_and_accepted_by_pressing_again(
    seat: Seat, room: StoreRoom
) -> None:
    choose(seat, room.lids)
    there = room.there(room.lids)
    form = opened(seat, Qt.Key.Key_U)
    type_into(form, "quantity1", str(there + 7))
    type_into(form, "reason", "jars for the fair")
    post(seat, form)
    assert form.fields["quantity1"].message().startswith(f"by the record Barn holds {there:,} of Lids")
    post(seat, form)
    assert seat.place.side.form() is None
    assert (room.there(room.lids), room.there(room.lids, USED)) == (0, there + 7)
    seat.settle()
    row = next(row for row in seat.place.rows if row.id == room.lids)
    assert row.uncounted == 7


def test_waste_wants_a_reason(seat: Seat, room: StoreRoom) -> None:
    choose(seat, room.jars)
    form = opened(seat, Qt.Key.Key_B)
    type_into(form, "quantity1", "12")
    post(seat, form)
    assert form.fields["reason"].message() == "say what became of it"
    type_into(form, "reason", "dropped")
    post(seat, form)
    assert room.there(room.jars, WASTED) == 12


def test_boxes_are_carried_to_the_hives_and_the_equipment_says_so(seat: Seat, room: StoreRoom) -> None:
    choose(seat, room.drawn)
    form = opened(seat, Qt.Key.Key_M)
    type_into(form, "quantity1", "15")
    form.set_values({"target": at_key(HIVES)})  # a blank would open the list
    post(seat, form)
    assert room.there(room.drawn, HIVES) == 15
    seat.place.show_what("boxes")
    seat.settle()
    drawn = next(row for row in seat.place.lists.boxes.records.all_rows() if row.id == room.drawn)
    assert [cell.text for cell in drawn.cells[3:]] == ["drawn comb", "25", "", "", "", "15", "40"]
    books = [words.text() for words in seat.place.lists.books.values()]
    assert any("Supers on hives: 15 by the books, 0 by the hives" in each for each in books)


def test_boxes_change_their_state(seat: Seat, room: StoreRoom) -> None:
    choose(seat, room.drawn)
    form = opened(seat, Qt.Key.Key_G)
    type_into(form, "quantity", "10")
    post(seat, form)
    assert (room.there(room.drawn), room.there(room.wet)) == (30, 10)


def test_a_count_is_typed_down_the_column_and_differences_are_seen_before_posting(
    seat: Seat, room: StoreRoom
) -> None:
    QTest.keyClick(seat.place.table, Qt.Key.Key_T, CTRL)
    seat.until(lambda: seat.place.front.currentWidget() is seat.place.sheet)
    sheet = seat.place.sheet
    assert sheet.lines[0].item.id == room.sugar
    assert sheet.lines[0].edit.hasFocus()
    assert not sheet.post_it.isEnabled()
    QTest.keyClicks(sheet.lines[0].edit, "190")
    assert sheet.lines[0].said.text() == "10 kg less than the record"
    QTest.keyClick(sheet.lines[0].edit, ENTER)
    assert sheet.lines[1].edit.hasFocus()
    QTest.keyClicks(sheet.lines[1].edit, "some")
    assert not sheet.post_it.isEnabled()
    sheet.lines[1].edit.clear()
    before = len(rows(room.ledger, StockCount))
    QTest.keyClick(sheet.lines[1].edit, ENTER, CTRL)
    seat.settle()
    count = rows(room.ledger, StockCount)[before:]
    assert [(one.item_id, one.counted, one.held) for one in count] == [(room.sugar, 190_000, 200_000)]
    assert room.there(room.sugar) == 190_000
    assert seat.place.front.currentIndex() == 0


def test_a_begun_count_is_not_left_unseen_and_escape_leaves_it(seat: Seat) -> None:
    QTest.keyClick(seat.place.table, Qt.Key.Key_T, CTRL)
    seat.until(lambda: seat.place.front.currentWidget() is seat.place.sheet)
    QTest.keyClicks(seat.place.sheet.lines[0].edit, "5")
    assert not seat.place.leave()
    assert seat.said[-1].text == "A count is typed and not posted yet"
    QTest.keyClick(seat.place.sheet.lines[0].edit, Qt.Key.Key_Escape)
    assert seat.place.front.currentIndex() == 0
    assert seat.place.leave()


def test_an_entry_is_taken_back_from_the_card_with_a_reason(seat: Seat, room: StoreRoom) -> None:
    act = perform(
        room.ledger, use_stock, StockUse(date(2026, 5, 12), room.barn, (Taken(room.jars, 90),), "jarring")
    )
    assert act.kind == "use_stock"
    seat.place.refresh()
    seat.settle()
    choose(seat, room.jars)
    entry = rows(room.ledger, StockEntry)[-1]
    seat.place.card.entries.opened.emit(("entry", entry.id))
    form = seat.place.side.form()
    assert isinstance(form, Form)
    type_into(form, "reason", "typed twice")
    post(seat, form)
    assert room.there(room.jars) == 1_000
    assert rows(room.ledger, StockEntry)[-1].counters_id == entry.id


def test_an_item_with_stock_is_not_retired_and_an_empty_one_is_and_comes_back(
    seat: Seat, room: StoreRoom
) -> None:
    choose(seat, room.sugar)
    QTest.keyClick(seat.place.table, Qt.Key.Key_R, CTRL)
    seat.settle()
    assert "there is some left" in seat.said[-1].text
    choose(seat, room.wet)
    QTest.keyClick(seat.place.table, Qt.Key.Key_R, CTRL)
    seat.settle()
    assert room.wet not in {row.id for row in seat.place.rows}
    seat.place.lists.chips.set_chips([("retired", "retired")], ["retired"])
    seat.place._chipped(["retired"])
    seat.settle()
    choose(seat, room.wet)
    assert seat.place.card.acts["Retire"].text() == "Keep again"
    QTest.keyClick(seat.place.table, Qt.Key.Key_R, CTRL)
    seat.settle()
    assert rows(room.ledger, StockItem)[2].retired_on is None or room.wet in {
        row.id for row in seat.place.rows
    }


def test_every_field_has_an_address_and_what_is_heavy_its_caution(seat: Seat, room: StoreRoom) -> None:
    choose(seat, room.drawn)
    for key in (
        Qt.Key.Key_N,
        Qt.Key.Key_E,
        Qt.Key.Key_D,
        Qt.Key.Key_M,
        Qt.Key.Key_U,
        Qt.Key.Key_B,
        Qt.Key.Key_G,
    ):
        form = opened(seat, key)
        assert all(field.objectName().startswith("stock.") for field in form.fields.values())
        QTest.keyClick(form, Qt.Key.Key_Escape)


def test_the_first_start_asks_for_an_item_and_then_for_a_store(
    sqlite_ledger: Ledger, qtbot: Any, tmp_path: Path
) -> None:
    with seated(sqlite_ledger, "stock", qtbot, tmp_path) as seat:
        assert seat.place.empty.isVisible()
        assert seat.place.empty.missing.text() == "Nothing is kept yet"
        form = opened(seat, Qt.Key.Key_D)
        assert (form.objectName(), form.fields["usual"].value()) == ("stock.store", "yes")
        type_into(form, "name", "Barn")
        post(seat, form)
        assert [(store.name, store.usual) for store in rows(sqlite_ledger, StockStore)] == [("Barn", True)]
        assert opened(seat, Qt.Key.Key_D).objectName() == "stock.deliver"


def test_the_stock_list_is_shown_on_paper(seat: Seat) -> None:
    QTest.keyClick(seat.place.table, Qt.Key.Key_P, CTRL)
    seat.until(lambda: seat.place.front.currentWidget() is seat.place.paper)
    assert seat.place.paper.printed.about.key == "stock-list"
    assert seat.place.paper.printed.pages


def test_a_store_of_another_name_is_still_the_same_place(seat: Seat, room: StoreRoom) -> None:
    seat.place.stores()
    seat.until(lambda: seat.place.side.form() is not None)
    form = seat.place.side.form()
    form.set_values({"which": str(room.barn.number)})
    type_into(form, "name", "Old barn")
    post(seat, form)
    assert [store.name for store in rows(room.ledger, StockStore)] == ["Old barn"]
    assert room.there(room.jars, At(Account.STORE, room.barn.number)) == 1_000


def test_a_lot_says_whose_it_is_when_it_came_when_it_ends_and_what_is_left(
    seat: Seat, room: StoreRoom
) -> None:
    perform(
        room.ledger, use_stock, StockUse(date(2026, 5, 12), room.barn, (Taken(room.sugar, 30_500),), "fed")
    )
    seat.place.refresh()
    seat.settle()
    choose(seat, room.sugar)
    second, first = seat.place.card.lots.facts()
    assert (first.name, first.middle, first.value) == ("A1", "Fen Mill", "100 kg of 100 kg")
    assert first.second == "2 Mar 2026, expires 30 Jun 2028, £90.00, Barn"
    assert (second.name, second.value) == ("A2", "69.5 kg of 100 kg")  # what expires first is taken first


def test_what_runs_out_is_reckoned_in_words(seat: Seat, room: StoreRoom) -> None:
    # By hand: 8 weeks of 10 kg each; 120 kg last 12 weeks from 14 May, to 6 August; 7 days to deliver: 30 July.
    # 26 weeks need 260 kg, 140 kg are missing: 6 sacks of 25 kg.
    for week in range(8):
        day = date(2026, 3, 20) + timedelta(days=7 * week)
        perform(room.ledger, use_stock, StockUse(day, room.barn, (Taken(room.sugar, 10_000),), "fed"))
    seat.place.refresh()
    seat.settle()
    choose(seat, room.sugar)
    assert seat.place.card.sum.text().splitlines() == [
        "Reckoned as the mean of the last 8 weeks: 20 kg in the next 2 weeks, 260 kg in 26 weeks.",
        "What is there (120 kg) is used up on 6 Aug 2026.",
        "6 Aug 2026 less 7 days to deliver: order by 30 Jul 2026.",
        "260 kg less 120 kg there: 140 kg are missing, 6 sacks of 25 kg. A guess from few years; a person decides.",
    ]
    assert seat.place.card.sections["stock.item.ahead"].head.summary == "order 6 sacks by 30 Jul"
