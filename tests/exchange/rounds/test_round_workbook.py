"""The round as a workbook for a tablet: filled elsewhere, every row comes home or is named."""

from __future__ import annotations

from datetime import date, time
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from beeledger.base.errors import CannotNow
from beeledger.base.findings import Grade
from beeledger.exchange.rounds import RoundWorkbook, read_round_workbook, write_round_workbook
from beeledger.exchange.rounds.columns import COLUMNS, Takes
from beeledger.queries.records.heading import Note
from beeledger.queries.records.round_sheet import LastFigures, RoundSheet, SheetLine
from beeledger.rules.rounds.entry import (
    FIELDS,
    CellStage,
    Entry,
    FeedKind,
    Outcome,
    Split,
    SplitQueen,
)
from beeledger.rules.rounds.plain import CODES
from tests.exchange.register.farm_book import Book, hive

TODAY = date(2026, 5, 14)
MARKS = ("310", "311", "P4", "=2+2")
IDS = {mark: 40 + at for at, mark in enumerate(MARKS)}
SHEET = RoundSheet(
    "Heron Wood",
    tuple(
        SheetLine(mark, queen="blue '25", last=LastFigures(queen="q", brood="6"), due="swarm check")
        for mark in MARKS
    ),
    uid="9c1e",
    day=date(2026, 5, 12),
    way_in="blue gate",
    cautions=(Note("Two people lift a full super"),),
)


def filled(
    folder: Path, cells: dict[tuple[int, str], object], site: dict[str, object] | None = None
) -> RoundWorkbook:
    """The sheet with cells set, by row and heading, as a hand at a tablet would."""
    path = folder / "round.xlsx"
    path.write_bytes(write_round_workbook(SHEET, IDS, 17))
    book = openpyxl.load_workbook(path)
    page = book["Hives"]
    columns = {cell.value: cell.column for cell in page[5]}
    for (row, heading), value in cells.items():
        page.cell(row, columns[heading]).value = value
    for row in book["Site"].iter_rows(min_row=3):
        if site and row[0].value in site:
            row[1].value = site[row[0].value]
    book.save(path)
    return read_round_workbook(path, TODAY)


def refusals(read: RoundWorkbook) -> list[tuple[int | None, str]]:
    return [(finding.where.row, finding.where.column) for finding in read.refused]


def test_every_field_of_an_entry_has_its_column():
    held = {column.name for column in COLUMNS if not column.splits}
    assert held == set(FIELDS) - {"split_to"}
    for column in COLUMNS:
        if column.takes is Takes.CHOICE and not column.splits:
            assert set(column.choices.values()) == {str(code) for code in CODES[column.name]}


def test_an_untouched_sheet_comes_back_with_its_identity_and_every_hive_blank(tmp_path):
    read = filled(tmp_path, {})
    assert (read.uid, read.site, read.record_version) == ("9c1e", "Heron Wood", 17)
    assert [(row.hive, row.colony_id, row.is_blank) for row in read.rows] == [
        (mark, IDS[mark], True) for mark in MARKS
    ]
    assert [finding.grade for finding in read.findings] == [Grade.NOTED]
    assert read.line.day == date(2026, 5, 12)


def test_filled_cells_become_the_fields_of_the_entry(tmp_path):
    read = filled(
        tmp_path,
        {
            (6, "Outcome"): "looked", (6, "Queen seen"): "yes", (6, "Eggs"): "no", (6, "Brood"): 6.5, (6, "Stores kg"): 4.25,
            (6, "Cells"): "sealed", (6, "How many cells"): 4, (6, "Split to hive"): 626, (6, "Split: brood frames"): 3,
            (6, "Split: queen"): "a sealed cell", (6, "Feed"): "syrup 1:1", (6, "Feed litres"): 2, (6, "Note"): "gate & <dog>",
            (7, "Supers on"): 0,
        },
    )  # fmt: skip
    assert read.rows[0].entry == Entry(
        outcome=Outcome.LOOKED, queen_seen=True, eggs=False, brood_tenths=65, stores_g=4250, cells_stage=CellStage.SEALED,
        cells_count=4, split_to=(Split("626", 30, None, SplitQueen.SEALED_CELL),), feed_kind=FeedKind.SYRUP_1_1, feed_ml=2000,
        note="gate & <dog>",
    )  # fmt: skip
    assert read.rows[0].raw["brood_tenths"] == "6.5"
    assert read.rows[1].entry == Entry(supers_on=0)
    assert [row.hive for row in read.filled] == ["310", "311"]


