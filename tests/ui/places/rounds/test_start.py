"""Rounds before anything is typed: where a visit is due, and Enter that opens its round."""

from __future__ import annotations

from pathlib import Path

from beeledger.database.ledger import Ledger
from beeledger.rules.rounds.entry import Entry, Outcome
from tests.builders.yards import yard
from tests.ui.places.rounds.evening import evening, on


def test_the_empty_place_lists_the_sites_due_and_enter_opens_the_worst(
    sqlite_ledger: Ledger, qtbot, tmp_path: Path
):
    drove = yard(sqlite_ledger, "Long Drove", "1", "2", "3")
    drove.post(on(20, 4), h1=Entry(outcome=Outcome.LOOKED, eggs=True, queen_seen=True))
    with evening(sqlite_ledger, qtbot, tmp_path / "desk") as hand:
        place = hand.seat.place
        hand.settle()
        (row,) = place.empty.table.records.rows_shown()
        assert row.cells[0].text == "Long Drove"
        assert "late" in row.cells[1].text
        hand.seat.until(place.empty.table.hasFocus)
        hand.press("Return")
        hand.settle()
        assert place.form.isVisible()
        assert place.form.form.fields["site"].value() == "Long Drove"


def test_without_a_site_the_place_says_where_to_begin(sqlite_ledger: Ledger, qtbot, tmp_path: Path):
    with evening(sqlite_ledger, qtbot, tmp_path / "desk") as hand:
        hand.settle()
        assert hand.seat.place.empty.words.missing.text() == "No site yet"
        assert not hand.seat.place.empty.table.isVisible()
