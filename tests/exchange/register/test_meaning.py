"""Columns and rows known by what they mean: short headings, open headings, none at all."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import openpyxl
import pytest

from beeledger.base.findings import Grade
from beeledger.exchange.register import RegisterReading, read_register
from beeledger.exchange.register.headings import Kind, read_heads
from beeledger.exchange.tables import Line
from tests.exchange.register.farm_book import GRIDS, SITES, TODAY, Book, hive


def sheets(folder: Path, **rows: list[list[Any]]) -> RegisterReading:
    book = openpyxl.Workbook()
    book.remove(book.active)
    for title, lines in rows.items():
        page = book.create_sheet(title)
        for line in lines:
            page.append(line)
    path = folder / "sheets.xlsx"
    book.save(path)
    return read_register(path, TODAY)


def heads(*texts: str | int | None):
    return read_heads(Line(1, texts), None)


def test_headings_cut_short_are_known(tmp_path):
    found = heads(
        "Hive #", "Apiary name", "Hive style", "Q yr", "Q col", "Mkd", "Insp.", "Br fr", "Sup", "Tmpr", "Rmks"
    )
    names = (
        "hive",
        "site",
        "hive_type",
        "queen_year",
        "queen_colour",
        "marked",
        "seen",
        "brood",
        "supers",
        "temper",
        "comment",
    )
    assert found.kind is Kind.HIVES
    assert found.columns == {name: at for at, name in enumerate(names)}


def test_room_for_hives_is_not_the_hives_that_stand_there():
    assert heads("Site", "Grid ref", "Hives", "Max. no. of hives").columns == {
        "name": 0,
        "grid": 1,
        "capacity": 3,
    }


@pytest.mark.parametrize(
    "row",
    [
        ("Long Field", "SO500731", "Long Farm", "6 jars/yr"),
        ("Bell Acre", "National", "Green", "queen seen, 5 brood, 2 supers"),
        ("total", 232),
        (12, "Heron Wood", 2025, "Blue", 5, 1),
    ],
)
def test_rows_of_names_and_words_are_not_taken_for_headings(row):
    assert heads(*row) is None


def test_a_column_of_grid_references_is_one_whatever_stands_over_it(tmp_path):
    places = [[site["name"], site["grid"], site["room"]] for site in SITES]
    known = sheets(
        tmp_path,
        a=[["Site", "Map square", "Room for"], *places],
        b=[["No", "Site", "Brood"], [1, "Bell Acre", 4]],
    )
    assert {site.name: site.grid for site in known.sites} == GRIDS
    bare = sheets(
        tmp_path,
        a=[["Site", "Whereabouts", "Hives"], *places],
        b=[["No", "Site", "Brood"], [1, "Bell Acre", 4]],
    )
    assert {site.name: site.grid for site in bare.sites} == GRIDS
    assert "register.heading-guessed" in {finding.code for finding in bare.findings}
    assert [(colony.hive, colony.site) for colony in bare.colonies] == [("1", "Bell Acre")]


def test_dates_of_looks_are_known_under_any_heading(tmp_path):
    reading = sheets(
        tmp_path,
        a=[
            ["Hive", "Site", "Brood", "Went through"],
            [1, "Bell Acre", 4, "14/04/26"],
            [2, "Bell Acre", 4, "15 Apr"],
        ],
    )
    assert [colony.seen.isoformat() for colony in reading.colonies] == ["2026-04-14", "2026-04-15"]


def test_queen_may_head_her_colour(tmp_path):
    reading = sheets(
        tmp_path,
        a=[["Hive", "Site", "Queen", "Brood"], [1, "Bell Acre", "Blue", 4], [2, "Bell Acre", "g", 4]],
    )
    assert [(c.queen_year, c.queen_colour) for c in reading.colonies] == [(None, "blue"), (None, "green")]


def test_queen_may_hold_year_and_colour_in_one_cell(tmp_path):
    reading = sheets(
        tmp_path,
        a=[
            ["Hive", "Site", "Queen", "Brood"],
            [1, "Bell Acre", "2025 blue", 4],
            [2, "Bell Acre", "g '23", 4],
        ],
    )
    assert [(c.queen_year, c.queen_colour) for c in reading.colonies] == [(2025, "blue"), (2023, "green")]
    assert [(f.where.row, f.code) for f in reading.findings if f.grade is Grade.DOUBTFUL] == [
        (3, "register.colour")
    ]


def test_dates_written_month_first_are_known_by_those_that_cannot_be_else_and_doubted(tmp_path):
    days = ["04/14/2026", "4/28/26", "03-31-2026", "03/04/2026"]
    reading = sheets(
        tmp_path,
        a=[["Hive", "Site", "Date"], *[[at, "Bell Acre", day] for at, day in enumerate(days, start=1)]],
    )
    assert [c.seen.isoformat() for c in reading.colonies] == [
        "2026-04-14",
        "2026-04-28",
        "2026-03-31",
        "2026-03-04",
    ]
    assert [f.code for f in reading.findings if f.grade is Grade.DOUBTFUL] == ["register.month-first"]


def test_one_day_that_can_only_be_day_first_keeps_the_column_so(tmp_path):
    days = ["04/14/2026", "4/28/26", "03-31-2026", "31/03/2026"]
    reading = sheets(
        tmp_path,
        a=[["Hive", "Site", "Date"], *[[at, "Bell Acre", day] for at, day in enumerate(days, start=1)]],
    )
    assert [c.hive for c in reading.colonies] == ["4"]
    assert len(reading.refused) == 3


def test_total_rows_are_known_by_their_first_word(tmp_path):
    reading = read_register(
        Book([hive(1), ["Total hives", 1], hive("Total 2", None, brood=None)]).save(tmp_path), TODAY
    )
    assert [colony.hive for colony in reading.colonies] == ["1"]
    assert not reading.refused


def test_a_hive_with_a_name_instead_of_a_number_is_a_hive(tmp_path):
    assert [c.hive for c in read_register(Book([hive("Big Bertha")]).save(tmp_path), TODAY).colonies] == [
        "Big Bertha"
    ]


def yearly(year: int, number: int, site: str = "Bell Acre") -> list[list[Any]]:
    heading = ["Hive", "Site", "Brood", "Date"]
    return [
        heading,
        *[[at, site, 5, f"{at}/4/{year}"] for at in range(1, number + 1)],
        [7, site, -1, f"1/4/{year}"],
    ]


def test_of_one_sheet_a_year_the_newest_is_read_and_the_older_said(tmp_path):
    reading = sheets(tmp_path, y2024=yearly(2024, 6), y2026=yearly(2026, 6), y2025=yearly(2025, 6))
    assert {(colony.where.sheet, colony.seen.year) for colony in reading.colonies} == {("y2026", 2026)}
    assert len(reading.colonies) == 6
    assert [(f.where.sheet, f.code) for f in reading.findings if f.grade is Grade.DOUBTFUL] == [
        ("y2024", "register.older-copy"),
        ("y2025", "register.older-copy"),
    ]
    assert [f.where.sheet for f in reading.refused] == ["y2026"]


def test_two_sheets_of_other_sites_are_both_read(tmp_path):
    reading = sheets(tmp_path, a=yearly(2025, 6, "Heron Wood"), b=yearly(2026, 6, "Bell Acre"))
    assert len(reading.colonies) == 12
