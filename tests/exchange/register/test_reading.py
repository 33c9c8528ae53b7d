"""The old spreadsheet as such farms keep it: what is taken in, refused and doubted."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from beeledger.base.findings import Grade
from beeledger.exchange.register import RegisterReading, as_json, read_register, to_register
from beeledger.model.colonies import Colony
from beeledger.operations.act import perform
from beeledger.operations.imports import import_register
from beeledger.queries.farm import farm_settings
from tests.builders.yards import rows, sound
from tests.exchange.register.farm_book import GRIDS, HIVE_HEADS, TODAY, Book, a_day, hive


def read(book: Book, folder: Path) -> RegisterReading:
    return read_register(book.save(folder), TODAY)


def graded(reading: RegisterReading, grade: Grade) -> list[tuple[int | None, str, str]]:
    return [(f.where.row, f.where.column, f.code) for f in reading.findings if f.grade is grade]


def only_hive(folder: Path, **other: object) -> RegisterReading:
    return read(Book([hive(1, **other)]), folder)


def test_sites_come_with_grid_reference_of_ten_figures_and_room(tmp_path):
    reading = read(Book([hive(1)]), tmp_path)
    assert {site.name: site.grid for site in reading.sites} == GRIDS
    assert [site.capacity for site in reading.sites] == [36, 24, 20, 30]
    assert (reading.sites[0].owner, reading.sites[0].rent) == ("T. Oak", "6 jars/yr")
    assert (reading.sites[0].easting, reading.sites[0].northing) == (339200, 275100)


def test_a_hive_row_is_read_whole(tmp_path):
    (colony,) = only_hive(tmp_path, note="ok <strong> & calm").colonies
    assert (colony.hive, colony.site, colony.hive_type) == ("1", "Pound Furlong", "National")
    assert (colony.queen_year, colony.queen_colour, colony.marked) == (2025, "blue", True)
    assert (colony.seen, colony.brood_tenths, colony.supers, colony.temper) == (date(2026, 4, 14), 60, 1, 2)
    assert colony.comment == "ok <strong> & calm"
    assert (colony.where.sheet, colony.where.row, colony.where.column) == ("Hives", 2, "A (Hive)")


@pytest.mark.parametrize(
    ("written", "day"),
    [
        ("05/03/2026", date(2026, 3, 5)), ("06.04.26", date(2026, 4, 6)), ("14 Mar 26", date(2026, 3, 14)),
        (a_day(28, 4), date(2026, 4, 28)), ("5th March", date(2026, 3, 5)), ("Tue 5th March 2026", date(2026, 3, 5)),
        ("March 5, 2026", date(2026, 3, 5)), ("2026-03-05", date(2026, 3, 5)), (46086, date(2026, 3, 5)),
        ("5 Nov", date(2025, 11, 5)), ("05/03/2026 10:30", date(2026, 3, 5)), ("5-Mar-26", date(2026, 3, 5)),
        ("", None), ("?", None),
    ],
)  # fmt: skip
def test_dates_are_read_in_the_forms_offices_use(tmp_path, written, day):
    # 46086 is day number of 5 March 2026 in the 1900 system: 25569 (1 January 1970, ECMA-376 part 1,
    # 18.17.4.1) plus 20517 days of Unix time.
    assert only_hive(tmp_path, seen=written).colonies[0].seen == day


@pytest.mark.parametrize(
    "written", ["31/02/2026", "5/13/2026", "06/05/2026", "last week", "#REF!", 7, -1, 1e12]
)
def test_a_day_that_cannot_be_refuses_the_row(tmp_path, written):
    reading = only_hive(tmp_path, seen=written)
    assert not reading.colonies
    assert graded(reading, Grade.REFUSED) == [(2, "G (Last looked at)", "register.date")]


@pytest.mark.parametrize(
    ("written", "tenths", "doubted"),
    [
        ("2 fr", 20, False), ("½", 5, False), ("7½", 75, False), ("7 1/2 frames", 75, False), (6.5, 65, False),
        ("none", 0, False), (0, 0, False), (None, None, False), ("-", None, False), ("7+", 70, True),
        ("6-7", 65, True), ("6 to 7 fr", 65, True), ("about 4", 40, True), ("7ish", 70, True), (3.25, 33, True),
    ],
)  # fmt: skip
def test_brood_is_read_in_tenths_and_what_is_not_exact_is_doubted(tmp_path, written, tenths, doubted):
    reading = only_hive(tmp_path, brood=written)
    assert reading.colonies[0].brood_tenths == tenths
    assert [row for row, _, _ in graded(reading, Grade.DOUBTFUL)] == ([2] if doubted else [])


@pytest.mark.parametrize("written", [-3, "-3", 12, "99 fr", 1e300, "lots", a_day(7, 6)])
def test_brood_that_cannot_be_refuses_the_row(tmp_path, written):
    reading = only_hive(tmp_path, brood=written)
    assert not reading.colonies
    assert graded(reading, Grade.REFUSED) == [(2, "H (Frames brood)", "register.brood")]


def test_eleven_frames_of_brood_fill_a_national_and_brood_and_half_holds_more(tmp_path):
    assert only_hive(tmp_path, brood=11).colonies
    assert only_hive(tmp_path, brood=14, type="Nat. brood & half").colonies


@pytest.mark.parametrize("written", [2025, "'25", "25", 25, "2025", "’25", "2025 queen", 2025.0])
def test_a_queens_year_is_read_in_its_short_forms(tmp_path, written):
    assert only_hive(tmp_path, year=written).colonies[0].queen_year == 2025


@pytest.mark.parametrize("written", [2031, 205, "old", -5])
def test_an_impossible_year_is_left_blank_and_doubted(tmp_path, written):
    reading = only_hive(tmp_path, year=written, colour=None)
    assert reading.colonies[0].queen_year is None
    assert graded(reading, Grade.DOUBTFUL) == [(2, "D (Queen yr)", "register.year")]


def test_a_queen_of_seven_years_is_doubted_and_one_of_six_is_not(tmp_path):
    assert not graded(only_hive(tmp_path, year=2020, colour=None), Grade.DOUBTFUL)
    assert graded(only_hive(tmp_path, year=2019, colour=None), Grade.DOUBTFUL)[0][2] == "register.year-old"


# The international code: years ending 1 or 6 white, 2 or 7 yellow, 3 or 8 red, 4 or 9 green, 5 or 0 blue.
@pytest.mark.parametrize(
    ("year", "colour"), [(2021, "W"), (2022, "yellow"), (2023, "r"), (2024, "Green"), (2025, "b")]
)
def test_a_colour_that_fits_the_year_is_not_doubted(tmp_path, year, colour):
    assert not graded(only_hive(tmp_path, year=year, colour=colour), Grade.DOUBTFUL)


def test_a_colour_that_does_not_fit_the_year_is_doubted_and_kept(tmp_path):
    reading = only_hive(tmp_path, year=2023, colour="Green")
    assert reading.colonies[0].queen_colour == "green"
    assert graded(reading, Grade.DOUBTFUL) == [(2, "E (Q colour)", "register.colour")]


@pytest.mark.parametrize(("name", "written"), [("supers", -1), ("supers", 400), ("temper", 9), ("temper", 0)])
def test_figures_off_their_scale_refuse_the_row(tmp_path, name, written):
    reading = only_hive(tmp_path, **{name: written})
    assert not reading.colonies
    assert [code for _, _, code in graded(reading, Grade.REFUSED)] == [f"register.{name}"]


def test_a_hive_at_no_listed_site_is_refused_and_the_rest_kept(tmp_path):
    reading = read(Book([hive(1), hive(2, "no such place"), hive(3)]), tmp_path)
    assert [colony.hive for colony in reading.colonies] == ["1", "3"]
    assert graded(reading, Grade.REFUSED) == [(3, "B (Where)", "register.site")]


def test_a_near_miss_of_a_name_is_taken_and_doubted(tmp_path):
    reading = read(Book([hive(1, "Heron Wodo"), hive(2, "Heron"), hive(3, " heron  WOOD ")]), tmp_path)
    assert {colony.site for colony in reading.colonies} == {"Heron Wood"}
    assert graded(reading, Grade.DOUBTFUL) == [
        (2, "B (Where)", "register.site-near"),
        (3, "B (Where)", "register.site-near"),
    ]


def test_the_second_row_of_a_hive_is_refused_and_names_the_first(tmp_path):
    reading = read(Book([hive(1), hive(7), hive(" 7", seen="1/4/26"), hive(8)]), tmp_path)
    assert [colony.hive for colony in reading.colonies] == ["1", "7", "8"]
    (finding,) = reading.refused
    assert (finding.where.row, "row 3" in finding.what) == (4, True)


def test_h007_and_7_are_kept_and_doubted(tmp_path):
    reading = read(Book([hive(7), hive("H007")]), tmp_path)
    assert [colony.hive for colony in reading.colonies] == ["7", "H007"]
    assert [code for _, _, code in graded(reading, Grade.DOUBTFUL)] == ["register.hive-alike"]


def test_headings_totals_blank_rows_and_notes_hold_no_hive(tmp_path):
    rows = [
        ["Pound Furlong"], hive(1), hive(2, None), [], ["LOWER RICKYARD (2 hives)"], hive(3, None), hive(4, '"'),
        ["check feeders before Friday"], hive(5, "lower rickyard "), list(HIVE_HEADS.values()), hive(6, None), ["total", 6],
    ]  # fmt: skip
    reading = read(Book(rows), tmp_path)
    assert [(colony.hive, colony.site) for colony in reading.colonies] == [
        ("1", "Pound Furlong"), ("2", "Pound Furlong"), ("3", "Lower Rickyard"), ("4", "Lower Rickyard"),
        ("5", "Lower Rickyard"), ("6", "Lower Rickyard"),
    ]  # fmt: skip
    assert {grade for finding in reading.findings if (grade := finding.grade)} == {Grade.NOTED}
    assert "total" in {finding.code.removeprefix("register.") for finding in reading.findings}


def test_a_total_that_differs_is_noted(tmp_path):
    reading = read(Book([hive(1), ["TOTAL", 6]]), tmp_path)
    assert (3, "", "register.total-differs") in graded(reading, Grade.NOTED)


def test_text_like_a_formula_and_an_unsaved_formula_stay_text_in_a_comment(tmp_path):
    assert only_hive(tmp_path, note="=weak").colonies[0].comment == "=weak"


def test_a_formula_without_its_result_is_refused_where_a_figure_is_needed(tmp_path):
    assert [code for _, _, code in graded(only_hive(tmp_path, brood="=A1+2"), Grade.REFUSED)] == [
        "register.brood"
    ]


def test_the_answer_has_the_agreed_shape_and_plain_values(tmp_path):
    answer = as_json(read(Book([hive("H007", brood=6.5), hive(2, "nowhere at all")]), tmp_path))
    assert json.loads(json.dumps(answer)) == answer
    assert answer["sites"][0] == {"name": "Pound Furlong", "grid": "SO3920075100", "capacity": 36}
    assert answer["colonies"] == [
        {
            "hive": "H007", "site": "Pound Furlong", "queen_year": 2025, "seen": "2026-04-14", "brood": 6.5,
            "supers": 1, "temper": 2,
        }
    ]  # fmt: skip
    (refused,) = [finding for finding in answer["findings"] if finding["grade"] == "refused"]
    assert set(refused) == {"sheet", "row", "column", "grade", "what", "mend"}
    assert (refused["sheet"], refused["row"], refused["column"]) == ("Hives", 3, "B (Where)")


def test_a_hive_whose_comment_says_it_is_dead_is_doubted_and_kept(tmp_path):
    reading = only_hive(tmp_path, note="Dead, wax moth")
    assert [colony.hive for colony in reading.colonies] == ["1"]
    assert [
        (found.code, found.grade, found.where.row)
        for found in reading.findings
        if found.grade is Grade.DOUBTFUL
    ] == [("register.comment-gone", Grade.DOUBTFUL, 2)]
    assert not [
        one for one in only_hive(tmp_path, note="deadline for frames").findings if one.grade is Grade.DOUBTFUL
    ]


def test_a_hive_said_to_be_dead_comes_in_as_ended_or_alive_as_the_person_says(tmp_path, sqlite_ledger):
    reading = only_hive(tmp_path, note="Dead, wax moth")
    with sqlite_ledger.read() as session:
        farm = farm_settings(session)
    alive = to_register(reading, "old.xlsx", farm, all_live=True)
    assert [hive.ended for hive in alive.hives] == [False]
    done = perform(sqlite_ledger, import_register, to_register(reading, "old.xlsx", farm))
    assert "1 colony (1 ended)" in done.sentence
    (colony,) = rows(sqlite_ledger, Colony)
    assert (colony.ended_on, colony.end_cause) == (date(2026, 4, 14), "unknown")
    assert sound(sqlite_ledger)


def test_grid_references_in_the_rows_of_hives_are_those_of_their_sites(tmp_path):
    file = tmp_path / "hives.csv"
    file.write_text(
        "Hive,Site,Grid ref,Queen year,Last visit,Brood\n"
        "1,Pound Furlong,SO 392 751,2025,14/4/2026,6\n"
        "2,Pound Furlong,,2024,14/4/2026,5\n"
        "3,Low Piece,,2024,14/4/2026,5\n",
        encoding="utf-8",
    )
    reading = read_register(file, TODAY)
    assert {site.name: site.grid for site in reading.sites} == {
        "Pound Furlong": "SO3920075100",
        "Low Piece": None,
    }
