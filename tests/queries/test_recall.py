"""Recall: a lot mark leads to every jar, every buyer and every hive, and the sums are what was packed."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.database.ledger import Ledger
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
from beeledger.operations.honey_lots import NewLot, NewSink, free_lot, hold_lot, open_lot, sink_honey
from beeledger.operations.jars import JarsLost, JarsOut, lose_jars, send_jars
from beeledger.operations.labels import NewBatch, jar_batch
from beeledger.queries.dispatches import delivery_note, dispatch_card, dispatch_choices, dispatch_log
from beeledger.queries.recall import recall
from beeledger.queries.records.jar_lot import mark_of
from tests.operations import honey_room as room_of
from tests.queries.counting import statements

DAY, NEXT, LATER = date(2026, 5, 12), date(2026, 5, 13), date(2026, 5, 14)


def sold(ledger: Ledger) -> int:
    """100 jars: 24 to the Stores of which 6 came back, 12 to the public, 10 by weight, 2 broken."""
    _, number = room_of.jarred(ledger)
    with ledger.read() as session:
        lot = dispatch_choices(session).jars[0].lot_id
    stores = NewDispatch(
        DAY, (DispatchLine(lot, 24),), "Aldley Stores", reference="1182", contact=Contact(address="Aldley")
    )
    sent = perform(ledger, post_dispatch, stores).result
    with ledger.read() as session:
        card = dispatch_card(session, sent)
    back = Returned(sent, LATER, "a lid was loose", (ReturnLine(card.lines[0].transfer_id, 6),))
    perform(ledger, take_back, back)
    perform(ledger, post_dispatch, NewDispatch(NEXT, (DispatchLine(lot, 12),), way="public"))
    perform(ledger, sink_honey, NewSink(lot, NEXT, "dispatch", 3_415, 1))
    perform(ledger, lose_jars, JarsLost(lot, LATER, 2, "dropped"))
    return number


def test_every_jar_is_somewhere_and_the_sums_are_what_was_packed(ledger: Ledger) -> None:
    sold(ledger)
    with ledger.read() as session:
        found = recall(session, "l sb26 0001 4o")
    assert found is not None
    # By hand from 34,150 g in 100 jars of 341.5 g: 24 sent 8,196; 6 of them back 2,049; 12 of the rest 4,098;
    # 3,415 g by weight are ten jars; 2 of 54 left, 18,441 g, are 683 g.
    assert [(part.what, part.jars, part.grams) for part in found.parts] == [
        ("with buyers", 40, 6_147 + 4_098 + 3_415), ("here", 52, 17_758), ("here, held", 6, 2_049),
        ("lost or opened", 2, 683),
    ]  # fmt: skip
    assert (found.jars, found.jars_g, found.difference) == (100, 34_150, (0, 0))
    assert found.part("here, held").detail == "returned by Aldley Stores, 14 May 2026: a lid was loose"


def test_each_buyer_is_told_with_days_papers_and_what_came_back(ledger: Ledger) -> None:
    sold(ledger)
    with ledger.read() as session:
        found = recall(session, "SB26-0001-40")
    stores, public = found.buyers
    assert (stores.name, stores.contact.address, stores.jars, stores.back, stores.out) == (
        "Aldley Stores", "Aldley", 34, 6, 28,
    )  # fmt: skip
    assert [(each.on, each.jars, each.back, each.reference, each.counted) for each in stores.deliveries] == [
        (DAY, 24, 6, "1182", True), (NEXT, 10, 0, "", False),
    ]  # fmt: skip
    assert (public.name, public.named, public.out) == ("The public, not by name", False, 12)


def test_jars_that_came_back_and_were_sold_again_are_followed(ledger: Ledger) -> None:
    sold(ledger)
    with ledger.read() as session:
        returned = next(lot for lot in dispatch_choices(session).jars if lot.batch_id is None)
    assert mark_of(returned.name) == "SB26-0001-40"
    perform(ledger, free_lot, returned.lot_id, "lids changed")
    perform(ledger, post_dispatch, NewDispatch(LATER, (DispatchLine(returned.lot_id, 6),), "Hay Deli"))
    with ledger.read() as session:
        found = recall(session, "SB26-0001-40")
    assert {buyer.name: buyer.out for buyer in found.buyers} == {
        "Aldley Stores": 28, "Hay Deli": 6, "The public, not by name": 12,
    }  # fmt: skip
    assert (found.difference, found.part("with buyers").jars) == ((0, 0), 46)


def test_the_mark_leads_back_to_its_sites_and_on_to_jars_of_the_same_honey(ledger: Ledger) -> None:
    room, _ = room_of.jarred(ledger)
    perform(ledger, jar_batch, NewBatch(room.tank, room_of.JARRED, 227, 10, "Small", drawn_g=2_280))
    with ledger.read() as session:
        found = recall(session, "SB26-0001-40")
    assert [source.name for source in found.sources] == ["Long Drove", "Low Dyke"]
    assert [(each.lot_mark, each.product, each.jars) for each in found.related] == [
        ("SB26-0002-37", "Small", 10)
    ]


def test_honey_of_another_tank_is_not_told_of(ledger: Ledger) -> None:
    room_of.jarred(ledger)
    bought = NewLot("drum X", room_of.RUN, 9_000, "bought", country="Spain", supplier_lot="E-77")
    other = perform(ledger, open_lot, bought).result
    perform(ledger, jar_batch, NewBatch(other, room_of.JARRED, 340, 20))
    with ledger.read() as session:
        assert recall(session, "SB26-0001-40").related == ()


def test_a_mistyped_mark_is_said_and_an_unknown_one_found_nowhere(ledger: Ledger) -> None:
    room_of.jarred(ledger)
    with ledger.read() as session:
        with pytest.raises(ValueError, match="check digits"):
            recall(session, "SB26-0001-41")
        assert recall(session, "SB26-0002-37") is None


def test_recall_and_list_ask_the_same_number_of_questions_for_one_buyer_and_for_three(ledger: Ledger) -> None:
    _, number = room_of.jarred(ledger)
    asked = []
    for names in (["Shop 1"], ["Shop 2", "Shop 3"]):
        for name in names:
            perform(ledger, send_jars, JarsOut(number, NEXT, 5, name))
        with ledger.read() as session, statements(ledger) as said:
            found = recall(session, "SB26-0001-40")
        with ledger.read() as session, statements(ledger) as listed:
            rows = dispatch_log(session)
        asked.append((len(found.buyers), len(rows), len(said), len(listed)))
    (one, first, *few), (three, all_rows, *many) = asked
    assert ((one, first), (three, all_rows)) == ((1, 1), (3, 3))
    assert many == few
    assert [(row.receiver, row.marks, row.jars) for row in rows] == [
        ("Shop 3", ("SB26-0001-40",), 5), ("Shop 2", ("SB26-0001-40",), 5), ("Shop 1", ("SB26-0001-40",), 5),
    ]  # fmt: skip


def test_a_delivery_note_says_what_went_out_also_when_some_came_back(ledger: Ledger) -> None:
    sold(ledger)
    with ledger.read() as session:
        note = delivery_note(session, 1)
        (line,) = note.lines
        with pytest.raises(ValueError, match="no dispatch 99"):
            delivery_note(session, 99)
    assert (note.receiver, note.way, note.reference, note.jars, note.grams) == (
        "Aldley Stores", "sold", "1182", 24, 8_196,
    )  # fmt: skip
    assert (line.lot_mark, line.jar_g, line.jars, line.back, line.out) == ("SB26-0001-40", 340, 24, 6, 18)


def test_held_jars_are_told_apart_from_those_that_may_go(ledger: Ledger) -> None:
    room_of.jarred(ledger)
    with ledger.read() as session:
        lot = recall(session, "SB26-0001-40").lot_id
    perform(ledger, hold_lot, lot, "a complaint")
    with ledger.read() as session:
        found = recall(session, "SB26-0001-40")
    assert (found.hold, found.part("here, held").jars, found.part("here").jars) == ("a complaint", 100, 0)
