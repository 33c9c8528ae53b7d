"""The packs and the register of what was given, against the fields SI 2013/2033 names."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.medicines import (
    GivenFacts,
    NewDisposal,
    NewMedicine,
    add_medicine,
    complete_treatments,
    dispose_medicine,
)
from beeledger.queries import medicines
from beeledger.queries.medicines import GivenFilter
from beeledger.queries.records.medicines import GivenLine, PackRow, ToFill
from beeledger.rules.rounds.entry import Entry, Outcome
from tests.builders.yards import DAY, LOOKED, Yard, yard
from tests.queries.counting import statements

SEPTEMBER, OCTOBER = date(2025, 9, 12), date(2025, 10, 31)
PACK = NewMedicine(
    "Fen strips", "amitraz", batch="B7", expires_on=date(2027, 6, 30), acquired_on=date(2025, 9, 1), pieces=20,
    withdrawal_days=0, usual=True, proof="invoice 2214", supplier="Marl Veterinary", supplier_address="3 Low Row",
)  # fmt: skip
IN = replace(LOOKED, medicine_in="Fen strips", medicine_in_count=2)
OUT = replace(LOOKED, medicine_out="Fen strips")


def pack(ledger: Ledger, new: NewMedicine = PACK) -> int:
    return int(perform(ledger, add_medicine, new).result)


def autumn(ledger: Ledger) -> Yard:
    """Strips in three hives in September; out of two of them in October; the sheet of 1043 left out how many."""
    pack(ledger)
    place = yard(ledger, "Sedge Holt", "1041", "1042", "1043", on=date(2025, 4, 1))
    place.post(SEPTEMBER, h1041=IN, h1042=IN, h1043=replace(IN, medicine_in_count=None))
    place.post(OCTOBER, h1041=OUT, h1042=OUT)
    return place


def ask(ledger: Ledger, query: Any, *args: Any, **more: Any) -> Any:
    with ledger.read() as session:
        return query(session, *args, **more)


def register(ledger: Ledger, wanted: GivenFilter = medicines.ALL) -> list[GivenLine]:
    lines: list[GivenLine] = ask(ledger, medicines.given, wanted)
    return lines


def the_pack(ledger: Ledger) -> PackRow:
    (row,) = ask(ledger, medicines.packs)
    assert isinstance(row, PackRow)
    return row


def codes(findings: Any) -> list[str]:
    return [finding.code.removeprefix("medicine.missing-") for finding in findings]


def test_the_hives_of_a_site_with_the_same_days_are_one_line(ledger: Ledger) -> None:
    autumn(ledger)
    still, out = register(ledger)
    assert (still.hives, still.key.out_on, still.pieces, still.unmeasured) == (1, None, None, 1)
    assert (out.hives, out.key.in_on, out.key.out_on, out.pieces) == (2, SEPTEMBER, OCTOBER, 4)
    assert (out.site, out.product, out.batch, out.withdrawal_days) == ("Sedge Holt", "Fen strips", "B7", 0)


def test_a_line_is_kept_five_years_from_the_day_the_strips_came_out(ledger: Ledger) -> None:
    """SI 2013/2033 regulation 17 to 20: five years; in 12 Sep 2025, out 31 Oct 2025, kept until 31 Oct 2030."""
    autumn(ledger)
    still, out = register(ledger)
    assert out.keep_until == date(2030, 10, 31)
    assert (still.keep_until, still.due_out, still.days_in(DAY)) == (None, date(2025, 10, 24), 244)
    assert [finding.code for finding in still.odd(DAY)] == ["medicine.long"]


def test_a_line_says_what_the_law_asks_for_and_is_missing(ledger: Ledger) -> None:
    autumn(ledger)
    still, out = register(ledger)
    assert codes(still.missing()) == ["quantity"]
    assert out.missing() == []


def test_a_complete_pack_counts_what_went_and_what_is_left(ledger: Ledger) -> None:
    autumn(ledger)
    perform(ledger, dispose_medicine, NewDisposal(1, DAY, 5, "taken back to the supplier"))
    row = the_pack(ledger)
    assert (row.used, row.given, row.unmeasured, row.still_in, row.disposed, row.left) == (4, 3, 1, 1, 5, 11)
    assert (row.supplier, row.supplier_address, row.proof) == ("Marl Veterinary", "3 Low Row", "invoice 2214")
    assert row.missing() == []
    assert row.last_day == DAY


def test_a_bare_pack_lacks_all_that_regulations_17_and_19_name(ledger: Ledger) -> None:
    pack(ledger, NewMedicine("Fen strips", "amitraz"))
    assert codes(the_pack(ledger).missing()) == [
        "batch", "on", "quantity", "supplier", "supplier_address", "proof_of_purchase", "withdrawal_days",
    ]  # fmt: skip
    assert the_pack(ledger).left is None


def test_more_given_than_bought_and_an_expired_rest_are_said(ledger: Ledger) -> None:
    pack(ledger, replace(PACK, pieces=3, expires_on=date(2025, 9, 11)))
    place = yard(ledger, "Sedge Holt", "1041", "1042", on=date(2025, 4, 1))
    place.post(SEPTEMBER, h1041=IN, h1042=IN)
    assert [finding.what for finding in the_pack(ledger).odd(DAY)] == [
        "1 more than were bought were given or disposed of"
    ]
    (line,) = register(ledger)
    assert "medicine.expired" in [finding.code for finding in line.odd(SEPTEMBER)]
    pack(ledger, replace(PACK, batch="B8", expires_on=date(2026, 5, 13)))
    assert "medicine.past" in [f.code for row in ask(ledger, medicines.packs) for f in row.odd(DAY)]


def test_what_is_given_once_is_never_still_in(ledger: Ledger) -> None:
    pack(ledger, replace(PACK, product="Drip", active="oxalic_trickle"))
    place = yard(ledger, "Sedge Holt", "1041", on=date(2025, 4, 1))
    place.post(
        date(2025, 12, 20), h1041=Entry(outcome=Outcome.NOT_OPENED, medicine_in="Drip", medicine_in_count=35)
    )
    (line,) = register(ledger)
    assert (line.still_in, line.due_out, line.days_in(DAY), line.keep_until) == (
        False,
        None,
        0,
        date(2030, 12, 20),
    )
    assert the_pack(ledger).still_in == 0


def test_what_was_given_once_stays_one_line_when_a_hive_of_it_dies(ledger: Ledger) -> None:
    pack(ledger, replace(PACK, product="Drip", active="oxalic_trickle"))
    place = yard(ledger, "Sedge Holt", "1041", "1042", on=date(2025, 4, 1))
    drip = Entry(outcome=Outcome.NOT_OPENED, medicine_in="Drip", medicine_in_count=35)
    place.post(date(2025, 12, 20), h1041=drip, h1042=drip)
    place.post(date(2026, 3, 1), h1041=Entry(outcome=Outcome.DEAD, cause="starvation"))
    (line,) = register(ledger)
    assert (line.hives, line.keep_until) == (2, date(2030, 12, 20))


def test_strips_in_a_hive_that_died_are_in_no_more(ledger: Ledger) -> None:
    place = autumn(ledger)
    place.post(date(2026, 3, 1), h1043=Entry(outcome=Outcome.DEAD, cause="starvation"))
    dead = register(ledger)[0]
    assert (dead.still_in, dead.gone_on, dead.key.gone) == (False, date(2026, 3, 1), True)
    assert dead.keep_until == date(2031, 3, 1)
    assert the_pack(ledger).still_in == 0


def test_the_card_names_the_hives_by_the_number_they_bore_that_day(ledger: Ledger) -> None:
    autumn(ledger)
    still, out = register(ledger)
    assert [hive.mark for hive in ask(ledger, medicines.given_card, out).hives] == ["1041", "1042"]
    card = ask(ledger, medicines.given_card, still)
    assert [(hive.mark, hive.pieces) for hive in card.hives] == [("1043", None)]
    assert card.packs == ((1, "Fen strips, B7"),)


def test_the_register_is_filtered_by_period_site_pack_and_hive(ledger: Ledger) -> None:
    place = autumn(ledger)
    other = yard(ledger, "Marl Bank", "2001", on=date(2025, 4, 1))
    other.post(DAY, h2001=IN)
    assert [line.site for line in register(ledger)] == ["Marl Bank", "Sedge Holt", "Sedge Holt"]
    assert [line.site for line in register(ledger, GivenFilter(first=DAY))] == ["Marl Bank"]
    assert [line.hives for line in register(ledger, GivenFilter(last=OCTOBER, site_id=place.site))] == [1, 2]
    assert register(ledger, GivenFilter(medicine_id=99)) == []
    assert [line.hives for line in register(ledger, GivenFilter(colony_id=place.hives["1042"]))] == [1]
    now = register(ledger, GivenFilter(first=DAY, or_still_in=True))
    assert [(line.site, line.hives) for line in now] == [("Marl Bank", 1), ("Sedge Holt", 1)]


def test_what_is_to_fill_counts_packs_and_lines_until_nothing_is_missing(ledger: Ledger) -> None:
    pack(ledger, NewMedicine("Old pack", "thymol_gel"))
    autumn(ledger)
    assert ask(ledger, medicines.to_fill, DAY) == ToFill(packs=1, lines=1)
    still = register(ledger)[0]
    card = ask(ledger, medicines.given_card, still)
    perform(
        ledger, complete_treatments, GivenFacts(tuple(hive.treatment_id for hive in card.hives), pieces=2)
    )
    assert ask(ledger, medicines.to_fill, DAY) == ToFill(packs=1, lines=0)


def test_what_need_not_be_kept_any_more_is_not_asked_for(ledger: Ledger) -> None:
    pack(ledger, replace(PACK, batch=None, acquired_on=date(2019, 9, 1)))
    place = yard(ledger, "Sedge Holt", "1041", on=date(2019, 4, 1))
    place.post(date(2019, 9, 12), h1041=replace(IN, medicine_in_count=None))
    place.post(date(2019, 10, 31), h1041=OUT)
    assert ask(ledger, medicines.to_fill, date(2024, 10, 31)).all == 2
    assert ask(ledger, medicines.to_fill, DAY) == ToFill()


def test_the_printed_register_holds_every_field_of_the_law(ledger: Ledger) -> None:
    place = autumn(ledger)
    perform(ledger, dispose_medicine, NewDisposal(1, OCTOBER, 5, "taken back to the supplier"))
    record = ask(ledger, medicines.register_record, date(2025, 1, 1), date(2025, 12, 31))
    assert [(entry.hives, entry.pieces, entry.missing) for entry in record.given] == [
        (("1041", "1042"), 4, ""),
        (("1043",), None, "quantity"),
    ]
    (bought,) = record.bought
    assert (bought.batch, bought.on, bought.pieces, bought.supplier, bought.address, bought.proof) == (
        "B7", date(2025, 9, 1), 20, "Marl Veterinary", ("3 Low Row",), "invoice 2214",
    )  # fmt: skip
    (gone,) = record.disposed
    assert (gone.on, gone.pieces, gone.how) == (OCTOBER, 5, "taken back to the supplier")
    assert record.lacking == 1
    later = ask(ledger, medicines.register_record, DAY, DAY)
    assert (later.given, later.bought, later.disposed) == ((), (), ())
    there = ask(ledger, medicines.register_record, date(2025, 1, 1), DAY, site_id=place.site)
    assert (there.scope, len(there.given), len(there.bought), there.disposed) == ("Sedge Holt", 2, 1, ())


def test_packs_and_register_cost_the_same_however_many_there_are(ledger: Ledger) -> None:
    def cost() -> list[int]:
        counts = []
        for query in (medicines.packs, medicines.given, medicines.suppliers):
            with ledger.read() as session, statements(ledger) as said:
                query(session)
            counts.append(len(said))
        with ledger.read() as session, statements(ledger) as said:
            medicines.register_record(session, date(2025, 1, 1), DAY)
        with ledger.read() as session, statements(ledger) as counted:
            medicines.to_fill(session, DAY)
        return [*counts, len(said), len(counted)]

    autumn(ledger)
    one = cost()
    pack(ledger, replace(PACK, batch="B8", supplier="Cob Farm"))
    for name, mark in (("Marl Bank", "2001"), ("Low Carr", "2002")):
        yard(ledger, name, mark).post(DAY, **{f"h{mark}": IN})
    assert cost() == one
