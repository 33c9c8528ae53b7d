"""Backups that still hold somebody erased: named with their last day, and removed when it has come."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from beeledger.base.clock import FixedClock
from beeledger.database.backup import backup
from beeledger.database.erased_backups import holding, let_go
from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.erasure import erase_party
from beeledger.operations.parties import NewParty, add_party
from beeledger.queries.parties import erasures
from beeledger.ui.parts.backups import backups_of_ledger


def moment(day: int, month: int = 5) -> datetime:
    return datetime(2026, month, day, 9, 0, tzinfo=UTC)


def farm_with_backups(ledger: Ledger) -> Path:
    """Backups of 1 and 4 May, somebody erased on the 6th, a backup of the 8th."""
    file = ledger.file
    assert file is not None
    perform(ledger, add_party, NewParty("Joan Merry"))
    for day in (1, 4, 6, 8):
        ledger.clock = FixedClock(moment(day), "Europe/London")
        if day == 6:
            perform(ledger, erase_party, 1)
        else:
            backup(ledger)
    return file


def test_backups_from_before_an_erasure_are_told_with_the_day_they_go(sqlite_ledger: Ledger) -> None:
    file = farm_with_backups(sqlite_ledger)
    with sqlite_ledger.read() as session:
        moments = erasures(session)
    assert moments == (moment(6),)
    told = [(one.path.name[:8], one.goes_at) for one in holding(file, moments)]
    assert told == [("20260504", moment(6, 6)), ("20260501", moment(6, 6))]
    kept = backups_of_ledger(sqlite_ledger)
    assert [one.goes_at for one in kept] == [None, moment(6, 6), moment(6, 6)]
    held = [b"Joan Merry" in one.path.read_bytes() for one in kept]
    assert held == [False, True, True], "what is told is what the files hold"


def test_they_go_when_their_day_has_come_and_the_newer_one_stays(sqlite_ledger: Ledger) -> None:
    file = farm_with_backups(sqlite_ledger)
    assert let_go(file, [moment(6)], moment(5, 6)) == []
    assert [path.name[:8] for path in let_go(file, [moment(6)], moment(7, 6))] == ["20260504", "20260501"]
    assert [one.path.name[:8] for one in backups_of_ledger(sqlite_ledger)] == ["20260508"]


def test_the_only_backups_there_are_stay_even_when_their_day_has_come(sqlite_ledger: Ledger) -> None:
    file = farm_with_backups(sqlite_ledger)
    assert let_go(file, [moment(6), moment(9)], moment(30, 8)) == []
    assert len(backups_of_ledger(sqlite_ledger)) == 3
