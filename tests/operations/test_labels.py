"""Jarrings: lot marks, weights, labels counted."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from sqlalchemy import select

from beeledger.base.errors import Refused
from beeledger.database.ledger import Ledger
from beeledger.model.honey import Batch, HoneyTransfer, JarWeight
from beeledger.operations.act import perform
from beeledger.operations.honey import NewReading, read_lot
from beeledger.operations.honey_lots import NewLot, open_lot
from beeledger.operations.labels import (
    LabelChange,
    LabelCount,
    NewBatch,
    change_label,
    jar_batch,
    print_labels,
    weigh_jars,
)
from beeledger.queries.records.label_words import LabelWords, words_kept
from tests.operations import honey_room as room_of


def refused(ledger: Ledger, operation, *args) -> list[str]:
    with pytest.raises(Refused) as refusal:
        perform(ledger, operation, *args)
    return [finding.code for finding in refusal.value.findings]


def batch(ledger: Ledger, batch_id: int) -> Batch:
    with ledger.read() as session:
        return session.get_one(Batch, batch_id)


def test_a_jarring_gets_the_next_lot_mark_of_its_year(ledger: Ledger) -> None:
    room, first = room_of.jarred(ledger)
    again = NewBatch(room.tank, room_of.JARRED, 227, 4)
    second = perform(ledger, jar_batch, again)
    # Check digits by ISO 7064 MOD 97-10: S = 28, B = 11, and the whole leaves 1 when divided by 97.
    assert int("281126000140") % 97 == 1
    assert batch(ledger, first).lot_mark == "SB26-0001-40"
    assert batch(ledger, second.result).lot_mark.startswith("SB26-0002-")
    assert second.sentence.startswith("Jarred L SB26-0002-")


def test_a_jarring_draws_what_went_into_jars_foam_and_sample(ledger: Ledger) -> None:
    _, number = room_of.jarred(ledger)
    with ledger.read() as session:
        rows = session.execute(
            select(HoneyTransfer.sink, HoneyTransfer.grams).where(
                (HoneyTransfer.to_lot_id == batch(ledger, number).lot_id)
                | (HoneyTransfer.from_lot_id == batch(ledger, number).lot_id)
            )
        ).all()
    # 100 jars of 341.5 g and 462 g spent are 34,612 g.
    assert sorted(rows, key=str) == sorted([(None, 34_612), ("foam", 120), ("sample", 342)], key=str)


def test_the_farm_settles_how_long_honey_keeps_and_the_article_number(ledger: Ledger) -> None:
    _, number = room_of.jarred(ledger)
    row = batch(ledger, number)
    assert (row.best_before, row.gtin, row.sheet) == (date(2028, 5, 12), "5012345678900", "jar-90x50")
    assert words_kept(row.label).infant_caution


def test_jars_that_hold_too_little_on_the_whole_are_asked_about(ledger: Ledger) -> None:
    # The packer's first rule: the mean is not below the nominal weight (SI 2006/659 reg. 4).
    room = room_of.blended(ledger)
    new = NewBatch(room.tank, room_of.JARRED, 340, 100, drawn_g=33_999)
    assert refused(ledger, jar_batch, new) == ["batch.short"]
    assert perform(ledger, jar_batch, replace(new, accepted=frozenset(["batch.short"]))).result


def test_more_jars_than_the_tank_holds_are_refused(ledger: Ledger) -> None:
    room = room_of.blended(ledger)
    assert refused(ledger, jar_batch, NewBatch(room.tank, room_of.JARRED, 340, 115)) == ["honey.overdrawn"]


def test_held_honey_is_not_jarred_even_when_accepted(ledger: Ledger) -> None:
    room = room_of.blended(ledger)
    perform(ledger, read_lot, NewReading(room.tank, "moisture", room_of.JARRED, 2_060))
    new = NewBatch(room.tank, room_of.JARRED, 340, 10, accepted=frozenset(["honey.held"]))
    assert refused(ledger, jar_batch, new) == ["batch.held"]


def test_a_farm_without_letters_cannot_mark_a_lot(ledger: Ledger) -> None:
    number = perform(ledger, open_lot, NewLot("drum 1", room_of.RUN, 9_000)).result
    assert refused(ledger, jar_batch, NewBatch(number, room_of.JARRED, 340, 1)) == ["batch.prefix"]


def test_the_weighing_check_is_kept_jar_by_jar_and_replaced_whole(ledger: Ledger) -> None:
    _, number = room_of.jarred(ledger)
    perform(ledger, weigh_jars, number, [3_412, 3_398, 3_420])
    perform(ledger, weigh_jars, number, [3_412, 3_405])
    with ledger.read() as session:
        kept = session.scalars(select(JarWeight.net_tenths_g).order_by(JarWeight.number)).all()
    assert kept == [3_412, 3_405]
    one_more = perform(ledger, weigh_jars, number, [3_412, 3_405, 3_409])
    assert one_more.sentence == "Weighed jar 3 of L SB26-0001-40: 340.9 g"
    assert refused(ledger, weigh_jars, number, [3_412, 34_050]) == ["jar.weight"]


def test_no_more_labels_are_used_than_were_printed(ledger: Ledger) -> None:
    _, number = room_of.jarred(ledger)
    perform(ledger, print_labels, LabelCount(number, printed=110))
    done = perform(ledger, print_labels, LabelCount(number, used=100, spoiled=4))
    assert done.sentence.endswith("100 used, 4 spoiled")
    with pytest.raises(Refused) as refusal:
        perform(ledger, print_labels, LabelCount(number, used=7))
    assert refusal.value.findings[0].what == "111 labels used and spoiled, but 110 printed"


def test_a_changed_label_is_kept_with_its_batch(ledger: Ledger) -> None:
    _, number = room_of.jarred(ledger)
    words = LabelWords(name="Blossom honey", product="blossom", other_words=("From the fen",))
    change = LabelChange(number, words, date(2027, 11, 30), "small-60x34")
    perform(ledger, change_label, change)
    row = batch(ledger, number)
    assert (words_kept(row.label), row.best_before, row.gtin) == (words, date(2027, 11, 30), None)
    assert refused(ledger, change_label, replace(change, gtin="5012345678901")) == ["batch.gtin"]
    assert refused(ledger, change_label, replace(change, best_before=room_of.JARRED)) == ["batch.date"]
    assert refused(ledger, change_label, replace(change, sheet="none")) == ["batch.sheet"]