def test_cells_that_cannot_be_are_refused_by_row_and_column_and_the_other_rows_kept(tmp_path):
    read = filled(
        tmp_path,
        {
            (6, "Brood"): -3, (6, "Bees"): 7, (7, "Temper 1 to 5"): 9, (8, "Queen seen"): "perhaps", (9, "Supers on"): 1.5,
            (9, "Cells"): "purple",
        },
    )  # fmt: skip
    assert refusals(read) == [
        (6, "K (Brood)"), (7, "P (Temper 1 to 5)"), (8, "H (Queen seen)"), (9, "Q (Cells)"), (9, "T (Supers on)"),
    ]  # fmt: skip
    assert not read.filled
    assert read.rows[0].entry == Entry(bees_tenths=70)


@pytest.mark.parametrize(
    ("heading", "just", "over"), [("Brood", 80, 80.1), ("Temper 1 to 5", 5, 6), ("Supers off", 12, 13), ("Note", "x" * 500, "x" * 501)]
)  # fmt: skip
def test_the_limits_of_a_cell_hold_on_reading_too(tmp_path, heading, just, over):
    assert not filled(tmp_path, {(6, heading): just}).refused
    assert len(filled(tmp_path, {(6, heading): over}).refused) == 1


def test_ranges_and_about_are_taken_and_doubted(tmp_path):
    read = filled(tmp_path, {(6, "Brood"): "6-7"})
    assert read.rows[0].entry.brood_tenths == 65
    assert [(f.grade, f.where.column) for f in read.findings if f.where.row] == [
        (Grade.DOUBTFUL, "K (Brood)")
    ]


def test_a_hive_that_is_not_on_the_sheet_is_asked_about_and_a_stranger_needs_no_number(tmp_path):
    read = filled(
        tmp_path, {(10, "Hive"): 999, (10, "Brood"): 5, (11, "Outcome"): "stranger", (12, "Brood"): 4}
    )
    assert [(row.hive, row.colony_id, row.refused) for row in read.rows[4:]] == [
        ("999", None, False),
        ("", None, False),
        ("", None, True),
    ]
    assert [(f.grade, f.where.row) for f in read.findings if f.where.row] == [
        (Grade.AGAINST, 10),
        (Grade.REFUSED, 12),
    ]


def test_a_second_row_of_a_hive_adds_splits_and_is_refused_for_anything_else(tmp_path):
    more = {(6, "Split to hive"): "A", (10, "Hive"): "310", (10, "Split to hive"): "B"}
    read = filled(tmp_path, more)
    assert [split.mark for split in read.rows[0].entry.split_to] == ["A", "B"]
    assert not read.refused
    assert refusals(filled(tmp_path, more | {(10, "Brood"): 3})) == [(10, "A (Hive)")]


def test_a_split_without_its_new_hive_is_refused(tmp_path):
    assert len(filled(tmp_path, {(6, "Split: brood frames"): 3}).refused) == 1


def test_a_row_that_was_deleted_is_named_and_rows_that_were_sorted_come_home(tmp_path):
    path = tmp_path / "round.xlsx"
    path.write_bytes(write_round_workbook(SHEET, IDS))
    book = openpyxl.load_workbook(path)
    page = book["Hives"]
    page["A6"].value, page["A7"].value = "311", "310"
    page["K6"].value = 3
    page.delete_rows(8)
    book.save(path)
    read = read_round_workbook(path, TODAY)
    assert read.missing == ("P4",)
    assert [(row.hive, row.colony_id, row.entry.brood_tenths) for row in read.rows][:2] == [
        ("311", 41, 30),
        ("310", 40, None),
    ]


