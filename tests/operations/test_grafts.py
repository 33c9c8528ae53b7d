"""Grafts and the cells that came of them."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.base.errors import Refused
from beeledger.database.ledger import Ledger
from beeledger.model.queens import GraftBatch
from beeledger.operations.act import perform
from beeledger.operations.grafts import CellCounts, NewGraft, count_cells, count_findings, post_graft
from beeledger.operations.queen_book import add_queen
from beeledger.operations.queens import NewQueen
from beeledger.operations.undo import undo
from tests.builders.yards import DAY, rows, sound, whole, yard


def test_a_graft_is_written_and_its_cells_are_counted(ledger: Ledger) -> None:
    home = yard(ledger, "Home Yard", "12")
    dam = perform(ledger, add_queen, NewQueen(2024, tag="24-011")).result
    new = NewGraft(date(2026, 5, 4), dam, 40, home.hives["12"])
    done = perform(ledger, post_graft, new)
    assert done.sentence == "Grafted 40 larvae from queen 24-011, 4 May"
    before = whole(ledger)
    counted = perform(ledger, count_cells, done.result, CellCounts(40, 31, 28))
    assert counted.sentence == "Counted the graft of 4 May: 28 sealed"
    row = rows(ledger, GraftBatch)[0]
    assert (row.grafted, row.taken, row.sealed, row.emerged, row.mated) == (40, 31, 28, None, None)
    assert sound(ledger)
    undo(ledger, counted.act)
    assert whole(ledger) == before


def test_no_step_has_more_cells_than_the_one_before_even_past_one_not_counted() -> None:
    assert count_findings(CellCounts(40, 31, 28, 26, 20)) == []
    assert [one.where.field for one in count_findings(CellCounts(40, None, 41))] == ["sealed"]
    assert [one.where.field for one in count_findings(CellCounts(0))] == ["grafted"]
    assert [one.where.field for one in count_findings(CellCounts(20, -1))] == ["taken"]


@pytest.mark.parametrize(
    ("on", "grafted", "field"),
    [(date(2026, 6, 1), 20, "on"), (DAY, 0, "grafted"), (date(2023, 6, 1), 20, "dam")],
)
def test_a_graft_that_cannot_have_been_made_is_refused(
    ledger: Ledger, on: date, grafted: int, field: str
) -> None:
    dam = perform(ledger, add_queen, NewQueen(2024, tag="24-011")).result
    with pytest.raises(Refused) as refused:
        perform(ledger, post_graft, NewGraft(on, dam, grafted))
    assert [finding.where.field for finding in refused.value.findings] == [field]
    assert rows(ledger, GraftBatch) == []
