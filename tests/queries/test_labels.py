"""The card of a batch, its label and its record, from the ledger."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.database.ledger import Ledger
from beeledger.model.parties import Party
from beeledger.operations.act import perform
from beeledger.operations.honey import NewReading, read_lot
from beeledger.operations.honey_lots import NewSink, sink_honey
from beeledger.operations.jars import JarsLost, JarsOut, lose_jars, send_jars
from beeledger.operations.labels import LabelChange, LabelCount, change_label, print_labels, weigh_jars
from beeledger.queries.labels import batch_card, batch_record, batches, label_run
from beeledger.queries.records.batch_card import BatchCard
from beeledger.queries.records.batch_record import BalancePart, JarCount
from beeledger.queries.records.label_words import LabelWords
from tests.operations import honey_room as room_of
from tests.queries.counting import statements


def card_of(ledger: Ledger, number: int) -> BatchCard:
    with ledger.read() as session:
        found = batch_card(session, number)
    assert found is not None
    return found


def test_a_batch_balances_from_what_was_drawn_to_the_jars(ledger: Ledger) -> None:
    _, number = room_of.jarred(ledger)
    card = card_of(ledger, number)
    # 34,612 g drawn = 34,150 g in 100 jars + 120 g foam + 342 g sample; 4,388 g are left in the tank.
    assert (card.drawn_g, card.line.jars_g, card.difference_g) == (34_612, 34_150, 0)
    assert card.jar_mean_tenths == 3_415
    assert [(each.what, each.grams) for each in card.spent] == [("foam", 120), ("sample", 342)]
    assert [(each.name, each.drawn_g, each.left_g) for each in card.drawn_from] == [("tank 1", 34_612, 4_388)]


def test_the_label_of_a_new_batch_says_what_the_farm_and_the_honey_say(ledger: Ledger) -> None:
    _, number = room_of.jarred(ledger)
    label = card_of(ledger, number).label
    assert (label.name, label.net_g, label.lot_mark) == ("Honey", 340, "L SB26-0001-40")
    assert label.origin_words == "Honey from the United Kingdom"
    assert (label.business, label.address) == ("Sallow Bees", "Sallow Barn, Nether Hay, HR9 0ZZ")
    assert "12 months" in label.infant_caution


def test_words_of_ones_own_stand_on_the_label(ledger: Ledger) -> None:
    _, number = room_of.jarred(ledger)
    words = LabelWords(
        name="Blossom honey", product="blossom", infant_caution=False, business="Sallow & Daughter"
    )
    perform(ledger, change_label, LabelChange(number, words, date(2027, 5, 31), "small-60x34"))
    with ledger.read() as session:
        run = label_run(session, number, 12, first=3)
    assert (run.label.name, run.label.business, run.label.infant_caution) == (
        "Blossom honey", "Sallow & Daughter", "",
    )  # fmt: skip
    assert (run.count, run.first, run.layout.key) == (12, 3, "small-60x34")
    assert run.code is not None
    assert run.code.human() == "(15)270500(10)SB26-0001-40"


def test_a_run_prints_one_label_a_jar_when_nobody_says_how_many(ledger: Ledger) -> None:
    _, number = room_of.jarred(ledger)
    with ledger.read() as session:
        run = label_run(session, number)
        with pytest.raises(ValueError, match="no batch 99"):
            label_run(session, 99)
    assert run.count == 100
    assert run.code is not None
    # GS1 General Specifications: fixed lengths first, AI (10) last; the year and month with day 00.
    assert run.code.human() == "(01)05012345678900(15)280500(10)SB26-0001-40"


def test_the_list_tells_how_far_each_batch_is(ledger: Ledger) -> None:
    _, number = room_of.jarred(ledger)
    perform(ledger, weigh_jars, number, [3_412, 3_420])
    perform(ledger, print_labels, LabelCount(number, printed=110))
    with ledger.read() as session:
        shop = batches(session)[0]
        lot = batch_card(session, number).lot_id
    assert (shop.lot_mark, shop.jars, shop.weighed, shop.printed, shop.is_sold_out) == (
        "SB26-0001-40", 100, 2, 110, False,
    )  # fmt: skip
    perform(ledger, sink_honey, NewSink(lot, room_of.JARRED, "gift", 34_150, note="all of it"))
    with ledger.read() as session:
        assert batches(session)[0].is_sold_out


def test_the_record_for_paper_balances_and_names_where_it_went(ledger: Ledger) -> None:
    room, number = room_of.jarred(ledger)
    perform(ledger, read_lot, NewReading(room.tank, "moisture", room_of.JARRED, 1_760, source="laboratory"))
    perform(ledger, weigh_jars, number, [3_412, 3_420, 3_290])

    def shop(act) -> str:
        act.session.add(Party(name="Aldley Stores", is_customer=True))
        return "a shop"

    perform(ledger, shop)
    with ledger.read() as session:
        lot = batch_card(session, number).lot_id
    perform(ledger, sink_honey, NewSink(lot, room_of.JARRED, "dispatch", 8_196, 1, "24 jars"))
    with ledger.read() as session:
        record = batch_record(session, number)
    assert record.difference_g == 0
    assert record.parts == (
        BalancePart("jars", 34_150, "100 × 341.5 g"), BalancePart("foam", 120), BalancePart("sample", 342),
    )  # fmt: skip
    assert record.counts[0] == JarCount("Jars of 340 g", 100, 24, 0, 76)
    assert record.dispatched[0].words == "Dispatch, 8.196 kg to Aldley Stores, 24 jars"
    assert [(r.what, r.value, r.met) for r in record.readings] == [("Moisture", "17.6 %", True)]
    # SI 2006/659 Sched. 3: 3 % of 340 g is 10.2 g, so T1 is 329.8 g; one jar of three lies below it.
    assert record.weighing is not None
    assert (record.weighing.t1_tenths, [v.state for v in record.weighing.verdicts]) == (
        3_298, ["late", "late", "met"],
    )  # fmt: skip


def test_a_card_asks_a_fixed_number_of_times(ledger: Ledger) -> None:
    _, number = room_of.jarred(ledger)
    with statements(ledger) as said:
        card_of(ledger, number)
    assert len([one for one in said if one.lstrip().startswith(("SELECT", "WITH"))]) <= 11


def test_jars_sent_and_jars_lost_are_told_apart_on_the_record(ledger: Ledger) -> None:
    _, number = room_of.jarred(ledger)
    with ledger.read() as session:
        lot = batch_card(session, number).lot_id
    perform(ledger, send_jars, JarsOut(number, room_of.JARRED, 24, "Aldley Stores", note="stall"))
    perform(ledger, lose_jars, JarsLost(lot, room_of.JARRED, 3, "dropped"))
    with ledger.read() as session:
        record = batch_record(session, number)
        card = batch_card(session, number)
    # by hand: 100 filled, 24 sent, 3 dropped, 73 left; what was filled stays 34,150 g
    assert next((each.made, each.used, each.spoiled, each.left) for each in record.counts) == (100, 24, 3, 73)
    assert [each.words for each in record.dispatched] == [
        "Dispatch, 8.196 kg to Aldley Stores, 24 jars; stall", "Loss, 1.025 kg, 3 jars; dropped",
    ]  # fmt: skip
    assert (card.line.jars_g, card.difference_g, record.difference_g) == (34_150, 0, 0)
