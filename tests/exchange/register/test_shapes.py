"""The same farm in other shapes: what is read must not hang on the shape."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from beeledger.base.findings import Grade
from beeledger.exchange.register import RegisterReading, as_json, read_register
from tests.exchange.register.farm_book import GRIDS, HIVE_HEADS, SITES, TODAY, Book, a_day, hive

OTHER_HEADS = {
    "hive": ["Hive", "No.", "Colony", "Number", "Hive number", "Stock no"],
    "site": ["Where", "Apiary", "Site", "Location", "Stand at", "Yard"],
    "type": ["Type", "Hive type", "Kind of hive", "Box type"],
    "year": ["Queen yr", "Year", "Q year", "Queen", "Year of queen"],
    "colour": ["Q colour", "Colour", "Queen colour", "Marking colour"],
    "marked": ["Marked?", "Queen marked", "Marked"],
    "seen": ["Last looked at", "Last visit", "Inspected", "Date", "Last inspection", "Date of last visit"],
    "brood": ["Frames brood", "Brood", "BIAS", "Brood frames", "Frames of brood (BS)"],
    "supers": ["Supers", "No. supers", "Supers on", "Supres"],
    "temper": ["Temper 1-5", "Temper", "Temp", "Docility", "Temper (1 = calm)"],
    "note": ["Comment", "Notes", "Remarks", "Other notes"],
}
DAYS = ["05/03/2026", "06.04.26", "14 Mar 26", a_day(28, 4), "5th March", 46086, "2026-04-01"]
ISO = ["2026-03-05", "2026-04-06", "2026-03-14", "2026-04-28", "2026-03-05", "2026-03-05", "2026-04-01"]


def farm_rows(count: int = 40) -> list[dict[str, object]]:
    """Hives of all kinds, every seventh with something wrong."""
    names = list(GRIDS)
    rows = []
    for number in range(1, count + 1):
        row = hive(number, names[number * len(names) // (count + 1)], seen=DAYS[number % len(DAYS)])
        row |= {"brood": f"{number % 9} fr" if number % 4 == 0 else number % 9, "supers": number % 3}
        rows.append(row)
    rows[6]["site"] = "nobody's meadow"
    rows[13]["seen"] = "31/02/2026"
    rows[20]["brood"] = -3
    rows[27]["colour"] = "Red"
    rows.insert(35, dict(rows[34]))
    return rows


def told(reading: RegisterReading) -> tuple[object, object, object]:
    """What must not change with the shape."""
    answer = as_json(reading)
    judged = sorted((f.code, f.grade) for f in reading.findings if f.grade is not Grade.NOTED)
    return sorted((s["name"], s["grid"], s["capacity"]) for s in answer["sites"]), answer["colonies"], judged


def test_the_farm_is_read_with_its_faults_named(tmp_path):
    reading = read_register(Book(farm_rows()).save(tmp_path), TODAY)
    assert len(reading.colonies) == 37
    assert [as_json(reading)["colonies"][at]["seen"] for at in range(6)] == [
        ISO[at % 7] for at in range(1, 7)
    ]
    refused = [(f.where.row, f.code) for f in reading.findings if f.grade is Grade.REFUSED]
    assert refused == [
        (8, "register.site"),
        (15, "register.date"),
        (22, "register.brood"),
        (37, "register.duplicate"),
    ]
    assert [(f.where.row, f.code) for f in reading.findings if f.grade is Grade.DOUBTFUL] == [
        (29, "register.colour")
    ]


@settings(max_examples=40)
@given(seed=st.integers(0, 10_000))
def test_order_and_wording_of_columns_sheets_and_rows_above_change_nothing(tmp_path_factory, seed):
    folder = tmp_path_factory.mktemp("shapes")
    dice = random.Random(seed)
    plain = Book(farm_rows())
    names = list(HIVE_HEADS)
    dice.shuffle(names)
    heads = {name: dice.choice(OTHER_HEADS[name]) for name in names}
    if dice.random() < 0.5:
        heads |= {"mites": "Varroa count", "weight": "Weight kg"}
    site_names = list(plain.site_heads)
    dice.shuffle(site_names)
    shaped = replace(
        plain,
        hive_heads={name: dice.choice([str.upper, str, str.lower])(text) for name, text in heads.items()},
        site_heads={name: plain.site_heads[name] for name in site_names},
        hive_sheet=dice.choice(["Sheet2", "colonies 2026", "Hives", "x"]),
        site_sheet=dice.choice(["Sheet1", "apiaries", "where"]),
        above=[["Colony record, kept by hand"], []][: dice.randrange(3)],
        hives_first=dice.random() < 0.5,
    )
    assert told(read_register(shaped.save(folder), TODAY)) == told(read_register(plain.save(folder), TODAY))


def test_hives_without_a_site_list_make_the_sites(tmp_path):
    reading = read_register(
        Book([hive(1), hive(2, "HERON WOOD"), hive(3, "heron wood ")], sites=None).save(tmp_path), TODAY
    )
    assert [(site.name, site.grid) for site in reading.sites] == [
        ("Pound Furlong", None),
        ("Heron Wood", None),
    ]
    assert [colony.site for colony in reading.colonies] == ["Pound Furlong", "Heron Wood", "Heron Wood"]
    assert "register.no-site-list" in {finding.code for finding in reading.findings}


def test_headings_alone_say_the_site_when_there_is_no_column_for_it(tmp_path):
    heads = {name: text for name, text in HIVE_HEADS.items() if name != "site"}
    rows = [["Heron Wood"], hive(1), hive(2), ["Bell Acre"], hive(3), ["Nobody's Meadow"], hive(4)]
    with_list = read_register(Book(rows, hive_heads=heads).save(tmp_path), TODAY)
    assert [(c.hive, c.site) for c in with_list.colonies] == [
        ("1", "Heron Wood"),
        ("2", "Heron Wood"),
        ("3", "Bell Acre"),
    ]
    assert [(f.where.row, f.code) for f in with_list.refused] == [(8, "register.site")]
    without = read_register(Book(rows, sites=None, hive_heads=heads).save(tmp_path), TODAY)
    assert [colony.site for colony in without.colonies] == [
        "Heron Wood",
        "Heron Wood",
        "Bell Acre",
        "Nobody's Meadow",
    ]


@pytest.mark.parametrize("listed", [True, False])
def test_one_sheet_for_each_site_is_placed_by_the_sheets_names(tmp_path, listed):
    import openpyxl

    book = openpyxl.Workbook()
    book.remove(book.active)
    number = 0
    for name in ("Heron Wood", "Bell Acre"):
        sheet = book.create_sheet(name)
        sheet.append(["Hives in 2026"])
        sheet.append(["No", "Queen", "Colour", "Brood", "Supers", "Date"])
        for _ in range(3):
            number += 1
            sheet.append([number, 2024, "g", 5, 1, "1/4/26"])
    if listed:
        sheet = book.create_sheet("list")
        sheet.append(["Name", "Grid ref", "Capacity"])
        for site in SITES:
            sheet.append([site["name"], site["grid"], site["room"]])
    path = tmp_path / "one-each.xlsx"
    book.save(path)
    reading = read_register(path, TODAY)
    assert [colony.site for colony in reading.colonies] == ["Heron Wood"] * 3 + ["Bell Acre"] * 3
    assert len(reading.sites) == (4 if listed else 2)


def test_numbers_that_begin_again_at_each_site_are_kept_and_said(tmp_path):
    rows = [hive(number, site) for site in ("Heron Wood", "Bell Acre") for number in range(1, 6)]
    reading = read_register(Book(rows).save(tmp_path), TODAY)
    assert (len(reading.colonies), reading.numbers_restart) == (10, True)
    assert [f.code for f in reading.findings if f.grade is Grade.DOUBTFUL] == ["register.numbers-restart"]


def test_headings_in_two_rows_are_read_as_one(tmp_path):
    book = Book([hive(1)], hive_heads=HIVE_HEADS | {"year": "yr", "colour": "colour", "marked": "marked?"})
    book.above = [[None, None, None, "Queen", None, None, "Last visit"]]
    (colony,) = read_register(book.save(tmp_path), TODAY).colonies
    assert (colony.queen_year, colony.queen_colour, colony.marked) == (2025, "blue", True)


def test_a_site_merged_over_its_rows_is_carried_down_and_doubted_once(tmp_path):
    reading = read_register(Book([hive(1, "Heron Wood"), hive(2, None), hive(3, None)]).save(tmp_path), TODAY)
    assert {colony.site for colony in reading.colonies} == {"Heron Wood"}
    assert [f.code for f in reading.findings if f.grade is Grade.DOUBTFUL] == ["register.site-blank"]


@pytest.mark.parametrize(
    "columns",
    [
        {"grid": "Lat, long"},
        {"lat": "Latitude", "lon": "Longitude"},
        {"east": "Easting", "north": "Northing"},
    ],
)
def test_places_given_in_degrees_or_metres_become_grid_references(tmp_path, columns):
    # The worked example of the Ordnance Survey, A guide to coordinate systems in Great Britain, annex C:
    # E 651409.903 N 313177.270, on its own datum 52°39'27.2531"N 1°43'4.5177"E. On WGS84 that point lies at
    # 52.657979 N, 1.716052 E (pyproj 3.7.2, EPSG:27700 to EPSG:4326).
    site = SITES[0] | {
        "grid": "52.657979, 1.716052", "lat": 52.657979, "lon": 1.716052, "east": 651409, "north": 313177,
    }  # fmt: skip
    book = Book([hive(1)], sites=[site], site_heads={"name": "Site", "room": "Room for"} | columns)
    (read,) = read_register(book.save(tmp_path), TODAY).sites
    assert abs(read.easting - 651409) <= 6
    assert abs(read.northing - 313177) <= 6
    assert read.grid[:5] == "TG514"


def test_a_grid_reference_that_cannot_be_read_leaves_the_site_without_and_doubted(tmp_path):
    sites = [SITES[0] | {"grid": "SO 39275", "room": -4}, SITES[1] | {"name": "Pound furlong"}]
    reading = read_register(Book([hive(1)], sites=sites).save(tmp_path), TODAY)
    assert [(site.grid, site.capacity) for site in reading.sites] == [(None, None)]
    assert [(f.where.row, f.code, f.grade.value) for f in reading.findings if f.grade is not Grade.NOTED] == [
        (4, "register.grid", "doubtful"),
        (4, "register.capacity", "doubtful"),
        (5, "register.duplicate-site", "refused"),
    ]
