"""The figures beside the places and under the farm's name."""

from __future__ import annotations

from datetime import date, timedelta

from beeledger.database.ledger import Ledger
from beeledger.model.due import Due
from beeledger.operations.act import perform
from beeledger.operations.farm import set_farm
from beeledger.queries.counts import FarmSize, Waiting, farm_size, waiting
from beeledger.rules.rounds.entry import Entry, Outcome
from tests.builders.yards import DAY, LOOKED, rows, strips, yard


def size(ledger: Ledger) -> FarmSize:
    with ledger.read() as session:
        return farm_size(session)


def waits(ledger: Ledger, on: date) -> Waiting:
    with ledger.read() as session:
        return waiting(session, on)


def test_a_new_farm_has_no_name_and_no_size(ledger: Ledger) -> None:
    assert size(ledger) == FarmSize("A new farm", 0, 0)
    assert waits(ledger, DAY) == Waiting()


def test_the_farm_is_named_and_its_living_colonies_and_open_sites_counted(ledger: Ledger) -> None:
    perform(ledger, set_farm, {"name": "Fenlight Honey", "zone": "Europe/Dublin"})
    stand = yard(ledger, "Sedge Holt", "1041", "1042", "1043")
    stand.post(h1041=LOOKED, h1042=LOOKED, h1043=Entry(outcome=Outcome.DEAD, cause="starvation"))
    assert size(ledger) == FarmSize("Fenlight Honey", 2, 1, "Europe/Dublin")


def test_a_name_set_and_made_empty_again_is_a_new_farm(ledger: Ledger) -> None:
    perform(ledger, set_farm, {"name": "Fenlight Honey"})
    perform(ledger, set_farm, {"name": ""})
    assert size(ledger).name == "A new farm"


def test_a_site_is_late_from_the_day_after_something_fell_due(ledger: Ledger) -> None:
    stand = yard(ledger, "Sedge Holt", "1041", "1042")
    stand.post(h1041=LOOKED, h1042=LOOKED)
    earliest = min(due.due_on for due in rows(ledger, Due))
    assert waits(ledger, earliest).sites_late == 0
    assert waits(ledger, earliest + timedelta(days=1)).sites_late == 1


def test_supers_taken_wait_to_be_weighed(ledger: Ledger) -> None:
    stand = yard(ledger, "Sedge Holt", "1041")
    stand.post(DAY - timedelta(days=30), h1041=Entry(outcome=Outcome.LOOKED, supers_on=2))
    assert waits(ledger, DAY).takes_to_weigh == 0
    stand.post(DAY, h1041=Entry(outcome=Outcome.LOOKED, supers_off=1))
    assert waits(ledger, DAY).takes_to_weigh == 1


def test_a_pack_whose_supplier_nobody_wrote_down_waits_to_be_filled(ledger: Ledger) -> None:
    assert waits(ledger, DAY).medicines_to_fill == 0
    strips(ledger)
    assert waits(ledger, DAY).medicines_to_fill == 1
