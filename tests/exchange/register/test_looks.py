"""Logs of old looks and lists of queens, told from a register by what their rows hold."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from beeledger.base.resources import table
from beeledger.exchange.register import read_register
from beeledger.exchange.register.reading import read_all
from beeledger.exchange.tables import Line, Table
from beeledger.rules.rounds.entry import CellStage, Heft, QueenState

TODAY = date(2026, 5, 5)
LOG = """Hive;Yard;Date;Brood;Seams;Stores;QS;QC;Temp;Status;Notes
1;Sorrel Bank;3 May 2025;4,5;6;light;y;0;2;QR;
1;Sorrel Bank;12/06/25;7½;10;2;n;open;2;qc;swarmy
2;Sorrel Bank;3.5.2025;3;4;heavy;;;1;QL;
2;Sorrel Bank;12/06/25;nil;;;;;;dl;
2;Sorrel Bank;;5;;;;;;;
"""


def _file(folder: Path, text: str) -> Path:
    file = folder / "visits.csv"
    file.write_text(text, encoding="utf-8")
    return file


def test_one_row_a_visit_is_read_as_looks_with_short_codes_and_decimal_commas(tmp_path: Path):
    reading = read_register(_file(tmp_path, LOG), TODAY)
    assert reading.colonies == ()
    assert [(row.hive, row.seen) for row in reading.looks] == [
        ("1", date(2025, 5, 3)), ("1", date(2025, 6, 12)), ("2", date(2025, 5, 3)), ("2", date(2025, 6, 12)),
    ]  # fmt: skip
    first, second, third, fourth = reading.looks
    assert (first.brood_tenths, first.more.bees_tenths, first.more.stores_heft) == (45, 60, Heft.LIGHT)
    assert (first.more.queen_seen, first.more.cells_stage, first.more.queen_state) == (
        True, CellStage.NONE, QueenState.RIGHT,
    )  # fmt: skip
    assert (second.brood_tenths, second.more.stores_tenths, second.more.cells_stage) == (
        75,
        20,
        CellStage.OPEN,
    )
    assert third.more.queen_state is QueenState.QUEENLESS
    assert (fourth.brood_tenths, fourth.more.queen_state) == (0, QueenState.DRONE_LAYER)
    assert [(one.where.row, one.what) for one in reading.refused] == [(6, "the look has no day")]


def test_a_list_of_queens_by_colour_is_told_from_a_register(tmp_path: Path):
    text = "Hive,Q colour,Clipped,Line\n1,blue,y,Dark\n2,green,n,\n"
    queens = read_register(_file(tmp_path, text), TODAY).queens
    assert [(row.hive, row.queen_colour, row.clipped, row.line) for row in queens] == [
        ("1", "blue", True, "Dark"), ("2", "green", False, ""),
    ]  # fmt: skip


def test_one_date_that_can_only_be_month_first_is_asked_about(tmp_path: Path):
    text = "Hive,Site,Brood,Date\n1,Sorrel Bank,5,04/25/2026\n2,Sorrel Bank,6,04/03/2026\n"
    reading = read_register(_file(tmp_path, text), TODAY)
    assert [one.code for one in reading.findings if one.code.endswith("days-mixed")] == [
        "register.days-mixed"
    ]
    (taken,) = {column.table for column in reading.columns}
    set_so = read_register(tmp_path / "visits.csv", TODAY, {taken: {"date": "seen_month_first"}})
    assert [row.seen for row in set_so.colonies] == [date(2026, 4, 25), date(2026, 4, 3)]


FIELDS = ("hive", "site", "seen", "brood", "temper", "comment")
CELLS = (
    ("7", "Sorrel Bank", "14/04/2026", 6, 2, "calm lot"),
    ("8", "Sorrel Bank", "15/04/2026", 7.5, 1, None),
)


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_columns_in_any_order_under_any_of_their_names_give_the_same_hives(data: st.DataObject):
    spellings = table("words", "register.toml")["columns"]["hives"]
    order = data.draw(st.permutations(range(len(FIELDS))))
    # "no" and its like head a number in any table; they are read with the others round them.
    heads = [
        data.draw(st.sampled_from([word for word in spellings[FIELDS[at]] if len(word) > 3])) for at in order
    ]
    rows = [tuple(cells[at] for at in order) for cells in CELLS]
    lines = tuple(Line(number, row) for number, row in enumerate([tuple(heads), *rows], start=1))
    reading = read_all([Table("Hives", lines)], TODAY, "hives")
    assert [
        (row.hive, row.site, row.seen, row.brood_tenths, row.temper, row.comment) for row in reading.colonies
    ] == [
        ("7", "Sorrel Bank", date(2026, 4, 14), 60, 2, "calm lot"),
        ("8", "Sorrel Bank", date(2026, 4, 15), 75, 1, ""),
    ]
