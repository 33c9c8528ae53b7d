"""Stock bought, moved, used, wasted, counted and put right; nothing below nothing, nothing from nowhere."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from beeledger.base.errors import Refused
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.model.parties import Party
from beeledger.model.stock import StockCount, StockEntry, StockItem, StockStore
from beeledger.operations.act import perform
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
    Turning,
    buy_stock,
    count_stock,
    counter_entry,
    move_stock,
    turn_boxes,
    use_stock,
    waste_stock,
)
from beeledger.operations.stock_items import (
    NewStore,
    add_item,
    add_store,
    change_item,
    change_store,
    keep_item_again,
    retire_item,
)
from beeledger.operations.undo import undo
from beeledger.rules.rounds.entry import Entry, FeedKind, Outcome
from beeledger.rules.stock_items import HIVES, SUPPLIER, UNCOUNTED, USED, WASTED, Account, At, BoxState, Unit
from tests.builders.store_room import BOUGHT, SUGAR, StoreRoom, store_room, super_item
from tests.builders.yards import rows, whole, yard

DAY = date(2026, 5, 12)
ACCEPTED = frozenset({MORE})


@pytest.fixture
def room(sqlite_ledger: Ledger) -> Iterator[StoreRoom]:
    """A filled store; whatever a test does to it, the ledger is sound afterwards."""
    yield store_room(sqlite_ledger)
    assert check_ledger(sqlite_ledger).clean


def refused(ledger: Ledger, operation: Callable[..., str], *args: Any) -> list[tuple[str, str]]:
    with pytest.raises(Refused) as caught:
        perform(ledger, operation, *args)
    return [(one.code, one.where.field) for one in caught.value.findings]


def test_what_is_bought_lies_in_the_store_lot_by_lot(ledger: Ledger) -> None:
    room = store_room(ledger)
    assert room.there(room.sugar) == 200_000
    assert [room.there(room.sugar, lot_id=lot) for lot in room.lots] == [100_000, 100_000]
    assert room.there(room.sugar, SUPPLIER) == -200_000
    (party,) = rows(ledger, Party, name="Fen Mill")
    assert party.is_supplier
    assert check_ledger(ledger).clean


def test_what_expires_first_is_used_first(room: StoreRoom) -> None:
    perform(room.ledger, use_stock, StockUse(DAY, room.barn, (Taken(room.sugar, 130_000),)))
    assert [room.there(room.sugar, lot_id=lot) for lot in room.lots] == [70_000, 0]
    assert room.there(room.sugar, USED) == 130_000


def test_a_lot_that_is_named_is_taken_from(room: StoreRoom) -> None:
    perform(room.ledger, use_stock, StockUse(DAY, room.barn, (Taken(room.sugar, 30_000, room.lots[0]),)))
    assert [room.there(room.sugar, lot_id=lot) for lot in room.lots] == [70_000, 100_000]


def test_more_than_there_is_is_asked_about_and_taken_from_what_was_never_counted_in(room: StoreRoom) -> None:
    use = StockUse(DAY, room.barn, (Taken(room.sugar, 150_000), Taken(room.sugar, 60_000)))
    assert refused(room.ledger, use_stock, use) == [(MORE, "quantity")]
    accepted = StockUse(DAY, room.barn, use.lines, accepted=ACCEPTED)
    perform(room.ledger, use_stock, accepted)
    assert room.there(room.sugar) == 0
    assert room.there(room.sugar, UNCOUNTED) == -10_000
    assert room.there(room.sugar, USED) == 210_000


def test_goods_go_from_the_store_to_the_van_and_to_a_site(room: StoreRoom) -> None:
    van = At(Account.VAN, perform(room.ledger, add_vehicle, NewVehicle("Green van", 20)).result)
    done = perform(
        room.ledger,
        move_stock,
        StockMove(DAY, room.barn, van, (Taken(room.sugar, 25_000), Taken(room.drawn, 8))),
    )
    assert (
        done.sentence
        == "Moved 25 kg of Sugar, granulated and 8 of Supers, drawn from Barn to Green van, 12 May"
    )
    assert (room.there(room.sugar, van), room.there(room.drawn, van)) == (25_000, 8)
    assert room.there(room.drawn) == 32


def test_only_boxes_go_on_hives(room: StoreRoom) -> None:
    perform(room.ledger, move_stock, StockMove(DAY, room.barn, HIVES, (Taken(room.drawn, 8),)))
    assert room.there(room.drawn, HIVES) == 8
    sugar = StockMove(DAY, room.barn, HIVES, (Taken(room.sugar, 1),))
    assert refused(room.ledger, move_stock, sugar) == [("stock.item_id", "item_id")]


def test_what_is_wasted_says_why(room: StoreRoom) -> None:
    lines = (Taken(room.jars, 12),)
    assert refused(room.ledger, waste_stock, StockUse(DAY, room.barn, lines)) == [("stock.reason", "reason")]
    perform(room.ledger, waste_stock, StockUse(DAY, room.barn, lines, "broken"))
    assert (room.there(room.jars), room.there(room.jars, WASTED)) == (988, 12)


@pytest.mark.parametrize(("counted", "uncounted"), [(180_000, 20_000), (230_000, -30_000), (200_000, 0)])
def test_a_count_puts_the_difference_where_it_was_never_counted(
    room: StoreRoom, counted: int, uncounted: int
) -> None:
    perform(room.ledger, count_stock, StockTake(DAY, room.barn, (CountLine(room.sugar, counted),), "spring"))
    assert room.there(room.sugar) == counted
    assert room.there(room.sugar, UNCOUNTED) == uncounted
    (count,) = rows(room.ledger, StockCount, item_id=room.sugar)
    assert (count.counted, count.held) == (counted, 200_000)


def test_wet_supers_are_clean_in_one_act(room: StoreRoom) -> None:
    clean = perform(room.ledger, add_item, super_item("Supers, clean", BoxState.CLEAN)).result
    turning = Turning(DAY, room.barn, room.drawn, clean, 12)
    assert perform(room.ledger, turn_boxes, turning).sentence == "12 boxes: Supers, drawn to Supers, clean"
    assert (room.there(room.drawn), room.there(clean)) == (28, 12)
    assert refused(room.ledger, turn_boxes, Turning(DAY, room.barn, room.drawn, room.jars, 1)) == [
        ("stock.into_id", "into_id")
    ]


def test_an_entry_is_put_right_by_its_counter_entry_once(room: StoreRoom) -> None:
    perform(room.ledger, use_stock, StockUse(DAY, room.barn, (Taken(room.sugar, 25_000),)))
    (entry,) = rows(room.ledger, StockEntry, to_kind="used")
    perform(room.ledger, counter_entry, entry.id, "typed twice")
    assert room.there(room.sugar) == 200_000
    assert room.there(room.sugar, USED) == 0
    (counter,) = rows(room.ledger, StockEntry, counters_id=entry.id)
    for number in (entry.id, counter.id):
        assert refused(room.ledger, counter_entry, number, "again") == [("stock.entry_id", "entry_id")]


def test_a_purchase_whose_goods_were_used_is_not_taken_back(room: StoreRoom) -> None:
    bought = perform(room.ledger, buy_stock, Delivery(DAY, room.barn, (Bought(room.lids, 500),)))
    undo(room.ledger, bought.act)
    assert room.there(room.lids) == 1_000
    lids = perform(room.ledger, buy_stock, Delivery(DAY, room.barn, (Bought(room.lids, 500),)))
    perform(room.ledger, use_stock, StockUse(DAY, room.barn, (Taken(room.lids, 1_200),)))
    with pytest.raises(Refused) as caught:
        undo(room.ledger, lids.act)
    assert caught.value.findings[0].what == "On it stands “Used 1,200 of Lids from Barn, 12 May”"


def test_a_count_that_later_use_stands_on_is_not_taken_back(room: StoreRoom) -> None:
    count = perform(room.ledger, count_stock, StockTake(DAY, room.barn, (CountLine(room.drawn, 60),)))
    perform(room.ledger, move_stock, StockMove(DAY, room.barn, HIVES, (Taken(room.drawn, 50),)))
    with pytest.raises(Refused) as caught:
        undo(room.ledger, count.act)
    assert caught.value.findings[0].what == (
        "Barn would hold 10 of Supers, drawn less than nothing: on it stands "
        "“Moved 50 of Supers, drawn from Barn to the hives, 12 May”"
    )


def test_everything_taken_back_leaves_an_empty_store(sqlite_ledger: Ledger) -> None:
    empty = whole(sqlite_ledger)
    room = store_room(sqlite_ledger)
    perform(
        room.ledger, use_stock, StockUse(DAY, room.barn, (Taken(room.sugar, 210_000),), accepted=ACCEPTED)
    )
    full, last = whole(sqlite_ledger), sqlite_ledger.last_act()
    for act in range(last, 0, -1):
        undo(sqlite_ledger, act)
    assert whole(sqlite_ledger) == empty
    for act in range(sqlite_ledger.last_act(), last, -1):
        undo(sqlite_ledger, act)
    assert whole(sqlite_ledger) == full


def test_what_cannot_be_is_refused_beside_its_field(room: StoreRoom) -> None:
    late = date(2026, 5, 15)
    cases: list[tuple[Callable[..., str], Any, set[str]]] = [
        (use_stock, StockUse(late, room.barn, (Taken(room.sugar, 1),)), {"on"}),
        (use_stock, StockUse(DAY, USED, (Taken(room.sugar, 1),), accepted=ACCEPTED), {"source"}),
        (use_stock, StockUse(DAY, room.barn, ()), {"lines"}),
        (use_stock, StockUse(DAY, room.barn, (Taken(room.sugar, 0),)), {"quantity"}),
        (use_stock, StockUse(DAY, room.barn, (Taken(999, 1),)), {"item_id"}),
        (use_stock, StockUse(DAY, room.barn, (Taken(room.lids, 1, room.lots[0]),), accepted=ACCEPTED), {"lot_id"}),
        (use_stock, StockUse(DAY, At(Account.STORE, 9), (Taken(room.lids, 1),), accepted=ACCEPTED), {"source"}),
        (move_stock, StockMove(DAY, room.barn, room.barn, (Taken(room.lids, 1),)), {"target"}),
        (count_stock, StockTake(DAY, room.barn, (CountLine(room.lids, -1),)), {"counted"}),
        (count_stock, StockTake(DAY, room.barn, (CountLine(room.lids, 1), CountLine(room.lids, 2))), {"lines"}),
        (buy_stock, Delivery(DAY, room.barn, (Bought(room.lids, 1, expires_on=BOUGHT),)), {"expires_on"}),
        (buy_stock, Delivery(DAY, room.barn, (Bought(room.lids, 1, price_pence=-1),)), {"price_pence"}),
    ]  # fmt: skip
    for operation, given, fields in cases:
        assert {field for _, field in refused(room.ledger, operation, given)} == fields, given


def test_an_item_keeps_its_unit_once_it_has_entries(room: StoreRoom) -> None:
    assert refused(room.ledger, change_item, room.sugar, replace(SUGAR, unit=Unit.PIECE)) == [
        ("stock.unit", "unit")
    ]
    perform(room.ledger, change_item, room.sugar, replace(SUGAR, name="White sugar", low=75_000))
    (item,) = rows(room.ledger, StockItem, id=room.sugar)
    assert (item.name, item.low) == ("White sugar", 75_000)
    assert refused(room.ledger, add_item, replace(SUGAR, name="white SUGAR")) == [("stock.name", "name")]
    other_wet = super_item("More wet supers", BoxState.WET)
    assert refused(room.ledger, add_item, other_wet) == [("stock.box_state", "box_state")]


def test_an_item_is_retired_when_nothing_is_left_of_it(room: StoreRoom) -> None:
    assert refused(room.ledger, retire_item, room.lids, DAY) == [("stock.item_id", "item_id")]
    perform(room.ledger, count_stock, StockTake(DAY, room.barn, (CountLine(room.lids, 0),), "given away"))
    perform(room.ledger, retire_item, room.lids, DAY)
    use = StockUse(DAY, room.barn, (Taken(room.lids, 1),), accepted=ACCEPTED)
    assert refused(room.ledger, use_stock, use) == [("stock.item_id", "item_id")]
    perform(room.ledger, keep_item_again, room.lids)
    perform(room.ledger, use_stock, use)


def test_one_store_is_the_usual_one(room: StoreRoom) -> None:
    cold = perform(room.ledger, add_store, NewStore("Cold store")).result
    assert [row.usual for row in rows(room.ledger, StockStore)] == [True, False]
    perform(room.ledger, change_store, cold, NewStore("Cold room", usual=True))
    assert [(row.name, row.usual) for row in rows(room.ledger, StockStore)] == [
        ("Barn", False), ("Cold room", True)
    ]  # fmt: skip
    assert refused(room.ledger, add_store, NewStore("barn")) == [("stock.name", "name")]


def test_a_delivery_typed_after_a_later_count_was_in_that_count(room: StoreRoom) -> None:
    perform(room.ledger, count_stock, StockTake(DAY, room.barn, (CountLine(room.lids, 1_500),)))
    early = date(2026, 5, 4)
    done = perform(room.ledger, buy_stock, Delivery(early, room.barn, (Bought(room.lids, 500, "L7"),)))
    (lot,) = done.result
    assert (room.there(room.lids), room.there(room.lids, lot_id=lot)) == (1_500, 500)
    assert room.there(room.lids, UNCOUNTED) == 0
    undo(room.ledger, done.act)
    assert (room.there(room.lids), room.there(room.lids, UNCOUNTED)) == (1_500, -500)


def test_use_of_days_before_a_count_leaves_the_place_as_counted(room: StoreRoom) -> None:
    early = date(2026, 5, 4)
    done = perform(room.ledger, use_stock, StockUse(early, room.barn, (Taken(room.sugar, 30_000),)))
    perform(room.ledger, count_stock, StockTake(DAY, room.barn, (CountLine(room.sugar, 165_000),)))
    back = undo(room.ledger, done.act)
    assert (room.there(room.sugar), room.there(room.sugar, USED)) == (165_000, 0)
    undo(room.ledger, back.act)
    assert (room.there(room.sugar), room.there(room.sugar, USED)) == (165_000, 30_000)
    perform(room.ledger, counter_entry, rows(room.ledger, StockEntry, to_kind="used")[0].id, "another farm's")
    assert (room.there(room.sugar), room.there(room.sugar, USED)) == (165_000, 0)


def test_a_count_written_down_late_does_not_swallow_what_was_used_since(ledger: Ledger) -> None:
    room = store_room(ledger)
    early = date(2026, 5, 4)
    perform(ledger, use_stock, StockUse(DAY, room.barn, (Taken(room.sugar, 20_000),)))
    perform(ledger, count_stock, StockTake(early, room.barn, (CountLine(room.sugar, 200_000),)))
    assert room.there(room.sugar) == 180_000  # 200 kg counted on the 4th, 20 kg used on the 12th
    (row,) = rows(ledger, StockCount, item_id=room.sugar)
    assert (row.held, row.counted) == (200_000, 200_000)
    perform(ledger, count_stock, StockTake(early, room.barn, (CountLine(room.sugar, 190_000),)))
    assert room.there(room.sugar) == 170_000
    line = CountLine(room.sugar, 95_000, room.lots[0])
    perform(ledger, count_stock, StockTake(early, room.barn, (line,)))
    assert check_ledger(ledger).clean


def test_a_late_count_below_what_was_used_since_leaves_nothing_and_not_less(room: StoreRoom) -> None:
    early = date(2026, 5, 4)
    perform(room.ledger, use_stock, StockUse(DAY, room.barn, (Taken(room.sugar, 180_000),)))
    perform(room.ledger, count_stock, StockTake(early, room.barn, (CountLine(room.sugar, 150_000),)))
    assert room.there(room.sugar) == 0


def test_a_count_of_one_lot_settles_no_round_of_days_before(room: StoreRoom) -> None:
    line = CountLine(room.sugar, 90_000, room.lots[0])
    perform(room.ledger, count_stock, StockTake(DAY, room.barn, (line,)))
    early = date(2026, 5, 4)
    drove = yard(room.ledger, "Long Drove", "1")
    fed = Entry(outcome=Outcome.LOOKED, feed_kind=FeedKind.SUGAR, feed_g=5_000)
    drove.post(early, h1=fed)
    assert room.there(room.sugar) == 185_000
