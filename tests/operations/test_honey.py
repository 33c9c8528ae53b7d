"""Honey from the hive to the jar: what is weighed in is found again, to the gram."""

from __future__ import annotations

from datetime import date

import pytest
from sqlalchemy import select

from beeledger.base.errors import Refused
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.model.colonies import BoxStack
from beeledger.model.honey import HoneyLot, HoneyTransfer, Reading
from beeledger.model.medicines import Treatment
from beeledger.operations.act import perform
from beeledger.operations.honey import (
    Filled,
    NewBlend,
    NewExtraction,
    NewReading,
    blend,
    extract_run,
    read_lot,
)
from beeledger.operations.honey_lots import (
    Draw,
    NewLot,
    NewSink,
    Spent,
    free_lot,
    hold_lot,
    open_lot,
    sink_honey,
)
from beeledger.operations.medicines import NewMedicine, add_medicine
from beeledger.operations.takes import NewTake, NewTakeLine, NewWeighing, Weighed, record_take, weigh_take
from beeledger.operations.undo import undo
from beeledger.rules.rounds.entry import Entry, FeedKind
from tests.builders.yards import rows, yard
from tests.operations import honey_room as room_of

DAY = date(2026, 5, 12)


def refused(ledger: Ledger, operation, *args) -> list[str]:
    with pytest.raises(Refused) as refusal:
        perform(ledger, operation, *args)
    return [finding.code for finding in refusal.value.findings]


def lot(ledger: Ledger, lot_id: int) -> HoneyLot:
    with ledger.read() as session:
        return session.get_one(HoneyLot, lot_id)


def sums(ledger: Ledger) -> dict[str, int]:
    """All grams of a ledger by where they came from or went to."""
    with ledger.read() as session:
        rows = session.execute(select(HoneyTransfer.origin, HoneyTransfer.sink, HoneyTransfer.grams)).all()
    found: dict[str, int] = {}
    for origin, sink, grams in rows:
        for name in (origin, sink):
            if name:
                found[name] = found.get(name, 0) + grams
    return found


def give_supers(ledger: Ledger, colony_id: int, supers: int) -> None:
    def put_on(act) -> str:
        act.session.add(
            BoxStack(
                colony_id=colony_id, on=room_of.SPRING, hive_type="National", brood_boxes=1, brood_frames=11,
                brood_frame="national_brood", supers=supers, super_frames=10,
            )
        )  # fmt: skip
        return "supers on"

    perform(ledger, put_on)


def treat(ledger: Ledger, colony_id: int, in_on: date, out_on: date | None) -> None:
    medicine = perform(ledger, add_medicine, NewMedicine("Strips A", "amitraz", withdrawal_days=0)).result

    def put_in(act) -> str:
        act.session.add(
            Treatment(colony_id=colony_id, medicine_id=medicine, in_on=in_on, out_on=out_on, pieces=2)
        )
        return "strips in"

    perform(ledger, put_in)


def test_supers_taken_come_off_the_hive(ledger: Ledger) -> None:
    site, _ = room_of.farm(ledger)
    give_supers(ledger, 1, 3)
    done = perform(ledger, record_take, NewTake(site, DAY, (NewTakeLine(2, colony_id=1, estimate_g=23_000),)))
    assert done.sentence == "Took 2 supers at Long Drove, 12 May 2026"
    with ledger.read() as session:
        stacks = session.scalars(
            select(BoxStack.supers).where(BoxStack.colony_id == 1).order_by(BoxStack.id)
        ).all()
    assert stacks[-2:] == [3, 1]


def test_more_supers_than_were_on_by_the_record_are_asked_about(ledger: Ledger) -> None:
    site, _ = room_of.farm(ledger)
    new = NewTake(site, DAY, (NewTakeLine(1, colony_id=1),))
    assert refused(ledger, record_take, new) == ["take.supers"]
    accepted = NewTake(site, DAY, new.lines, accepted=frozenset(["take.supers"]))
    assert perform(ledger, record_take, accepted).result


def test_a_hive_of_another_site_is_asked_about(ledger: Ledger) -> None:
    site, _ = room_of.farm(ledger)
    give_supers(ledger, 3, 1)
    assert refused(ledger, record_take, NewTake(site, DAY, (NewTakeLine(1, colony_id=3),))) == [
        "take.elsewhere"
    ]


def test_honey_under_treatment_wants_a_written_reason(ledger: Ledger) -> None:
    # Domain rule 5 of the ledger: no honey during a treatment without a recorded override.
    site, _ = room_of.farm(ledger)
    give_supers(ledger, 1, 1)
    treat(ledger, 1, date(2026, 5, 1), None)
    assert refused(ledger, record_take, NewTake(site, DAY, (NewTakeLine(1, colony_id=1),))) == [
        "take.treatment"
    ]
    line = NewTakeLine(1, colony_id=1, reason="for the bees' own feed, marked")
    assert perform(ledger, record_take, NewTake(site, DAY, (line,))).result
    assert not [f for f in check_ledger(ledger).findings if "honey was taken" in f.what]


