"""Lots, the season's balance, and what is known of a blend."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.honey import NewBlend, NewReading, blend, read_lot
from beeledger.operations.honey_lots import Draw
from beeledger.queries.honey import blend_readings, lots, moisture_of, readings_of, season_balance
from beeledger.queries.records.batch_record import BatchReading
from beeledger.queries.takes import hives_to_take, takes
from beeledger.queries.trace import ancestry
from tests.operations import honey_room as room_of
from tests.queries.counting import statements


def test_lots_tell_what_came_and_what_is_left(ledger: Ledger) -> None:
    room = room_of.extracted(ledger)
    perform(ledger, blend, NewBlend(room_of.RUN, (Draw(room.drums[0], 12_000),), "tank 1"))
    with ledger.read() as session:
        found = {line.name: (line.in_g, line.left_g, line.moisture_hundredths) for line in lots(session)}
    assert found == {
        "drum 7": (20_000, 8_000, 1_760), "drum 8": (19_000, 19_000, 1_760), "tank 1": (12_000, 12_000, None),
    }  # fmt: skip


def test_lots_with_nothing_left_are_listed_when_asked(ledger: Ledger) -> None:
    room_of.extracted(ledger)
    with ledger.read() as session:
        names = [line.name for line in lots(session, ["supers"], with_honey=False)]
    assert names == ["supers Low Dyke, 4 May 2026", "supers Long Drove, 4 May 2026"]


def test_the_seasons_balance_is_to_the_gram(ledger: Ledger) -> None:
    room_of.jarred(ledger)
    with ledger.read() as session:
        found = season_balance(session, date(2026, 1, 1))
        later = season_balance(session, date(2026, 5, 10))
    # 40,000 in; 39,000 in drums less 34,612 to the jarring leaves 4,388 in the tank; 462 of the jarring spent.
    assert (found.before_g, found.came_g, found.difference_g) == (0, 40_000, 0)
    assert found.held_g == {"tank": 4_388, "jarring": 34_150}
    assert found.spent_g == {"wax": 600, "loss": 400, "foam": 120, "sample": 342}
    assert (later.before_g, later.came_g, later.difference_g) == (39_000, 0, 0)


def test_takes_are_listed_until_they_are_weighed(ledger: Ledger) -> None:
    room_of.weighed(ledger)
    with ledger.read() as session:
        assert [(each.site, each.supers, each.lot_id is None) for each in takes(session)] == [
            ("Low Dyke", 1, False), ("Long Drove", 2, False),
        ]  # fmt: skip
        assert takes(session, unweighed=True) == ()


def test_hives_to_take_from_stand_in_walking_order(ledger: Ledger) -> None:
    site, _ = room_of.farm(ledger)
    with ledger.read() as session:
        found = hives_to_take(session, site, room_of.TAKEN)
    assert [(hive.mark, hive.supers, hive.barred) for hive in found] == [("1", 0, None), ("2", 0, None)]


def test_the_moisture_of_a_blend_is_the_mean_by_weight(ledger: Ledger) -> None:
    # A balance of water: (20,000 × 17.60 + 19,000 × 18.60) / 39,000 = 18.087 %.
    room = room_of.extracted(ledger)
    perform(ledger, read_lot, NewReading(room.drums[1], "moisture", room_of.RUN, 1_860))
    draws = (Draw(room.drums[0], 20_000), Draw(room.drums[1], 19_000))
    tank = perform(ledger, blend, NewBlend(room_of.RUN, draws, "tank 1")).result
    with ledger.read() as session:
        known = ancestry(session, tank)
        readings = readings_of(session, list(known.lots))
    assert moisture_of(known, readings) == 1_809
    assert blend_readings(known, readings) == (
        BatchReading(
            "Moisture", "18.1 %", "at most 20 %", met=True, on=room_of.RUN, source="by weight from 2 lots"
        ),
    )  # fmt: skip


def test_a_reading_of_one_drum_only_judges_nothing(ledger: Ledger) -> None:
    room = room_of.blended(ledger)
    reading = NewReading(room.drums[0], "conductivity", room_of.RUN, 420, source="own meter")
    perform(ledger, read_lot, reading)
    with ledger.read() as session:
        known = ancestry(session, room.tank)
        found = blend_readings(known, readings_of(session, list(known.lots)))
    assert found[-1] == BatchReading(
        "Conductivity", "0.42 mS/cm", "at most 0.8 mS/cm", None, room_of.RUN, "from drum 7 only"
    )


def test_a_reading_of_the_tank_itself_stands_before_those_of_its_drums(ledger: Ledger) -> None:
    room = room_of.blended(ledger)
    perform(ledger, read_lot, NewReading(room.tank, "moisture", room_of.RUN, 1_700, source="laboratory"))
    with ledger.read() as session:
        known = ancestry(session, room.tank)
        found = blend_readings(known, readings_of(session, list(known.lots)))
    assert (found[0].value, found[0].source) == ("17.0 %", "laboratory")


@pytest.mark.parametrize("query", [lots, takes])
def test_three_things_ask_as_often_as_one(ledger: Ledger, query) -> None:
    room_of.extracted(ledger)
    with statements(ledger) as said, ledger.read() as session:
        query(session)
    assert len([one for one in said if one.lstrip().startswith("SELECT")]) == 1
