"""Any sequence of acts of stock: no place below nothing, every item adds up to nothing, and the books agree
with a naive record kept beside them in memory."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from datetime import date

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from beeledger.base.clock import FixedClock
from beeledger.base.errors import Refused
from beeledger.database.checking.check import check_ledger
from beeledger.database.opening import open_ledger
from beeledger.model.stock import StockEntry
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
    buy_stock,
    count_stock,
    counter_entry,
    move_stock,
    use_stock,
)
from beeledger.operations.undo import undo
from beeledger.queries.stock_balances import balances
from beeledger.rules.stock_items import PLACES, SUPPLIER, UNCOUNTED, USED, Account, At
from tests.builders.store_room import StoreRoom, store_room
from tests.builders.yards import rows

DAY = date(2026, 5, 12)
AMOUNT = st.integers(1, 60_000)
STEP = st.one_of(
    st.tuples(st.just("buy"), AMOUNT, st.booleans()),
    st.tuples(st.just("use"), AMOUNT, st.booleans()),
    st.tuples(st.just("carry"), AMOUNT, st.booleans()),
    st.tuples(st.just("count"), st.integers(0, 60_000), st.booleans()),
    st.tuples(st.just("counter"), st.integers(0, 30), st.booleans()),
    st.tuples(st.just("undo"), st.integers(0, 5), st.booleans()),
)
Books = Counter[At]


class Naive:
    """Quantities of one item by account, moved about without lots, one number at a time."""

    def __init__(self, room: StoreRoom, van: At) -> None:
        self.ledger, self.room, self.van = room.ledger, room, van
        self.held: Books = Counter({room.barn: 200_000, SUPPLIER: -200_000})
        self.done: list[tuple[int, Books]] = []

    def shift(self, source: At, target: At, quantity: int) -> None:
        self.held[source] -= quantity
        self.held[target] += quantity

    def take(self, source: At, target: At, quantity: int) -> None:
        there = min(quantity, self.held[source])
        self.shift(source, target, there)
        self.shift(UNCOUNTED, target, quantity - there)

    def step(self, what: str, number: int, in_van: bool) -> None:
        place, other = (self.van, self.room.barn) if in_van else (self.room.barn, self.van)
        before, ok = Counter(self.held), frozenset({MORE})
        sugar = (Taken(self.room.sugar, number),)
        match what:
            case "buy":
                done = perform(
                    self.ledger, buy_stock, Delivery(DAY, place, (Bought(self.room.sugar, number),))
                )
                self.shift(SUPPLIER, place, number)
            case "use":
                done = perform(self.ledger, use_stock, StockUse(DAY, place, sugar, accepted=ok))
                self.take(place, USED, number)
            case "carry":
                done = perform(self.ledger, move_stock, StockMove(DAY, place, other, sugar, accepted=ok))
                self.take(place, other, number)
            case "count":
                lines = (CountLine(self.room.sugar, number),)
                done = perform(self.ledger, count_stock, StockTake(DAY, place, lines))
                self.shift(UNCOUNTED, place, number - self.held[place])
            case "counter":
                self.counter(number)
                return
            case _:
                self.undo(number)
                return
        self.done.append((done.act, Counter({at: self.held[at] - before[at] for at in self.held})))

    def counter(self, number: int) -> None:
        """Whatever the books then say is taken over, after looking that it adds up."""
        entries = [
            row for row in rows(self.ledger, StockEntry, item_id=self.room.sugar) if row.counters_id is None
        ]
        try:
            perform(self.ledger, counter_entry, entries[number % len(entries)].id, "typed wrong")
        except Refused:
            return
        self.held = books_of(self.room)

    def undo(self, number: int) -> None:
        if not self.done:
            return
        act, change = self.done[-1 - number % len(self.done)]
        try:
            undo(self.ledger, act)
        except Refused:
            return
        self.done.remove((act, change))
        self.held.subtract(change)


def books_of(room: StoreRoom) -> Books:
    with room.ledger.read() as session:
        held = balances(session, [room.sugar])
    books: Books = Counter()
    for one in held:
        books[one.at] += one.quantity
    return books


@given(st.lists(STEP, max_size=8))
@settings(max_examples=12, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_the_books_agree_with_a_naive_record_whatever_is_done(
    new_target: Callable[..., str], clock: FixedClock, steps: list[tuple[str, int, bool]]
) -> None:
    ledger = open_ledger(new_target("sqlite"), clock)
    room = store_room(ledger)
    naive = Naive(room, At(Account.VAN, perform(ledger, add_vehicle, NewVehicle("Green van", 20)).result))
    for step in steps:
        naive.step(*step)
        held = books_of(room)
        assert +held == +naive.held
        assert -held == -naive.held
        assert sum(held.values()) == 0
        assert all(quantity >= 0 for at, quantity in held.items() if at.kind in PLACES)
    assert check_ledger(ledger).clean
    ledger.close()