def test_what_is_said_for_the_whole_site_is_read_once(tmp_path):
    site = {
        "Day": "13 May", "Start (09:40)": time(9, 40), "End (12:10)": "12.10", "Weather": "dry, 16 °C", "Crew": "two vans",
        "All hives fed with": "syrup 1:1", "Litres each": 2, "Clearers in for all": "no", "Note for the site": "gate code changed",
    }  # fmt: skip
    line = filled(tmp_path, {}, site).line
    assert (line.day, line.start_minute, line.end_minute) == (date(2026, 5, 13), 580, 730)
    assert line.each == Entry(feed_kind=FeedKind.SYRUP_1_1, feed_ml=2000, clearers=False)
    assert (line.weather, line.crew, line.note) == ("dry, 16 °C", "two vans", "gate code changed")
    bad = filled(tmp_path, {}, {"Day": "31/02", "End (12:10)": "25:00"})
    assert [(f.where.sheet, f.where.row) for f in bad.refused] == [("Site", 3), ("Site", 6)]


def test_headings_hives_and_sums_are_locked_and_entry_cells_open_with_checks(tmp_path):
    path = tmp_path / "round.xlsx"
    path.write_bytes(write_round_workbook(SHEET, IDS))
    book = openpyxl.load_workbook(path)
    page = book["Hives"]
    assert page.protection.sheet
    assert page.freeze_panes == "B6"
    assert [page[at].protection.locked for at in ("A5", "A6", "C6", "K3", "K6", "AV9", "A10")] == [
        True, True, True, True, False, False, False,
    ]  # fmt: skip
    assert page["K3"].value == "=SUM(K6:K17)"
    assert (page["A9"].value, page["A9"].data_type) == ("=2+2", "s")
    checks = page.data_validations.dataValidation
    assert len(checks) == len(COLUMNS)
    assert {check.type for check in checks} == {"list", "whole", "decimal", "textLength"}
    assert [book[name].sheet_state for name in ("words", "identity")] == ["hidden", "veryHidden"]
    for check in checks:
        if check.type == "list":
            name, cells = check.formula1.split("!")
            assert all(cell.value for (cell,) in book[name][cells.replace("$", "")])


@pytest.mark.parametrize("change", ["other", "no identity", "newer", "no headings"])
def test_a_file_that_is_no_round_workbook_is_said(tmp_path, change):
    path = tmp_path / "round.xlsx"
    path.write_bytes(write_round_workbook(SHEET, IDS))
    book = openpyxl.load_workbook(path)
    if change == "no identity":
        book["identity"]["B2"].value = None
    if change == "newer":
        book["identity"]["B1"].value = 99
    if change == "no headings":
        book["Hives"]["A5"].value = "Number"
    book.save(path)
    path = Book([hive(1)]).save(tmp_path) if change == "other" else path
    with pytest.raises(CannotNow) as caught:
        read_round_workbook(path, TODAY)
    assert caught.value.remedy


def test_two_hives_of_one_mark_or_a_hive_without_colony_are_not_written():
    with pytest.raises(ValueError, match="mark of its own"):
        write_round_workbook(SHEET, {"310": 1})


def _kept(column) -> st.SearchStrategy:
    if column.takes is Takes.YES_NO:
        return st.booleans()
    if column.takes is Takes.CHOICE:
        return st.sampled_from(sorted(CODES[column.name]))
    if column.takes is Takes.TEXT:
        return st.text(
            st.characters(codec="utf-8", categories=("L", "N", "P", "S", "Zs")), min_size=1, max_size=30
        )
    return st.integers(1 if column.name == "temper" else 0, column.most * column.scale)


SPLITS = st.lists(
    st.builds(
        Split,
        st.integers(1, 9999).map(str),
        st.none() | st.integers(0, 800),
        st.none() | st.integers(0, 800),
        st.none() | st.sampled_from(SplitQueen),
    ),
    max_size=3,
).map(tuple)
ENTRIES = st.fixed_dictionaries(
    {}, optional={column.name: _kept(column) for column in COLUMNS if not column.splits} | {"split_to": SPLITS}
).map(lambda values: Entry(**values))  # fmt: skip


@settings(max_examples=60)
@given(st.lists(ENTRIES, min_size=4, max_size=4))
def test_what_a_draft_holds_comes_back_as_it_was(tmp_path_factory, entries):
    path = tmp_path_factory.mktemp("round") / "round.xlsx"
    given_entries = dict(zip(MARKS, entries, strict=True))
    path.write_bytes(write_round_workbook(SHEET, IDS, 1, given_entries))
    read = read_round_workbook(path, TODAY)
    assert not read.refused
    assert {row.hive: row.entry for row in read.rows} == given_entries
