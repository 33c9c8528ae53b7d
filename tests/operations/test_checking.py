"""What is due follows from the record: worked out again by the check, and compared both ways."""

from __future__ import annotations

from sqlalchemy import text

from beeledger.database.ledger import Ledger
from beeledger.operations.checking import check_whole
from beeledger.rules.rounds.entry import Entry
from tests.builders.yards import DAY, Yard, yard


def said(place: Yard, statement: str) -> list[str]:
    with place.ledger.engine.begin() as connection:
        connection.execute(text(statement))
    return [finding.what for finding in check_whole(place.ledger).findings]


def test_what_is_due_and_not_on_the_list_is_named(sqlite_ledger: Ledger) -> None:
    place = yard(sqlite_ledger, "Long Drove", "1", "2")
    place.post(DAY, h1=Entry(eggs=True, brood_tenths=60), h2=Entry(eggs=True))
    assert check_whole(sqlite_ledger).clean
    found = said(place, f"DELETE FROM due WHERE colony_id = {place.hives['1']} AND code = 'swarm_check'")
    assert len(found) == 1
    assert "not on the list" in found[0]


def test_what_is_on_the_list_and_not_due_is_named(sqlite_ledger: Ledger) -> None:
    place = yard(sqlite_ledger, "Long Drove", "1", "2")
    found = said(place, f"UPDATE due SET due_on = '2026-06-30' WHERE colony_id = {place.hives['2']}")
    assert any("is not due" in one for one in found)
    assert any("not on the list" in one for one in found)


def test_the_list_holds_on_a_later_day_too(sqlite_ledger: Ledger) -> None:
    place = yard(sqlite_ledger, "Long Drove", "1")
    place.post(DAY, h1=Entry(eggs=True, brood_tenths=60, stores_g=4000))
    report = check_whole(sqlite_ledger)
    assert report.lines[-1] == ("due", "what is due follows from the record", 0)
