"""Dispatches of several lots, what comes back from them, and jars that are lost: to the jar and to the gram."""

from __future__ import annotations

from datetime import date

import pytest
from sqlalchemy import select

from beeledger.base.errors import Refused
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.model.dispatches import Dispatch
from beeledger.model.honey import Batch, HoneyLot, HoneyTransfer
from beeledger.operations.act import perform
from beeledger.operations.dispatches import (
    Contact,
    DispatchLine,
    NewDispatch,
    Returned,
    ReturnLine,
    post_dispatch,
    take_back,
)
from beeledger.operations.honey_lots import NewSink, free_lot, sink_honey
from beeledger.operations.jars import JarsLost, lose_jars
from beeledger.operations.labels import NewBatch, jar_batch
from beeledger.operations.undo import undo
from beeledger.queries.dispatches import contacts_of
from beeledger.queries.jars import jar_lots
from tests.operations import honey_room as room_of

DAY, LATER = date(2026, 5, 13), date(2026, 5, 14)


def two_batches(ledger: Ledger) -> tuple[room_of.Room, int, int]:
    """100 jars of 340 g, and ten of 227 g of what is left in the tank: the lots of jars."""
    room, first = room_of.jarred(ledger)
    new = NewBatch(room.tank, room_of.JARRED, 227, 10, "Small", drawn_g=2_280)
    second = perform(ledger, jar_batch, new).result
    with ledger.read() as session:
        lots = {batch.id: batch.lot_id for batch in session.scalars(select(Batch))}
    return room, lots[first], lots[second]


def left(ledger: Ledger) -> dict[str, tuple[int, int]]:
    with ledger.read() as session:
        return {lot.name: (lot.left, lot.left_g) for lot in jar_lots(session)}


def line_of(ledger: Ledger, dispatch_id: int, lot_id: int) -> int:
    with ledger.read() as session:
        return session.scalars(
            select(HoneyTransfer.id).where(
                HoneyTransfer.dispatch_id == dispatch_id,
                HoneyTransfer.from_lot_id == lot_id,
                HoneyTransfer.sink.is_not(None),
            )
        ).one()


def refused(ledger: Ledger, operation, new: object) -> list[tuple[str, int | None, str]]:
    with pytest.raises(Refused) as refusal:
        perform(ledger, operation, new)
    return [(each.where.field, each.where.row, each.what) for each in refusal.value.findings]


def test_several_lots_go_in_one_act_and_the_buyer_can_be_reached(ledger: Ledger) -> None:
    _, big, small = two_batches(ledger)
    new = NewDispatch(
        DAY, (DispatchLine(big, 24), DispatchLine(small, 6)), "Aldley Stores", reference="note 1182",
        contact=Contact("R. Hollin", "2 Fore Street, Aldley", phone="01632 960 001"),
    )  # fmt: skip
    done = perform(ledger, post_dispatch, new)
    assert done.sentence == "Sent 30 jars of 2 lots to Aldley Stores"
    # 341.5 g and 228 g a jar: 24 are 8,196 g, six are 1,368 g.
    assert left(ledger) == {"SB26-0001-40": (76, 25_954), "SB26-0002-37": (4, 912)}
    again = NewDispatch(
        LATER, (DispatchLine(big, 1),), "aldley stores", contact=Contact(email="shop@aldley.example")
    )
    perform(ledger, post_dispatch, again)
    with ledger.read() as session:
        (contact,) = contacts_of(session, [1]).values()
        assert session.get_one(Dispatch, done.result).reference == "note 1182"
    assert contact.lines() == (
        "R. Hollin", "2 Fore Street, Aldley", "01632 960 001", "shop@aldley.example",
    )  # fmt: skip
    assert check_ledger(ledger).clean


