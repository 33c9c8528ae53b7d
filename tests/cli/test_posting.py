"""A round workbook filled on a tablet and posted from the command line."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest

from beeledger.database.ledger import Ledger
from beeledger.exchange.rounds import write_round_workbook
from beeledger.queries.round_paper import printed_sheet
from beeledger.queries.rounds import recent_rounds, sheet_for
from tests.cli.commanding import Shell

TODAY = ("--today", "2026-05-14")


def _fill(folder: Path, ledger: Ledger, brood: object = 6, day: object = "14/05/2026") -> Path:
    """The workbook of the home yard with every hive looked at, all alike."""
    today = ledger.clock.today()
    with ledger.read() as session:
        sheet = printed_sheet(session, 1, today)
        ids = {line.mark: line.colony_id for line in sheet_for(session, 1, today).lines if line.mark}
    file = folder / "round.xlsx"
    file.write_bytes(write_round_workbook(replace(sheet, uid="tablet-1"), ids, ledger.last_act()))
    book = openpyxl.load_workbook(file)
    page = book["Hives"]
    columns = {cell.value: cell.column for cell in page[5]}
    for row in range(6, 6 + len(ids)):
        page.cell(row, columns["Brood"]).value = brood if row == 6 else 5
    for row in book["Site"].iter_rows(min_row=3):
        if row[0].value == "Day":
            row[1].value = day
    book.save(file)
    return file


def test_a_filled_workbook_is_posted(shell: Shell, sample_ledger: Ledger, tmp_path: Path) -> None:
    answer = shell("post", _fill(tmp_path, sample_ledger), "--into", sample_ledger.target, "--json", *TODAY)
    assert answer.code == 0
    with sample_ledger.read() as session:
        newest = recent_rounds(session, limit=1)[0]
        lines = sheet_for(session, 1, sample_ledger.clock.today()).lines
    assert (newest.round_id, newest.source, newest.hives) == (
        answer.data["round"],
        "workbook",
        answer.data["hives"],
    )
    first = lines[0].last
    assert first is not None
    assert first.entry.brood_tenths == 60


def test_the_same_workbook_is_not_posted_twice(shell: Shell, sample_ledger: Ledger, tmp_path: Path) -> None:
    file = _fill(tmp_path, sample_ledger)
    assert shell("post", file, "--into", sample_ledger.target, *TODAY).code == 0
    again = shell("post", file, "--into", sample_ledger.target, *TODAY)
    assert again.code == 1
    assert "posted already" in again.err


@pytest.mark.parametrize(
    ("brood", "said"),
    [("a lot", "Hives, row 6"), (40, "Hives, row 6")],
    ids=["cannot be read", "cannot be true"],
)
def test_a_bad_cell_is_named_by_its_row_and_nothing_is_posted(
    shell: Shell, sample_ledger: Ledger, tmp_path: Path, brood: object, said: str
) -> None:
    before = sample_ledger.last_act()
    answer = shell("post", _fill(tmp_path, sample_ledger, brood), "--into", sample_ledger.target, *TODAY)
    assert answer.code == 1
    assert f"refused: {said}" in answer.err
    assert sample_ledger.last_act() == before


def test_a_workbook_without_its_day_is_refused(shell: Shell, sample_ledger: Ledger, tmp_path: Path) -> None:
    file = _fill(tmp_path, sample_ledger, day=None)
    answer = shell("post", file, "--into", sample_ledger.target, "--json", *TODAY)
    assert answer.code == 1
    assert [row["code"] for row in answer.data["findings"]] == ["post.day"]
