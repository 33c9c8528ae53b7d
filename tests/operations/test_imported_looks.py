"""Old looks become posted rounds; what the ledger cannot take is named by its row."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.base.errors import Refused
from beeledger.base.findings import Where
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.model.colonies import Colony
from beeledger.model.queens import Queen
from beeledger.operations.act import perform
from beeledger.operations.imported_looks import ComingLook, ComingQueen
from beeledger.operations.imports import ComingHive, ComingSite, Register, import_register
from beeledger.operations.queens import NewQueen
from beeledger.operations.sites import NewSite
from beeledger.operations.undo import undo
from beeledger.queries.rounds import recent_rounds
from beeledger.rules.rounds.entry import Entry, Outcome
from tests.builders.yards import rows

APRIL, MAY = date(2025, 4, 20), date(2025, 5, 3)


def _look(mark: str, on: date, row: int, brood: int = 50) -> ComingLook:
    return ComingLook(
        mark, "Sorrel Bank", on, Entry(outcome=Outcome.LOOKED, brood_tenths=brood), Where("Log", row)
    )


BOOK = Register(
    "visits.xlsx",
    (ComingSite(NewSite("Sorrel Bank")),),
    (ComingHive("1", "Sorrel Bank", Where("Hives", 2)),),
    looks=(_look("1", MAY, 3), _look("1", APRIL, 2), _look("9", APRIL, 4)),
    queens=(ComingQueen("1", "", NewQueen(hatch_year=2024, marked=True), None, Where("Queens", 2)),),
    leave_out=True,
)


def test_old_looks_are_rounds_of_their_days_and_the_hive_is_there_from_the_first(sqlite_ledger: Ledger):
    done = perform(sqlite_ledger, import_register, BOOK)
    assert done.sentence == "Imported visits.xlsx: 1 site, 1 colony, 2 looks, 1 queen"
    with sqlite_ledger.read() as session:
        found = sorted((one.on, one.hives, one.source) for one in recent_rounds(session))
    assert found == [(APRIL, 1, "import"), (MAY, 1, "import")]
    assert [row.founded_on for row in rows(sqlite_ledger, Colony)] == [APRIL]
    assert [row.hatch_year for row in rows(sqlite_ledger, Queen)] == [2024]
    assert [(one.where.sheet, one.where.row) for one in done.result.left] == [("Log", 4)]
    assert check_ledger(sqlite_ledger).findings == ()


def test_taken_back_nothing_is_left(sqlite_ledger: Ledger):
    undo(sqlite_ledger, perform(sqlite_ledger, import_register, BOOK).act)
    assert rows(sqlite_ledger, Colony) == []
    assert check_ledger(sqlite_ledger).findings == ()


def test_a_look_before_the_hive_came_is_asked_about(sqlite_ledger: Ledger):
    perform(sqlite_ledger, import_register, BOOK)
    later = Register("more.xlsx", (), (), looks=(_look("1", date(2024, 4, 1), 7),))
    with pytest.raises(Refused) as refused:
        perform(sqlite_ledger, import_register, later)
    assert refused.value.findings[0].what == "hive 1 came into the ledger on 20 Apr 2025, after this look"
    assert refused.value.findings[0].where.row == 7
