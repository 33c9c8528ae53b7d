"""Jars that leave: to the last gram, and never without a name."""

from __future__ import annotations

from datetime import date

import pytest
from sqlalchemy import select

from beeledger.base.errors import Refused
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.model.honey import Batch
from beeledger.model.parties import Party
from beeledger.operations.act import perform
from beeledger.operations.honey_lots import hold_lot
from beeledger.operations.jars import JarsOut, send_jars
from beeledger.queries.labels import batch_card, customers
from beeledger.queries.trace import forward
from tests.operations import honey_room as room_of

DAY = date(2026, 5, 14)


def refused(ledger: Ledger, new: JarsOut) -> list[tuple[str, str]]:
    with pytest.raises(Refused) as refusal:
        perform(ledger, send_jars, new)
    return [(finding.where.field, finding.what) for finding in refusal.value.findings]


def test_jars_go_out_and_the_last_takes_the_last_gram(ledger: Ledger) -> None:
    _, number = room_of.jarred(ledger)
    # 34,150 g in 100 jars: 33 are 11,269.5 g and 67 the rest, in whole grams that sum.
    first = perform(ledger, send_jars, JarsOut(number, DAY, 33, "Aldley Stores"))
    assert first.sentence == "Sent 33 jars of L SB26-0001-40 to Aldley Stores"
    last = perform(ledger, send_jars, JarsOut(number, DAY, 67, "aldley  stores", "gift", "fair"))
    assert first.result + last.result == 34_150
    assert abs(first.result - 11_269.5) <= 0.5
    with ledger.read() as session:
        card = batch_card(session, number)
        assert session.scalars(select(Party.name)).all() == ["Aldley Stores"]
        assert customers(session) == ("Aldley Stores",)
    assert card is not None
    assert card.line.is_sold_out
    assert [(each.what, each.note) for each in card.gone] == [
        ("dispatch", "33 jars"),
        ("gift", "67 jars; fair"),
    ]
    assert check_ledger(ledger).clean


def test_more_jars_than_are_there_are_refused(ledger: Ledger) -> None:
    _, number = room_of.jarred(ledger)
    perform(ledger, send_jars, JarsOut(number, DAY, 90, "Aldley Stores"))
    assert refused(ledger, JarsOut(number, DAY, 11, "Aldley Stores")) == [
        ("jars", "10 jars of it are on the farm")
    ]


def test_jars_never_go_to_nobody_nor_before_they_were_filled(ledger: Ledger) -> None:
    _, number = room_of.jarred(ledger)
    assert refused(ledger, JarsOut(number, date(2026, 5, 11), 1, " ")) == [
        ("on", "it was not jarred yet on that day"), ("party", "say who got them: a recall has to reach them"),
    ]  # fmt: skip


def test_held_jars_stay_on_the_farm(ledger: Ledger) -> None:
    _, number = room_of.jarred(ledger)
    with ledger.read() as session:
        lot = session.get_one(Batch, number).lot_id
    perform(ledger, hold_lot, lot, "a returned jar")
    assert refused(ledger, JarsOut(number, DAY, 1, "Aldley Stores")) == [
        ("", "L SB26-0001-40 is held: a returned jar")
    ]


def test_a_recall_reaches_whoever_got_jars_of_a_sites_honey(ledger: Ledger) -> None:
    room, number = room_of.jarred(ledger)
    perform(ledger, send_jars, JarsOut(number, DAY, 24, "Aldley Stores"))
    with ledger.read() as session:
        found = forward(session, room.supers[1])
    assert [(each.name, each.party) for each in found if each.party] == [("dispatch", "Aldley Stores")]