def test_a_drum_goes_whole_by_weight(ledger: Ledger) -> None:
    room = room_of.extracted(ledger)
    new = NewDispatch(DAY, (DispatchLine(room.drums[0]),), "Hay Packers")
    assert perform(ledger, post_dispatch, new).sentence == "Sent drum 7, 20.0 kg to Hay Packers"
    assert refused(ledger, post_dispatch, new) == [("jars", 1, "drum 7 holds 0.000 kg")]
    supers = NewDispatch(DAY, (DispatchLine(room.supers[0]),), "Hay Packers")
    assert refused(ledger, post_dispatch, supers)[0][2].endswith("is neither jars nor a drum")


def test_the_public_needs_no_name_but_everybody_else_does(ledger: Ledger) -> None:
    # Regulation (EC) 178/2002 art. 18(3) asks for the businesses supplied; that final customers need no
    # record is from memory.
    _, big, _ = two_batches(ledger)
    stall = NewDispatch(DAY, (DispatchLine(big, 12),), way="public", note="Aldley fair")
    assert perform(ledger, post_dispatch, stall).sentence == "Sold 12 jars of L SB26-0001-40 to the public"
    nobody = NewDispatch(DAY, (DispatchLine(big, 12),), " ", way="gift")
    assert refused(ledger, post_dispatch, nobody) == [
        ("party", None, "say who got them: a recall has to reach them")
    ]


def test_each_line_that_cannot_be_is_named_by_its_row(ledger: Ledger) -> None:
    _, big, small = two_batches(ledger)
    new = NewDispatch(DAY, (DispatchLine(big, 101), DispatchLine(small)), "Aldley Stores")
    assert refused(ledger, post_dispatch, new) == [
        ("jars", 1, "100 jars of it are on the farm"), ("jars", 2, "how many jars?"),
    ]  # fmt: skip
    twice = NewDispatch(DAY, (DispatchLine(big, 60), DispatchLine(big, 60)), "Aldley Stores")
    assert [row for field, row, _ in refused(ledger, post_dispatch, twice) if field == "lot"] == [1, 2]
    assert refused(ledger, post_dispatch, NewDispatch(DAY, (), "Aldley Stores")) == [
        ("lot", None, "say what goes out")
    ]


def test_jars_that_come_back_stand_apart_on_hold_and_balance(ledger: Ledger) -> None:
    _, big, _ = two_batches(ledger)
    sent = perform(ledger, post_dispatch, NewDispatch(DAY, (DispatchLine(big, 24),), "Aldley Stores")).result
    back = Returned(sent, LATER, "a lid was loose", (ReturnLine(line_of(ledger, sent, big), 6),))
    done = perform(ledger, take_back, back)
    assert done.sentence == "Took back 6 jars from Aldley Stores, held: a lid was loose"
    assert left(ledger)["SB26-0001-40, returned 1"] == (6, 2_049)
    with ledger.read() as session:
        held = session.get_one(HoneyLot, done.result[0]).hold
        out = session.get_one(HoneyTransfer, line_of(ledger, sent, big))
        assert (out.jars, out.grams) == (18, 6_147)
    assert held == "returned by Aldley Stores, 14 May 2026: a lid was loose"
    assert check_ledger(ledger).clean
    again = NewDispatch(LATER, (DispatchLine(done.result[0], 6),), "Hay Deli")
    assert refused(ledger, post_dispatch, again)[0][2].startswith("L SB26-0001-40 is held: returned by")
    perform(ledger, free_lot, done.result[0], "lids changed")
    perform(ledger, post_dispatch, again)
    rest = Returned(sent, LATER, "not wanted", (ReturnLine(line_of(ledger, sent, big)),))
    perform(ledger, take_back, rest)
    assert left(ledger) == {
        "SB26-0001-40": (76, 25_954), "SB26-0002-37": (10, 2_280), "SB26-0001-40, returned 1": (0, 0),
        "SB26-0001-40, returned 2": (18, 6_147),
    }  # fmt: skip
    assert check_ledger(ledger).clean


