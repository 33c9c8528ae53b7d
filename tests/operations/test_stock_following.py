"""What rounds and jarrings do to the stock of themselves, and that nothing of it ever stops them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest

from beeledger.base.errors import Refused
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.model.rounds import Round
from beeledger.model.stock import StockEntry
from beeledger.operations.act import perform
from beeledger.operations.colony_acts import BoxChange, Feed, change_boxes, feed_colonies
from beeledger.operations.labels import LabelCount, NewBatch, jar_batch, print_labels
from beeledger.operations.rounds import Line, correct_round
from beeledger.operations.stock import (
    CountLine,
    StockTake,
    StockUse,
    Taken,
    Turning,
    count_stock,
    counter_entry,
    turn_boxes,
    use_stock,
)
from beeledger.operations.stock_items import NewItem, add_item
from beeledger.operations.undo import undo
from beeledger.queries.stock import stock_list
from beeledger.rules.rounds.entry import Entry, FeedKind, Outcome
from beeledger.rules.stock_items import HIVES, UNCOUNTED, USED, BoxState, ItemKind, Unit
from tests.builders.store_room import StoreRoom, store_room, super_item
from tests.builders.yards import LOOKED, Yard, rows, whole, yard
from tests.operations.honey_room import JARRED, extracted
from tests.queries.counting import statements

DAY, LATER = date(2026, 4, 20), date(2026, 5, 4)


@pytest.fixture
def room(sqlite_ledger: Ledger) -> Iterator[StoreRoom]:
    """A filled store; whatever a test does to it, the ledger is sound afterwards."""
    yield store_room(sqlite_ledger)
    assert check_ledger(sqlite_ledger).clean


@pytest.fixture
def drove(room: StoreRoom) -> Yard:
    return yard(room.ledger, "Long Drove", "1", "2", "3")


def sugar(grams: int) -> Entry:
    return Entry(outcome=Outcome.LOOKED, feed_kind=FeedKind.SUGAR, feed_g=grams)


def supers(on: int = 0, off: int = 0) -> Entry:
    return Entry(outcome=Outcome.LOOKED, supers_on=on or None, supers_off=off or None)


def test_a_round_takes_its_feed_from_what_expires_first(ledger: Ledger) -> None:
    room = store_room(ledger)
    drove = yard(ledger, "Long Drove", "1", "2")
    drove.post(DAY, h1=sugar(2_000), h2=sugar(3_000))
    assert [room.there(room.sugar, lot_id=lot) for lot in room.lots] == [100_000, 95_000]
    (entry,) = rows(ledger, StockEntry, to_kind="used")
    assert (entry.quantity, entry.on, entry.reason, entry.round_id) == (5_000, DAY, "fed", 1)
    assert check_ledger(ledger).clean


def test_syrup_takes_the_sugar_it_was_mixed_from(room: StoreRoom, drove: Yard) -> None:
    # Two litres of 1:1 hold 615 g of sugar a litre: density 1,229.9 kg/m3 at 50 per cent and 20 °C (NBS Circular
    # C440, 1942, table 113) times a half.
    drove.post(DAY, h1=Entry(outcome=Outcome.LOOKED, feed_kind=FeedKind.SYRUP_1_1, feed_ml=2_000))
    assert room.there(room.sugar, USED) == pytest.approx(1_230, abs=1)


def test_what_the_store_does_not_hold_stops_no_round_and_the_item_wants_counting(
    room: StoreRoom, drove: Yard
) -> None:
    drove.post(DAY, h1=sugar(150_000), h2=sugar(60_000))
    assert room.there(room.sugar) == 0
    assert room.there(room.sugar, UNCOUNTED) == -10_000
    with room.ledger.read() as session:
        row = next(row for row in stock_list(session, LATER) if row.id == room.sugar)
    assert row.uncounted == 10_000


def test_supers_go_from_the_store_onto_hives_and_come_back_wet(room: StoreRoom, drove: Yard) -> None:
    drove.post(DAY, h1=supers(on=2), h2=supers(on=1))
    assert (room.there(room.drawn), room.there(room.drawn, HIVES)) == (37, 3)
    drove.post(LATER, h1=supers(off=2))
    assert (room.there(room.drawn), room.there(room.drawn, HIVES), room.there(room.wet)) == (37, 1, 2)


def test_supers_the_books_never_saw_come_in_all_the_same(room: StoreRoom, drove: Yard) -> None:
    accepted = frozenset({"rounds.supers_off_never_on"})
    drove.post(LATER, h1=Line(supers(off=2), drove.hives["1"], accepted=accepted))
    assert room.there(room.wet) == 2
    assert room.there(room.wet, UNCOUNTED) == -2


def test_taking_a_round_back_puts_everything_back(room: StoreRoom, drove: Yard) -> None:
    before = whole(room.ledger)
    done = drove.post(DAY, h1=sugar(2_000), h2=supers(on=2))
    back = undo(room.ledger, done.act)
    assert whole(room.ledger) == before
    undo(room.ledger, back.act)
    assert room.there(room.sugar) == 198_000


def test_a_correction_counters_what_was_and_writes_what_is(room: StoreRoom, drove: Yard) -> None:
    done = drove.post(DAY, h1=sugar(2_000), h2=supers(on=2))
    lines = (Line(sugar(3_500), drove.hives["1"]), Line(supers(on=1), drove.hives["2"]))
    perform(room.ledger, correct_round, done.result.round_id, drove.round(lines, DAY))
    assert (room.there(room.sugar), room.there(room.sugar, USED)) == (196_500, 3_500)
    assert room.there(room.drawn, HIVES) == 1
    entries = rows(room.ledger, StockEntry, item_id=room.sugar, round_id=done.result.round_id)
    assert [(one.quantity, one.to_kind, one.counters_id is not None) for one in entries] == [
        (2_000, "used", False), (2_000, "store", True), (3_500, "used", False)
    ]  # fmt: skip
    perform(
        room.ledger, correct_round, done.result.round_id, drove.round((Line(LOOKED, drove.hives["1"]),), DAY)
    )
    assert (room.there(room.sugar), room.there(room.drawn)) == (200_000, 40)


def test_a_round_typed_after_a_count_of_a_later_day_leaves_the_store_as_counted(
    room: StoreRoom, drove: Yard
) -> None:
    perform(room.ledger, count_stock, StockTake(LATER, room.barn, (CountLine(room.sugar, 180_000),)))
    done = drove.post(DAY, h1=sugar(2_000))
    assert room.there(room.sugar) == 180_000
    assert room.there(room.sugar, USED) == 2_000
    perform(
        room.ledger,
        correct_round,
        done.result.round_id,
        drove.round((Line(sugar(5_000), drove.hives["1"]),), DAY),
    )
    assert (room.there(room.sugar), room.there(room.sugar, USED)) == (180_000, 5_000)


def test_a_round_corrected_after_a_count_leaves_the_store_as_counted(room: StoreRoom, drove: Yard) -> None:
    done = drove.post(DAY, h1=sugar(2_000))
    perform(room.ledger, count_stock, StockTake(LATER, room.barn, (CountLine(room.sugar, 180_000),)))
    perform(
        room.ledger,
        correct_round,
        done.result.round_id,
        drove.round((Line(sugar(5_000), drove.hives["1"]),), DAY),
    )
    assert (room.there(room.sugar), room.there(room.sugar, USED)) == (180_000, 5_000)
    undo(room.ledger, room.ledger.last_act())
    assert (room.there(room.sugar), room.there(room.sugar, USED)) == (180_000, 2_000)
    undo(room.ledger, done.act)
    assert (room.there(room.sugar), room.there(room.sugar, USED)) == (180_000, 0)


def test_taking_back_a_round_whose_supers_are_clean_by_now_is_not_stopped(
    room: StoreRoom, drove: Yard
) -> None:
    clean = perform(room.ledger, add_item, super_item("Supers, clean", BoxState.CLEAN)).result
    drove.post(DAY, h1=supers(on=2))
    off = drove.post(LATER, h1=supers(off=2))
    perform(room.ledger, turn_boxes, Turning(LATER, room.barn, room.wet, clean, 2))
    undo(room.ledger, off.act)
    assert (room.there(room.wet), room.there(clean), room.there(room.drawn, HIVES)) == (0, 2, 2)
    assert room.there(room.wet, UNCOUNTED) == -2


def test_what_follows_from_a_round_is_put_right_in_the_round(room: StoreRoom, drove: Yard) -> None:
    drove.post(DAY, h1=sugar(2_000))
    (entry,) = rows(room.ledger, StockEntry, to_kind="used")
    with pytest.raises(Refused) as caught:
        perform(room.ledger, counter_entry, entry.id, "typed twice")
    assert caught.value.findings[0].mend == "Correct that instead"


def test_a_jarring_uses_jars_of_its_size_and_lids_for_any(sqlite_ledger: Ledger) -> None:
    room, honey = store_room(sqlite_ledger), extracted(sqlite_ledger)
    labels = perform(
        sqlite_ledger, add_item, NewItem("Labels", ItemKind.LABEL, Unit.PIECE, fits_g=340)
    ).result
    done = perform(sqlite_ledger, jar_batch, NewBatch(honey.drums[0], JARRED, 340, 30))
    assert (room.there(room.jars), room.there(room.lids)) == (970, 970)
    perform(sqlite_ledger, print_labels, LabelCount(done.result, printed=32))
    assert (room.there(labels), room.there(labels, USED)) == (0, 32)
    other = perform(sqlite_ledger, jar_batch, NewBatch(honey.drums[0], JARRED, 227, 10))
    assert (room.there(room.jars), room.there(room.lids)) == (970, 960)
    undo(sqlite_ledger, other.act)
    assert room.there(room.lids) == 970
    assert check_ledger(sqlite_ledger).clean


def test_a_farm_that_keeps_no_items_has_no_entries(sqlite_ledger: Ledger) -> None:
    drove = yard(sqlite_ledger, "Long Drove", "1")
    drove.post(DAY, h1=Entry(outcome=Outcome.LOOKED, feed_kind=FeedKind.SUGAR, feed_g=2_000, supers_on=1))
    assert rows(sqlite_ledger, StockEntry) == []


def test_the_stock_asks_no_more_of_the_database_for_many_hives_than_for_one(room: StoreRoom) -> None:
    few = yard(room.ledger, "Low Dyke", "11")
    many = yard(room.ledger, "High Dyke", *(str(number) for number in range(30, 60)))
    said = []
    for place in (few, many):
        with statements(room.ledger) as asked:
            place.post(DAY, **{f"h{mark}": sugar(1_000) for mark in place.hives})
        said.append([one for one in asked if "stock_" in one])
    assert len(said[0]) == len(said[1]) <= 10
    assert rows(room.ledger, Round)


def test_using_by_hand_and_by_rounds_go_by_the_same_books(room: StoreRoom, drove: Yard) -> None:
    perform(room.ledger, use_stock, StockUse(DAY, room.barn, (Taken(room.sugar, 100_000),)))
    drove.post(DAY, h1=sugar(2_000))
    assert [room.there(room.sugar, lot_id=lot) for lot in room.lots] == [98_000, 0]


def test_feed_and_supers_written_at_the_desk_follow_as_a_round_does(room: StoreRoom, drove: Yard) -> None:
    hives = [drove.hives["1"], drove.hives["2"]]
    done = perform(room.ledger, feed_colonies, hives, DAY, Feed(FeedKind.SUGAR, weight_g=2_500))
    perform(room.ledger, change_boxes, hives, DAY, BoxChange(supers=2))
    assert (room.there(room.sugar), room.there(room.drawn, HIVES)) == (195_000, 4)
    undo(room.ledger, done.act)
    assert room.there(room.sugar) == 200_000
