"""Cells of any content: the reading says what is wrong, never falls over, and counts every hive row."""

from __future__ import annotations

from datetime import datetime, time, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from beeledger.base.findings import Grade
from beeledger.exchange.register import as_json, read_register
from beeledger.exchange.register.blocks import Block, cut
from beeledger.exchange.register.headings import Kind
from beeledger.exchange.register.records import Remarks
from beeledger.exchange.tables import Broken, Line, Table, read_tables
from tests.exchange.register.farm_book import HIVE_HEADS, TODAY, Book, hive

ODD_CELLS = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-(10**20), 10**20),
    st.floats(allow_nan=True, allow_infinity=True),
    st.text(max_size=12),
    st.text(alphabet="0123456789 ½¼-–/.,'+?~frames", max_size=8),
    st.datetimes(min_value=datetime(1900, 1, 1), max_value=datetime(2100, 1, 1)),  # noqa: DTZ001
    st.builds(time),
    st.builds(timedelta, days=st.integers(0, 999)),
    st.sampled_from([Broken("#REF!", "an error value"), Broken("=A1", "a formula saved without its result")]),
    st.sampled_from(["Pound Furlong", "pound furlong ", "total", '"', "31/02", "Green", "y"]),
)


@settings(max_examples=300)
@given(st.lists(st.lists(ODD_CELLS, min_size=11, max_size=13), max_size=6), st.data())
def test_any_cells_under_headings_are_read_or_named(tmp_path_factory, rows, data):
    from beeledger.exchange.register import reading as room

    heads = list(HIVE_HEADS.values())
    sites = [
        ["Apiary", "Grid ref", "Room for"],
        ["Pound Furlong", data.draw(ODD_CELLS), data.draw(ODD_CELLS)],
    ]
    tables = [
        Table("s", tuple(Line(at, tuple(row)) for at, row in enumerate(sites, start=1))),
        Table("h", tuple(Line(at, tuple(row)) for at, row in enumerate([heads, *rows], start=1) if any(row))),
    ]
    reading = room.read_all(tables, TODAY, "any")
    as_json(reading)
    kept = {colony.where.row for colony in reading.colonies}
    refused = {finding.where.row for finding in reading.refused if finding.where.sheet == "h"}
    assert not kept & refused
    for colony in reading.colonies:
        assert colony.hive
        assert colony.site == "Pound Furlong"
        assert colony.brood_tenths is None or 0 <= colony.brood_tenths <= 330
        assert colony.seen is None or colony.seen <= TODAY
        assert colony.queen_year is None or 1990 <= colony.queen_year <= TODAY.year
        assert colony.temper in (None, 1, 2, 3, 4, 5)


def test_two_hundred_letters_accents_and_marks_come_in_whole(tmp_path):
    words = "Llanfair <b>&amp; ŵŷ 'quoted' \"twice\" " * 6
    (colony,) = read_register(Book([hive(1, note=words)]).save(tmp_path), TODAY).colonies
    assert colony.comment == " ".join(words.split())


def test_a_hundred_thousand_is_no_number_of_hives_a_site_has_room_for(tmp_path):
    book = Book([hive(1)], sites=[{"name": "Pound Furlong", "grid": "SO392751", "room": 100_000}])
    reading = read_register(book.save(tmp_path), TODAY)
    assert reading.sites[0].capacity is None
    assert [f.code for f in reading.findings if f.grade is Grade.DOUBTFUL] == ["register.capacity"]


def test_sheets_without_known_headings_are_noted_and_the_others_read(tmp_path):
    book = Book([hive(1)], site_sheet="SITES")
    path = book.save(tmp_path)
    import openpyxl

    opened = openpyxl.load_workbook(path)
    opened.create_sheet("jam recipes").append(["plums", "sugar"])
    opened.save(path)
    reading = read_register(path, TODAY)
    assert len(reading.colonies) == 1
    assert [f.where.sheet for f in reading.findings if f.code == "register.no-headings"] == ["jam recipes"]


def test_the_type_of_hive_under_the_heading_hive_is_not_taken_for_its_number(tmp_path):
    heads = {"type": "Hive", "hive": "No.", "site": "Where", "year": "Queen", "brood": "Brood"}
    (table, *_) = read_tables(Book([hive(5)], sites=None, hive_heads=heads).save(tmp_path))
    remarks = Remarks()
    (block,) = cut(table, remarks)
    assert isinstance(block, Block)
    assert block.heads.kind is Kind.HIVES
    assert (block.heads.columns["hive"], block.heads.columns["hive_type"]) == (1, 0)