def test_more_cannot_come_back_than_went_and_a_reason_is_wanted(ledger: Ledger) -> None:
    _, big, _ = two_batches(ledger)
    sent = perform(
        ledger, post_dispatch, NewDispatch(LATER, (DispatchLine(big, 24),), "Aldley Stores")
    ).result
    row = line_of(ledger, sent, big)
    assert refused(ledger, take_back, Returned(sent, DAY, " ", (ReturnLine(row, 25),))) == [
        ("on", None, "it went out on 14 May 2026"),
        ("why", None, "say why it came back: it is held until that is settled"),
        ("jars", 1, "24 jars of it are out"),
    ]
    assert refused(ledger, take_back, Returned(sent, LATER, "wet", (ReturnLine(row + 99, 1),)))[0][2] == (
        "nothing of that is out any more"
    )


def test_a_return_is_taken_back_and_the_dispatch_stands_as_it_was(ledger: Ledger) -> None:
    _, big, _ = two_batches(ledger)
    sent = perform(ledger, post_dispatch, NewDispatch(DAY, (DispatchLine(big, 24),), "Aldley Stores")).result
    row = line_of(ledger, sent, big)
    done = perform(ledger, take_back, Returned(sent, LATER, "wet", (ReturnLine(row),)))
    undo(ledger, done.act)
    with ledger.read() as session:
        again = session.get_one(HoneyTransfer, row)
        assert (again.jars, again.grams, again.dispatch_id) == (24, 8_196, sent)
    assert set(left(ledger)) == {"SB26-0001-40", "SB26-0002-37"}


def test_broken_jars_are_lost_with_a_reason_and_leave_the_jarring_as_it_was(ledger: Ledger) -> None:
    _, big, _ = two_batches(ledger)
    done = perform(ledger, lose_jars, JarsLost(big, DAY, 3, "a dropped carton"))
    assert done.sentence == "Lost: 3 jars of L SB26-0001-40, a dropped carton"
    assert left(ledger)["SB26-0001-40"] == (97, 33_125)
    assert refused(ledger, lose_jars, JarsLost(big, DAY, 98, " ")) == [
        ("jars", None, "97 jars of it are on the farm"), ("why", None, "say what became of them"),
    ]  # fmt: skip


def test_what_came_back_gets_a_name_of_its_own_since_an_earlier_return_was_taken_back(ledger: Ledger) -> None:
    _, first, _ = two_batches(ledger)

    def send(whom: str) -> int:
        return perform(ledger, post_dispatch, NewDispatch(DAY, (DispatchLine(first, 20),), whom)).result

    def back(sent: int) -> int:
        line = ReturnLine(line_of(ledger, sent, first), 2)
        return perform(ledger, take_back, Returned(sent, LATER, "label torn", (line,))).act

    shop, stall = send("Hill Shop"), send("Quay Stall")
    early = back(shop)
    back(stall)
    undo(ledger, early)
    back(shop)
    assert sorted(name[-1] for name in left(ledger) if "returned" in name) == ["2", "3"]


def test_jars_that_went_by_weight_come_back_as_the_jars_they_were(ledger: Ledger) -> None:
    _, big, _ = two_batches(ledger)
    sent = perform(ledger, post_dispatch, NewDispatch(DAY, (DispatchLine(big, 12),), "Aldley Stores")).result
    # 3,415 g are ten jars of 341.5 g; 100 g are none.
    perform(ledger, sink_honey, NewSink(big, DAY, "gift", 3_415))
    perform(ledger, sink_honey, NewSink(big, DAY, "gift", 100))
    with ledger.read() as session:
        rows = session.scalars(
            select(HoneyTransfer).where(HoneyTransfer.sink == "gift").order_by(HoneyTransfer.id)
        ).all()
        (ten, crumb) = [(row.id, row.dispatch_id) for row in rows]
    perform(ledger, take_back, Returned(ten[1], LATER, "too much", (ReturnLine(ten[0]),)))
    assert left(ledger)["SB26-0001-40, returned 1"] == (10, 3_415)
    assert refused(ledger, take_back, Returned(crumb[1], LATER, "too little", (ReturnLine(crumb[0]),)))[0][
        2
    ] == ("it was less than a jar: that cannot come back")
    assert sent == 1
    assert check_ledger(ledger).clean