def test_supers_of_a_whole_site_want_a_reason_where_any_hive_there_is_under_treatment(ledger: Ledger) -> None:
    site, other = room_of.farm(ledger)
    treat(ledger, 2, date(2026, 5, 1), None)
    assert refused(ledger, record_take, NewTake(site, DAY, (NewTakeLine(3),))) == ["take.treatment"]
    assert perform(ledger, record_take, NewTake(other, DAY, (NewTakeLine(3),))).result
    assert perform(
        ledger, record_take, NewTake(site, DAY, (NewTakeLine(3, reason="kept for the bees"),))
    ).result


def test_honey_where_feed_was_on_wants_a_reason_also_where_no_round_put_the_supers_on(ledger: Ledger) -> None:
    drove = yard(ledger, "Far Drove", "21")
    give_supers(ledger, drove.hives["21"], 1)
    drove.post(date(2026, 5, 2), h21=Entry(eggs=True, feed_g=1000, feed_kind=FeedKind.FONDANT))
    take = NewTake(drove.site, DAY, (NewTakeLine(1, colony_id=drove.hives["21"]),))
    assert refused(ledger, record_take, take) == ["take.feed"]


def test_grams_begin_on_the_scale(ledger: Ledger) -> None:
    site, _ = room_of.farm(ledger)
    take = perform(ledger, record_take, NewTake(site, DAY, (NewTakeLine(3),))).result
    turns = (Weighed(23_400, 5_900), Weighed(21_000, 5_900))
    done = perform(ledger, weigh_take, NewWeighing(take, DAY, turns))
    assert done.sentence == "Weighed supers Long Drove, 12 May 2026: 32.6 kg"
    more = perform(ledger, weigh_take, NewWeighing(take, DAY, (Weighed(12_000, 3_000),)))
    assert more.result == done.result
    assert sums(ledger) == {"weighed": 17_500 + 15_100 + 9_000}


def test_a_super_lighter_full_than_empty_is_refused(ledger: Ledger) -> None:
    site, _ = room_of.farm(ledger)
    take = perform(ledger, record_take, NewTake(site, DAY, (NewTakeLine(1),))).result
    assert refused(ledger, weigh_take, NewWeighing(take, DAY, (Weighed(3_000, 3_000),))) == ["scale.tare"]
    assert refused(ledger, weigh_take, NewWeighing(take, DAY, ())) == ["scale.nothing"]


def test_what_is_extracted_balances_to_the_gram(ledger: Ledger) -> None:
    room_of.extracted(ledger)
    # 40,000 g in = 39,000 g in drums + 600 g wax + 400 g not found again.
    assert sums(ledger) == {"weighed": 40_000, "wax": 600, "loss": 400}


def test_each_drum_holds_its_share_of_each_site(ledger: Ledger) -> None:
    room = room_of.extracted(ledger)
    with ledger.read() as session:
        query = select(HoneyTransfer.from_lot_id, HoneyTransfer.grams).where(
            HoneyTransfer.to_lot_id == room.drums[0]
        )
        parts = dict(session.execute(query).all())
    # 30 : 10 kg went in, so 20 kg are 15 and 5 by proportion.
    assert parts == {room.supers[0]: 15_000, room.supers[1]: 5_000}


def test_more_out_of_the_extractor_than_was_weighed_in_is_refused_with_figures(ledger: Ledger) -> None:
    room = room_of.weighed(ledger)
    run = NewExtraction(room_of.RUN, room.supers, (Filled("drum 7", 60_000, 11_500),))
    with pytest.raises(Refused) as refusal:
        perform(ledger, extract_run, run)
    assert [(f.code, f.what) for f in refusal.value.findings] == [
        ("honey.overdrawn", "48.500 kg came out, but 40.000 kg were weighed in")
    ]


def test_a_drum_filled_again_gets_a_name_of_its_own(ledger: Ledger) -> None:
    perform(ledger, open_lot, NewLot("drum 7", DAY, 5_000))
    assert refused(ledger, open_lot, NewLot("drum 7", DAY, 5_000)) == ["lot.name-used"]
    perform(ledger, sink_honey, NewSink(1, DAY, "spill", 5_000))
    again = perform(ledger, open_lot, NewLot("drum 7", DAY, 5_000)).result
    assert lot(ledger, again).name == "drum 7, filling 2"


def test_a_lot_never_gives_more_than_it_has(ledger: Ledger) -> None:
    room = room_of.extracted(ledger)
    new = NewBlend(DAY, (Draw(room.drums[0], 20_001),), "tank 1")
    with pytest.raises(Refused) as refusal:
        perform(ledger, blend, new)
    assert refusal.value.findings[0].what == "drum 7 holds 20.000 kg, not 20.001 kg"
    # also when it is asked twice in one blend
    twice = NewBlend(DAY, (Draw(room.drums[0], 12_000), Draw(room.drums[0], 12_000)), "tank 1")
    assert refused(ledger, blend, twice) == ["honey.overdrawn"]


