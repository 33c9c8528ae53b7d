"""The way of honey, back to its hives and out to its buyers."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.database.ledger import Ledger
from beeledger.model.honey import Batch
from beeledger.model.medicines import Treatment
from beeledger.model.parties import Party
from beeledger.operations.act import perform
from beeledger.operations.honey_lots import NewLot, NewSink, open_lot, sink_honey
from beeledger.operations.labels import NewBatch, jar_batch
from beeledger.operations.medicines import NewMedicine, add_medicine
from beeledger.operations.takes import NewTake, NewTakeLine, record_take
from beeledger.queries.trace import ancestry, country_shares, forward, origins_of, sources, way_back
from tests.operations import honey_room as room_of
from tests.queries.counting import statements


def lot_mark(ledger: Ledger, batch_id: int) -> str:
    with ledger.read() as session:
        return session.get_one(Batch, batch_id).lot_mark


def write(ledger: Ledger, row) -> int:
    def put(act) -> str:
        act.session.add(row)
        act.session.flush()
        act.result = row.id
        return "put"

    return perform(ledger, put).result


def test_the_shares_of_a_batch_by_site_are_those_of_what_was_weighed(ledger: Ledger) -> None:
    # 30 kg of 40 came from Long Drove: three quarters of every gram that flowed on.
    room, number = room_of.jarred(ledger)
    with ledger.read() as session:
        batch = session.get_one(Batch, number)
        known = ancestry(session, batch.lot_id)
        found = sources(
            known, origins_of(session, known), 34_612, {room.drums[0]: 1_760, room.drums[1]: 1_760}
        )
    assert [(s.name, s.grams, s.share_hundredths, s.through, s.taken, s.moisture_hundredths) for s in found] == [
        ("Long Drove", 25_959, 7_500, "drums 7 and 8", room_of.TAKEN, 1_760),
        ("Low Dyke", 8_653, 2_500, "drums 7 and 8", room_of.TAKEN, 1_760),
    ]  # fmt: skip


def test_bought_honey_brings_its_country_into_the_label(ledger: Ledger) -> None:
    room = room_of.extracted(ledger)
    new = NewLot("drum X", room_of.RUN, 20_000, "bought", country="Spain", supplier_lot="E-77")
    bought = perform(ledger, open_lot, new).result
    tank = room_of.tank_of(ledger, {room.drums[0]: 20_000, bought: 20_000})
    with ledger.read() as session:
        known = ancestry(session, tank)
        assert country_shares(known, origins_of(session, known)) == {"United Kingdom": 5_000, "Spain": 5_000}


def test_a_lot_mark_leads_back_to_hives_and_what_they_were_given(ledger: Ledger) -> None:
    site, _ = room_of.farm(ledger)
    new = NewTake(site, room_of.TAKEN, (NewTakeLine(2, colony_id=1),), accepted=frozenset(["take.supers"]))
    take = perform(ledger, record_take, new).result
    lot = room_of.weigh(ledger, take, 20_000)
    medicine = perform(ledger, add_medicine, NewMedicine("Strips A", "amitraz", batch="K12")).result
    write(
        ledger,
        Treatment(colony_id=1, medicine_id=medicine, in_on=date(2025, 9, 1), out_on=date(2025, 10, 20)),
    )
    old = Treatment(colony_id=1, medicine_id=medicine, in_on=date(2024, 9, 1), out_on=date(2024, 10, 20))
    write(ledger, old)
    drum = room_of.extract(ledger, [lot], 18_000)
    number = perform(ledger, jar_batch, NewBatch(drum, room_of.JARRED, 340, 50)).result
    with ledger.read() as session:
        found = way_back(session, lot_mark(ledger, number).lower().replace("-", " "))
    assert found is not None
    assert (found.jars, [source.name for source in found.sources]) == (50, ["Long Drove"])
    (hive,) = found.hives
    assert (hive.mark, hive.supers, hive.treatments) == (
        "1", 2, ("Strips A, batch K12, 1 Sep to 20 Oct 2025",),
    )  # fmt: skip


def test_behind_supers_of_a_whole_site_stands_what_any_hive_there_was_given(ledger: Ledger) -> None:
    site, _ = room_of.farm(ledger)
    medicine = perform(ledger, add_medicine, NewMedicine("Strips A", "amitraz", batch="K12")).result
    for colony in (1, 2, 3):  # the third stands at the other site
        days = {"in_on": date(2026, 4, colony), "out_on": date(2026, 4, 10)}
        write(ledger, Treatment(colony_id=colony, medicine_id=medicine, **days))
    take = perform(ledger, record_take, NewTake(site, room_of.TAKEN, (NewTakeLine(2),))).result
    drum = room_of.extract(ledger, [room_of.weigh(ledger, take, 20_000)], 18_000)
    number = perform(ledger, jar_batch, NewBatch(drum, room_of.JARRED, 340, 50)).result
    with ledger.read() as session:
        found = way_back(session, lot_mark(ledger, number))
    assert found is not None
    (behind,) = found.hives
    assert (behind.mark, behind.treatments) == (
        "", ("Strips A, batch K12, 1 to 10 Apr 2026", "Strips A, batch K12, 2 to 10 Apr 2026"),
    )  # fmt: skip


def test_a_mistyped_lot_mark_is_noticed_and_an_unknown_one_found_nowhere(ledger: Ledger) -> None:
    room_of.jarred(ledger)
    with ledger.read() as session:
        with pytest.raises(ValueError, match="check digits"):
            way_back(session, "SB26-0001-41")
        # 2811260002 · 100 leaves 61 over when divided by 97, so the digits are 37 (ISO 7064 MOD 97-10).
        assert way_back(session, "SB26-0002-37") is None


def test_supers_lead_on_to_jars_and_to_whoever_got_them(ledger: Ledger) -> None:
    room, number = room_of.jarred(ledger)
    shop = write(ledger, Party(name="Aldley Stores", is_customer=True))
    with ledger.read() as session:
        lot = session.get_one(Batch, number).lot_id
    perform(ledger, sink_honey, NewSink(lot, room_of.JARRED, "dispatch", 6_800, shop, "20 jars"))
    with ledger.read() as session:
        found = forward(session, room.supers[0])
    told = {(each.name, each.kind): each.grams for each in found}
    # three quarters of the supers' lot: 39,000 g in the tank, 34,612 drawn, 6,800 sold
    assert told["tank 1", "tank"] == 29_250
    assert told[lot_mark(ledger, number), "jarring"] == 25_959
    assert [(e.grams, e.party) for e in found if e.name == "dispatch"] == [(5_100, "Aldley Stores")]


def test_the_way_of_a_long_chain_is_asked_in_two_statements(ledger: Ledger) -> None:
    _, number = room_of.jarred(ledger)
    with ledger.read() as session:
        lot = session.get_one(Batch, number).lot_id
        with statements(ledger) as said:
            ancestry(session, lot)
    assert len(said) == 2
