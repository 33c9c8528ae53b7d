"""Packs of medicine, what a sheet left out, and what was got rid of: as SI 2013/2033 asks for."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from beeledger.base.errors import Refused
from beeledger.database.ledger import Ledger
from beeledger.model.due import Due
from beeledger.model.honey import TakeLine
from beeledger.model.medicines import Medicine, MedicineDisposal, Treatment
from beeledger.model.parties import Party, PartyContact
from beeledger.model.rounds import RoundEntry
from beeledger.operations.act import perform
from beeledger.operations.medicines import (
    WITHDRAWAL_LATE,
    GivenFacts,
    NewDisposal,
    NewMedicine,
    add_medicine,
    change_medicine,
    complete_treatments,
    dispose_medicine,
)
from beeledger.operations.takes import NewTake, NewTakeLine, record_take
from beeledger.operations.undo import undo
from beeledger.rules.rounds.entry import Entry, Outcome
from tests.builders.yards import DAY, LOOKED, Yard, rows, sound, whole, yard

PACK = NewMedicine(
    "Fen strips", "amitraz", batch="B7", expires_on=date(2027, 6, 30), acquired_on=date(2026, 3, 2), pieces=20,
    withdrawal_days=0, usual=True, proof="invoice 2214", supplier="Marl Veterinary", supplier_address="3 Low Row",
)  # fmt: skip
IN = replace(LOOKED, medicine_in="Fen strips")


def pack(ledger: Ledger, new: NewMedicine = PACK) -> int:
    return int(perform(ledger, add_medicine, new).result)


def treated(ledger: Ledger, **entries: Entry) -> Yard:
    """Two hives that got strips on 14 May, how many nobody wrote down."""
    place = yard(ledger, "Sedge Holt", "1041", "1042")
    place.post(**(entries or {"h1041": IN, "h1042": IN}))
    return place


def refusals(ledger: Ledger, operation: Any, *args: Any) -> list[str]:
    with pytest.raises(Refused) as caught:
        perform(ledger, operation, *args)
    return [finding.where.field for finding in caught.value.findings]


def test_a_pack_brings_its_supplier_with_the_address(ledger: Ledger) -> None:
    number = pack(ledger)
    (row,) = rows(ledger, Medicine)
    (party,) = rows(ledger, Party)
    assert (row.id, row.supplier_id, row.proof, row.withdrawal_days) == (number, party.id, "invoice 2214", 0)
    assert (party.name, party.is_supplier) == ("Marl Veterinary", True)
    assert [one.address for one in rows(ledger, PartyContact)] == ["3 Low Row"]
    assert sound(ledger)


def test_a_known_supplier_is_found_by_name_and_keeps_the_address_when_none_is_typed(ledger: Ledger) -> None:
    pack(ledger)
    pack(ledger, replace(PACK, batch="B8", supplier="marl  veterinary", supplier_address=""))
    assert len(rows(ledger, Party)) == 1
    assert [one.address for one in rows(ledger, PartyContact)] == ["3 Low Row"]
    pack(ledger, replace(PACK, batch="B9", supplier_address="9 High Row"))
    assert [one.address for one in rows(ledger, PartyContact)] == ["9 High Row"]


def test_one_pack_is_the_usual_one(ledger: Ledger) -> None:
    pack(ledger)
    pack(ledger, replace(PACK, batch="B8"))
    assert [(row.batch, row.usual) for row in rows(ledger, Medicine)] == [("B7", False), ("B8", True)]


def test_a_pack_without_product_and_substance_is_refused(ledger: Ledger) -> None:
    wrong = replace(PACK, product=" ", active="honey", pieces=-1)
    assert refusals(ledger, add_medicine, wrong) == ["product", "active", "pieces"]
    nobody = replace(PACK, supplier="", supplier_address="3 Low Row")
    assert refusals(ledger, add_medicine, nobody) == ["supplier"]


def test_a_change_of_the_course_changes_when_the_strips_are_due_out(ledger: Ledger) -> None:
    number = pack(ledger)
    treated(ledger)
    assert {due.due_on for due in rows(ledger, Due, code="strips_out")} == {date(2026, 6, 25)}  # 42 days
    perform(ledger, change_medicine, number, replace(PACK, course_days=56))
    assert {due.due_on for due in rows(ledger, Due, code="strips_out")} == {date(2026, 7, 9)}
    assert sound(ledger)


def test_a_changed_pack_is_undone_whole(ledger: Ledger) -> None:
    number = pack(ledger)
    before = whole(ledger)
    done = perform(
        ledger, change_medicine, number, replace(PACK, batch="", withdrawal_days=None, supplier="Cob Farm")
    )
    (row,) = rows(ledger, Medicine)
    assert (row.batch, row.withdrawal_days) == (None, None)
    undo(ledger, done.act)
    assert whole(ledger) == before


def test_what_was_got_rid_of_is_written_with_way_and_place(ledger: Ledger) -> None:
    number = pack(ledger)
    done = perform(ledger, dispose_medicine, NewDisposal(number, DAY, 4, "taken back to  Marl Veterinary"))
    assert done.sentence == "Disposed of 4 of Fen strips, batch B7, 14 May"
    (row,) = rows(ledger, MedicineDisposal)
    assert (row.medicine_id, row.on, row.pieces, row.how) == (number, DAY, 4, "taken back to Marl Veterinary")
    assert sound(ledger)


def test_a_disposal_without_quantity_or_way_or_still_to_come_is_refused(ledger: Ledger) -> None:
    number = pack(ledger)
    wrong = NewDisposal(number, date(2026, 5, 15), 0, " ")
    assert refusals(ledger, dispose_medicine, wrong) == ["pieces", "how", "on"]


def test_a_quantity_the_sheet_left_out_is_filled_in_at_the_hive_and_on_its_entry(ledger: Ledger) -> None:
    pack(ledger)
    treated(ledger)
    given = [row.id for row in rows(ledger, Treatment)]
    done = perform(ledger, complete_treatments, GivenFacts(tuple(given), pieces=2))
    assert done.sentence == "Completed the record of Fen strips, 14 May: 2 hives"
    assert [row.pieces for row in rows(ledger, Treatment)] == [2, 2]
    assert [row.medicine_in_count for row in rows(ledger, RoundEntry)] == [2, 2]
    assert sound(ledger)


def test_another_pack_of_the_same_is_named_afterwards(ledger: Ledger) -> None:
    old = pack(ledger)
    pack(ledger, replace(PACK, batch="B8"))
    treated(ledger)
    (first, second) = rows(ledger, Treatment)
    perform(ledger, complete_treatments, GivenFacts((first.id,), medicine_id=old))
    assert [row.medicine_id == old for row in rows(ledger, Treatment)] == [True, False]
    assert [row.medicine_batch for row in rows(ledger, RoundEntry)] == ["B7", None]
    assert second.pieces is None


def test_strips_noted_only_because_they_came_out_do_not_make_the_visit_put_them_in(ledger: Ledger) -> None:
    from beeledger.operations.rounds import Line

    pack(ledger)
    place = yard(ledger, "Sedge Holt", "1041")
    entry = Entry(outcome=Outcome.LOOKED, eggs=True, medicine_out="Fen strips")
    line = Line(entry, colony_id=place.hives["1041"], accepted=frozenset({"rounds.out_never_in"}))
    place.post(h1041=line)
    (row,) = rows(ledger, Treatment)
    perform(ledger, complete_treatments, GivenFacts((row.id,), pieces=2))
    assert [entry.medicine_in_count for entry in rows(ledger, RoundEntry)] == [None]


def test_nothing_filled_in_is_refused(ledger: Ledger) -> None:
    pack(ledger)
    treated(ledger)
    (first, _) = rows(ledger, Treatment)
    assert refusals(ledger, complete_treatments, GivenFacts((first.id,))) == ["pieces"]
    assert refusals(ledger, complete_treatments, GivenFacts((first.id,), pieces=0)) == ["pieces"]
    assert refusals(ledger, complete_treatments, GivenFacts((999,), pieces=2)) == ["pieces"]


def test_a_withdrawal_read_off_the_label_late_is_noted_on_the_honey_taken_within_it(ledger: Ledger) -> None:
    pack = NewMedicine("Fen strips", "amitraz", batch="B7", usual=True)
    number = perform(ledger, add_medicine, pack).result
    drove = yard(ledger, "Long Drove", "1", "2")
    drove.post(date(2026, 3, 25), h1=Entry(medicine_in_count=2))
    drove.post(date(2026, 4, 25), h1=Entry(medicine_out_count=2))
    lines = (NewTakeLine(1, drove.hives["1"]), NewTakeLine(1, drove.hives["2"]))
    accepted = frozenset(["take.supers"])
    perform(ledger, record_take, NewTake(drove.site, date(2026, 5, 4), lines, accepted=accepted))
    before = whole(ledger)
    done = perform(ledger, change_medicine, number, replace(pack, withdrawal_days=14))
    assert done.sentence == (
        "Changed the medicine Fen strips, batch B7. Honey was taken within its withdrawal: noted on 1 take"
    )
    assert [line.reason for line in rows(ledger, TakeLine)] == [WITHDRAWAL_LATE, None]
    assert sound(ledger)
    undo(ledger, done.act)
    assert whole(ledger) == before