def test_honey_cannot_flow_back_into_where_it_came_from(ledger: Ledger) -> None:
    room = room_of.blended(ledger)
    back = NewBlend(DAY, (Draw(room.tank, 1_000),), into_id=room.drums[0])
    assert refused(ledger, blend, back) == ["honey.ring"]


def test_a_refractometer_reading_becomes_moisture(ledger: Ledger) -> None:
    room = room_of.extracted(ledger, moisture=None)
    reading = NewReading(room.drums[0], "moisture", DAY, refractive_index_e5=149_150, temperature_tenths=200)
    perform(ledger, read_lot, reading)
    with ledger.read() as session:
        value = session.scalars(select(Reading.value)).one()
    # Chataway's table in Bogdanov, Book of Honey ch. 4: an index of 1.4915 at 20 °C is 18.0 % of water.
    assert value == pytest.approx(1_800, abs=3)


def test_honey_too_wet_is_held_and_freed_by_a_drier_reading(ledger: Ledger) -> None:
    # SI 2015/1348 Sched. 1: not more than 20 % of water in blossom honey.
    room = room_of.extracted(ledger)
    done = perform(ledger, read_lot, NewReading(room.drums[0], "moisture", DAY, 2_010))
    assert done.sentence == "Read drum 7: moisture 20.1 %; held"
    assert lot(ledger, room.drums[0]).hold == "moisture 20.1 %, at most 20 % allowed"
    perform(ledger, read_lot, NewReading(room.drums[0], "moisture", DAY, 1_990))
    assert lot(ledger, room.drums[0]).hold is None


def test_wet_heather_honey_is_not_held(ledger: Ledger) -> None:
    # SI 2015/1348 Sched. 1: not more than 23 % in heather honey (Calluna).
    number = perform(ledger, open_lot, NewLot("drum 1", DAY, 9_000, honey_kind="ling_heather")).result
    perform(ledger, read_lot, NewReading(number, "moisture", DAY, 2_250))
    assert lot(ledger, number).hold is None


def test_held_honey_is_blended_only_when_that_is_accepted(ledger: Ledger) -> None:
    room = room_of.extracted(ledger)
    perform(ledger, read_lot, NewReading(room.drums[0], "moisture", DAY, 2_010))
    new = NewBlend(DAY, (Draw(room.drums[0], 1_000), Draw(room.drums[1], 9_000)), "tank 1")
    assert refused(ledger, blend, new) == ["honey.held"]
    perform(ledger, blend, NewBlend(DAY, new.draws, "tank 1", accepted=frozenset(["honey.held"])))
    perform(ledger, free_lot, room.drums[0], "read again by the laboratory")
    assert lot(ledger, room.drums[0]).hold is None


def test_bought_honey_needs_the_sellers_lot(ledger: Ledger) -> None:
    assert refused(ledger, open_lot, NewLot("drum X", DAY, 9_000, "bought")) == ["lot.supplier"]


def test_undoing_an_extraction_leaves_the_supers_full(ledger: Ledger) -> None:
    room = room_of.weighed(ledger)
    before = sums(ledger)
    run = NewExtraction(room_of.RUN, room.supers, (Filled("drum 7", 31_500, 11_500),), (Spent("wax", 600),))
    done = perform(ledger, extract_run, run)
    undo(ledger, done.act)
    assert sums(ledger) == before
    assert perform(ledger, extract_run, run).result


def test_a_ledger_of_honey_holds_every_line_that_is_always_true(ledger: Ledger) -> None:
    room_of.jarred(ledger)
    assert [finding.sentence() for finding in check_ledger(ledger).findings] == []


def test_a_reading_lifts_its_own_hold_and_no_other_reason(ledger: Ledger) -> None:
    # At most 20 % water: Honey (England) Regulations 2015 (SI 2015/1348), Schedule 1.
    drum = room_of.extracted(ledger).drums[0]

    def hold() -> str:
        return str(rows(ledger, HoneyLot, id=drum)[0].hold)

    perform(ledger, hold_lot, drum, "smells of phenol")
    perform(ledger, read_lot, NewReading(drum, "moisture", room_of.JARRED, 2_100))
    assert hold() == "smells of phenol; moisture 21 %, at most 20 % allowed"
    perform(
        ledger, read_lot, NewReading(drum, "moisture", room_of.RUN, 1_800)
    )  # an older one, written down late
    assert hold() == "smells of phenol; moisture 21 %, at most 20 % allowed"
    perform(ledger, read_lot, NewReading(drum, "moisture", room_of.JARRED, 1_800))
    assert hold() == "smells of phenol"
