"""Every document has its record, for the window as for the command line."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.base.errors import CannotNow
from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.jars import JarsOut, send_jars
from beeledger.reporting.catalogue import DOCUMENTS
from beeledger.reporting.records import PAPERS, Wanted, paper_for
from tests.operations import honey_room as room_of

TODAY = date(2026, 5, 14)


def test_no_document_is_missing() -> None:
    assert set(PAPERS) == {each.key for each in DOCUMENTS}


def test_papers_are_named_after_what_they_are_of(sqlite_ledger: Ledger) -> None:
    room, number = room_of.jarred(sqlite_ledger)
    perform(sqlite_ledger, send_jars, JarsOut(number, TODAY, 3, "Aldley Stores"))
    wanted = {
        "round-sheet": Wanted(TODAY, room.sites[0]),
        "movement-register": Wanted(TODAY, first=date(2026, 1, 1)),
        "medicine-register": Wanted(TODAY, last=TODAY),
        "label-sheet": Wanted(TODAY, number, count=4, start=3),
        "batch-record": Wanted(TODAY, number),
        "delivery-note": Wanted(TODAY, 1),
        "recall-paper": Wanted(TODAY, mark="sb26 000140"),
        "marks-sheet": Wanted(TODAY),
        "words-we-use": Wanted(TODAY),
    }
    with sqlite_ledger.read() as session:
        names = [paper_for(key, session, each).name for key, each in wanted.items()]
        run = paper_for("label-sheet", session, wanted["label-sheet"]).record
    assert names == [
        "round sheet Long Drove 2026-05-14", "movement register all sites 2026-01-01 to 2026-05-14",
        "medicine register all sites 2025-05-14 to 2026-05-14", "labels SB26-0001-40",
        "batch record SB26-0001-40", "delivery note 1", "recall SB26-0001-40", "marks of the quick line",
            "words we use",
    ]  # fmt: skip
    assert (run.count, run.first) == (4, 2)


def test_what_cannot_be_made_is_said(sqlite_ledger: Ledger) -> None:
    room_of.jarred(sqlite_ledger)
    with sqlite_ledger.read() as session:
        with pytest.raises(CannotNow, match="Nothing was chosen"):
            paper_for("batch-record", session, Wanted(TODAY))
        with pytest.raises(CannotNow, match="No jar of this farm bears SB26-0002-37"):
            paper_for("recall-paper", session, Wanted(TODAY, mark="SB26-0002-37"))
        with pytest.raises(CannotNow, match="check digits"):
            paper_for("recall-paper", session, Wanted(TODAY, mark="SB26-0001-41"))
