"""Reads of the stock: what is there and where, what runs out, lots, entries, boxes; statements counted."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime
from typing import Any

import pytest
from sqlalchemy.orm import Session

from beeledger.base.clock import FixedClock, local_moment
from beeledger.database.ledger import Ledger
from beeledger.database.opening import open_ledger
from beeledger.operations.act import perform
from beeledger.operations.medicines import NewMedicine, add_medicine
from beeledger.operations.parties import NewVehicle, add_vehicle
from beeledger.operations.stock import (
    MORE,
    Bought,
    CountLine,
    Delivery,
    StockMove,
    StockTake,
    StockUse,
    Taken,
    buy_stock,
    count_stock,
    counter_entry,
    move_stock,
    use_stock,
    waste_stock,
)
from beeledger.operations.stock_items import NewItem, NewStore, add_item, add_store, retire_item
from beeledger.queries.equipment import equipment_counts
from beeledger.queries.feed_need import feed_need
from beeledger.queries.pressing import cannot_wait
from beeledger.queries.records.stock import MEDICINE, ItemCard, StockRow
from beeledger.queries.stock import choices, low_items, stock_list
from beeledger.queries.stock_card import PAGE, item_card
from beeledger.rules.rounds.entry import Entry, Outcome
from beeledger.rules.stock_items import Account, At, BoxKind, ItemKind, Unit
from tests.builders.store_room import BOUGHT, StoreRoom, store_room
from tests.builders.yards import strips, yard
from tests.queries.counting import statements

TODAY = date(2026, 5, 14)
NOW = datetime(2026, 5, 14, 18, 0, tzinfo=UTC)
ACCEPTED = frozenset({MORE})


@pytest.fixture
def room(sqlite_ledger: Ledger) -> StoreRoom:
    return store_room(sqlite_ledger)


def read(ledger: Ledger, query: Callable[..., Any], *args: Any) -> Any:
    with ledger.read() as session:
        return query(session, *args)


def row(room: StoreRoom, item_id: int, today: date = TODAY) -> StockRow:
    found: StockRow = next(one for one in read(room.ledger, stock_list, today) if one.id == item_id)
    return found


def use(room: StoreRoom, on: date, grams: int) -> None:
    perform(room.ledger, use_stock, StockUse(on, room.barn, (Taken(room.sugar, grams),), accepted=ACCEPTED))


def test_the_list_says_what_is_there_and_where(room: StoreRoom) -> None:
    van = At(Account.VAN, perform(room.ledger, add_vehicle, NewVehicle("Green van", 20)).result)
    perform(room.ledger, move_stock, StockMove(TODAY, room.barn, van, (Taken(room.sugar, 25_000),)))
    found = row(room, room.sugar)
    assert (found.there, found.supplier, found.pack, found.low) == (200_000, "Fen Mill", 25_000, 50_000)
    assert [(one.name, one.quantity) for one in found.places] == [("Barn", 175_000), ("Green van", 25_000)]
    assert found.expires_on == date(2027, 6, 30)
    assert not found.is_low


def test_below_its_line_it_is_low_and_cannot_wait(room: StoreRoom) -> None:
    use(room, date(2026, 4, 1), 160_000)
    assert row(room, room.sugar).is_low
    (low,) = read(room.ledger, low_items, TODAY)
    # By hand: 160 kg in the last 8 weeks, 20 a week: two weeks left; 26 weeks need 520 kg, 480 missing: 20 sacks.
    why = "40 kg there, runs out 28 May; order 500 kg (20 × sack)"
    assert (low.title, low.why, low.late) == ("Sugar, granulated is low", why, False)
    assert low.when_on == date(2026, 5, 21)
    (pressing,) = read(room.ledger, cannot_wait, TODAY, NOW)
    assert (pressing.title, pressing.place, pressing.what) == (low.title, "stock", room.sugar)


def test_use_of_last_year_says_when_it_runs_out_and_what_to_order(new_target: Callable[..., str]) -> None:
    ledger = open_ledger(new_target("sqlite"), FixedClock(local_moment(TODAY, 600, "Europe/London")))
    room = store_room(ledger)
    # By hand: on record since 2 March 2025, 40 kg used on 15 May 2025, the second day of the week ahead.
    store = room.barn
    perform(ledger, buy_stock, Delivery(date(2025, 3, 2), store, (Bought(room.sugar, 40_000),)))
    use(room, date(2025, 5, 15), 40_000)
    perform(ledger, count_stock, StockTake(TODAY, store, (CountLine(room.sugar, 20_000),)))
    found = row(room, room.sugar).outlook
    assert found is not None
    assert found.basis == "the mean of the same weeks of 1 earlier year"
    assert found.weeks[0] == 40_000
    # 20 kg of the week's 40 kg: gone after three and a half days; seven days of lead: should have been ordered.
    assert (found.runs_out_on, found.order_by) == (date(2026, 5, 17), date(2026, 5, 10))
    assert (found.order, found.order_packs, found.short) == (25_000, 1, True)
    (low,) = read(ledger, low_items, TODAY)
    assert low.late
    assert low.why == "20 kg there, runs out 17 May; order 25 kg (1 × sack)"
    ledger.close()


def test_what_was_taken_back_is_no_use(room: StoreRoom) -> None:
    use(room, date(2026, 5, 1), 30_000)
    use(room, date(2026, 5, 1), 10_000)
    card: ItemCard = read(room.ledger, item_card, room.sugar, TODAY)
    perform(room.ledger, counter_entry, card.entries[1].id, "typed twice")
    card = read(room.ledger, item_card, room.sugar, TODAY)
    assert [(week.monday, week.used) for week in card.weeks if week.used] == [(date(2026, 4, 27), 10_000)]


def test_what_went_beyond_the_record_wants_counting_until_it_is_counted(room: StoreRoom) -> None:
    use(room, date(2026, 5, 1), 230_000)
    assert row(room, room.sugar).uncounted == 30_000
    perform(room.ledger, count_stock, StockTake(TODAY, room.barn, (CountLine(room.sugar, 0),)))
    found = row(room, room.sugar)
    assert (found.uncounted, found.counted_on) == (0, TODAY)


def test_a_lot_that_has_expired_is_named(room: StoreRoom) -> None:
    later = date(2027, 8, 1)
    assert (row(room, room.sugar, later).expired, row(room, room.sugar, later).expires_on) == (
        100_000, date(2027, 6, 30)
    )  # fmt: skip
    (low,) = [one for one in read(room.ledger, low_items, later) if one.item_id == room.sugar]
    assert (low.title, low.why) == ("Sugar, granulated: expired", "100 kg has expired")


def test_packs_of_medicine_are_rows_of_their_own(room: StoreRoom) -> None:
    pack = NewMedicine("Fen strips", "amitraz", "B7", date(2026, 5, 1), BOUGHT, 100, usual=True)
    number = perform(room.ledger, add_medicine, pack).result
    drove = yard(room.ledger, "Long Drove", "1")
    drove.post(date(2026, 4, 2), h1=Entry(outcome=Outcome.LOOKED, medicine_in_count=2))
    (found,) = [one for one in read(room.ledger, stock_list, TODAY) if one.kind == MEDICINE]
    assert (found.id, found.name, found.there, found.expired) == (number, "Fen strips, batch B7", 98, 98)
    (pressing,) = [one for one in read(room.ledger, cannot_wait, TODAY, NOW) if one.place == "medicines"]
    assert (pressing.grade, pressing.what) == ("odd", number)
    strips(room.ledger, "No count strips", usual=False)
    assert next(
        one.there for one in read(room.ledger, stock_list, TODAY) if one.name.startswith("No count")
    ) is None  # fmt: skip


def test_retired_items_are_listed_when_asked_for(room: StoreRoom) -> None:
    gone = perform(room.ledger, add_item, NewItem("Old lids", ItemKind.LID, Unit.PIECE)).result
    perform(room.ledger, retire_item, gone, TODAY)
    assert gone not in {one.id for one in read(room.ledger, stock_list, TODAY)}
    with room.ledger.read() as session:
        assert [one.id for one in stock_list(session, TODAY, retired=True) if one.retired] == [gone]


def test_a_card_shows_lots_with_what_is_left_and_accounts_that_add_up_to_nothing(room: StoreRoom) -> None:
    use(room, date(2026, 5, 1), 130_000)
    perform(room.ledger, waste_stock, StockUse(TODAY, room.barn, (Taken(room.sugar, 1_000),), "burst sack"))
    card: ItemCard = read(room.ledger, item_card, room.sugar, TODAY)
    assert [(lot.batch, lot.bought, lot.left, lot.price_pence) for lot in card.lots] == [
        ("A1", 100_000, 69_000, 9_000), ("A2", 100_000, 0, 9_200)
    ]  # fmt: skip
    assert {one.name: one.quantity for one in card.accounts} == {
        "Barn": 69_000, "used": 130_000, "wasted": 1_000, "supplier": -200_000
    }  # fmt: skip
    assert card.entry_count == len(card.entries) == 5
    assert (card.entries[0].reason, card.entries[0].source.name, card.entries[0].target.name) == (
        "burst sack", "Barn", "wasted"
    )  # fmt: skip
    assert sum(week.wasted for week in card.weeks) == 1_000


def test_entries_come_page_by_page(room: StoreRoom) -> None:
    for _ in range(PAGE):
        use(room, TODAY, 100)
    with room.ledger.read() as session:
        pages = [item_card(session, room.sugar, TODAY, page).entries for page in range(2)]
    assert [len(page) for page in pages] == [PAGE, 2]
    assert len({entry.id for page in pages for entry in page}) == PAGE + 2


def test_boxes_on_hives_by_the_books_stand_beside_the_stacks(room: StoreRoom) -> None:
    drove = yard(room.ledger, "Long Drove", "1", "2")
    drove.post(date(2026, 4, 20), h1=Entry(outcome=Outcome.LOOKED, supers_on=2))
    found = read(room.ledger, equipment_counts)
    assert [(one.name, one.store, one.hives) for one in found.counts] == [
        ("Supers, drawn", 38, 2), ("Supers, wet", 0, 0)
    ]  # fmt: skip
    assert {one.box: (one.by_books, one.by_stacks, one.difference) for one in found.on_hives} == {
        BoxKind.BROOD: (0, 2, -2), BoxKind.SUPER: (2, 2, 0)
    }  # fmt: skip


def test_forms_choose_among_what_there_is(room: StoreRoom) -> None:
    found = read(room.ledger, choices)
    assert found.usual_store_id == room.barn.number
    assert [one.name for one in found.places if one.kind is Account.STORE] == ["Barn"]
    assert [name for _, name in found.suppliers] == ["Fen Mill"]
    assert len(found.items) == 5


def test_reads_ask_the_database_as_often_for_many_items_as_for_one(sqlite_ledger: Ledger) -> None:
    barn = At(Account.STORE, perform(sqlite_ledger, add_store, NewStore("Barn")).result)
    said = []
    for many in (1, 6):
        for number in range(many):
            new = NewItem(f"Feed {many}, {number}", ItemKind.FEED, Unit.GRAM)
            item = perform(sqlite_ledger, add_item, new).result
            perform(
                sqlite_ledger, buy_stock, Delivery(BOUGHT, barn, (Bought(item, 1_000), Bought(item, 500)))
            )
            perform(sqlite_ledger, use_stock, StockUse(TODAY, barn, (Taken(item, 300),)))
            perform(sqlite_ledger, count_stock, StockTake(TODAY, barn, (CountLine(item, 900),)))
        said.append([_asked(sqlite_ledger, query, *args) for query, *args in _READS])
    assert said[0] == said[1]
    assert max(said[0]) <= 30


_READS: tuple[tuple[Any, ...], ...] = (
    (stock_list, TODAY), (low_items, TODAY), (item_card, 1, TODAY), (equipment_counts,), (choices,)
)  # fmt: skip


def _asked(ledger: Ledger, query: Callable[..., Any], *args: Any) -> int:
    with statements(ledger) as said, ledger.read() as session:
        assert isinstance(session, Session)
        query(session, *args)
    return len(said)


def test_the_list_walks_indexes_and_no_whole_table_of_entries(room: StoreRoom) -> None:
    with statements(room.ledger) as said, room.ledger.read() as session:
        stock_list(session, TODAY)
    connection = room.ledger.engine.raw_connection()
    try:
        for statement in said:
            if "stock_entry" in statement:
                marks = (1,) * statement.count("?")
                plan = connection.cursor().execute(f"EXPLAIN QUERY PLAN {statement}", marks).fetchall()
                steps = [str(step[-1]) for step in plan]
                assert not [step for step in steps if step.startswith("SCAN stock_entry")], (statement, steps)
    finally:
        connection.close()


def test_in_autumn_the_sugar_the_hives_still_need_cannot_wait(new_target: Callable[..., str]) -> None:
    autumn, now = date(2026, 8, 20), datetime(2026, 8, 20, 6, 0, tzinfo=UTC)
    ledger = open_ledger(new_target("sqlite"), FixedClock(now))
    room = store_room(ledger)
    marks = [str(number) for number in range(1, 31)]
    drove = yard(ledger, "Long Drove", *marks)
    # By hand: 9.5 kg of the 20 kg a single box wants: 10.5 ÷ 1.05 = 10 kg of sugar for each hive that was seen.
    light = Entry(outcome=Outcome.LOOKED, stores_g=9_500)
    drove.post(date(2026, 6, 1), **{f"h{mark}": light for mark in marks})
    assert read(ledger, feed_need, autumn).known == 0  # looked at too long ago to say
    drove.post(date(2026, 8, 12), **{f"h{mark}": light for mark in marks[:20]})
    found = read(ledger, feed_need, autumn)
    assert (found.colonies, found.known, found.short, found.sugar_g) == (30, 20, 20, 200_000)
    assert found.there_sugar_g == 200_000
    assert not [one for one in read(ledger, cannot_wait, autumn, now) if one.title.startswith("Autumn")]
    drove.post(date(2026, 8, 14), **{f"h{mark}": light for mark in marks[20:]})
    (said,) = [one for one in read(ledger, cannot_wait, autumn, now) if one.title.startswith("Autumn")]
    assert said.title == "Autumn feed: 100 kg of sugar short"
    assert said.why == "30 of 30 colonies seen lately want 300 kg; 200 kg there"
    with statements(ledger) as asked:
        read(ledger, feed_need, autumn)
    assert len([one for one in asked if one.startswith("SELECT")]) == 3
    assert room.there(room.sugar) == 200_000
    ledger.close()


def test_a_farm_that_keeps_no_stock_has_an_empty_list(sqlite_ledger: Ledger) -> None:
    assert read(sqlite_ledger, stock_list, TODAY) == read(sqlite_ledger, low_items, TODAY) == []
    assert read(sqlite_ledger, feed_need, TODAY).there_sugar_g == 0
    assert read(sqlite_ledger, choices).usual_store_id is None
