"""Files that are no workbook, damaged, locked, huge or plain text: a clear message, nothing half read."""

from __future__ import annotations

import time
from zipfile import ZIP_DEFLATED, ZipFile

import openpyxl
import pytest

from beeledger.base.errors import CannotNow
from beeledger.exchange.register import read_register
from beeledger.exchange.tables import Broken, column_letter, read_tables
from tests.exchange.register.farm_book import TODAY, Book, hive

CSV = "Hive;Site;Queen year;Colour;Brood;Last visit\n1;Heron Wood;2024;g;5;14/04/2026\n2;Tŷ Gwyn;'25;b;½;1 Mar 26\n"


def refusal(path):
    with pytest.raises(CannotNow) as caught:
        read_tables(path)
    assert caught.value.remedy
    return caught.value.sentence


def test_a_renamed_text_file_is_no_workbook(tmp_path):
    path = tmp_path / "hives.xlsx"
    path.write_text("Hive,Site\n1,Heron Wood\n")
    assert refusal(path) == "hives.xlsx is not a workbook, whatever its name ends in."


def test_an_empty_or_missing_file_a_folder_and_a_cut_off_workbook_say_so(tmp_path):
    empty, cut, missing = tmp_path / "empty.xlsx", tmp_path / "cut.xlsx", tmp_path / "none.xlsx"
    empty.write_bytes(b"")
    whole = Book([hive(1)]).save(tmp_path).read_bytes()
    cut.write_bytes(whole[: len(whole) // 2])
    assert refusal(empty) == "empty.xlsx is empty."
    assert refusal(missing) == "There is no file none.xlsx."
    assert "cannot be read" in refusal(tmp_path)
    assert "cut.xlsx is not a workbook" in refusal(cut)


def test_a_damaged_sheet_inside_a_workbook_is_said(tmp_path):
    source, path = Book([hive(1)]).save(tmp_path), tmp_path / "damaged.xlsx"
    with ZipFile(source) as old, ZipFile(path, "w") as new:
        for name in old.namelist():
            content = old.read(name)
            new.writestr(name, content[:300] if "worksheets/sheet2" in name else content)
    assert refusal(path) == "damaged.xlsx is damaged or is no workbook."


def test_old_and_locked_workbooks_are_told_apart(tmp_path):
    # The signature of a compound file ([MS-CFB] 2.2) and the stream of a locked one ([MS-OFFCRYPTO] 2.3.4.4).
    head = bytes.fromhex("D0CF11E0A1B11AE1") + bytes(600)
    old, locked = tmp_path / "old.xls", tmp_path / "locked.xlsx"
    old.write_bytes(head)
    locked.write_bytes(head + "EncryptedPackage".encode("utf-16-le") + bytes(100))
    assert "old kind" in refusal(old)
    assert "password" in refusal(locked)


def test_another_kind_of_archive_is_not_a_workbook(tmp_path):
    path = tmp_path / "photos.xlsx"
    with ZipFile(path, "w") as archive:
        archive.writestr("photo.txt", "no")
    assert refusal(path) == "photos.xlsx is not an Excel workbook."


def test_an_archive_that_unpacks_without_end_is_refused_unread(tmp_path):
    path = tmp_path / "bomb.xlsx"
    with ZipFile(path, "w", ZIP_DEFLATED) as archive:
        archive.writestr("[Content_Types].xml", "<x/>")
        with archive.open("xl/sharedStrings.xml", "w", force_zip64=True) as file:
            block = bytes(10_000_000)
            for _ in range(61):
                file.write(block)
    assert path.stat().st_size < 1_000_000
    assert "would unpack to 610 MB" in refusal(path)


def test_a_workbook_without_any_table_says_what_is_needed(tmp_path):
    path = tmp_path / "blank.xlsx"
    openpyxl.Workbook().save(path)
    with pytest.raises(CannotNow, match=r"No table of sites or hives was found in blank\.xlsx"):
        read_register(path, TODAY)


def test_a_million_blank_rows_are_not_waited_for(tmp_path):
    path = tmp_path / "long.xlsx"
    book = openpyxl.load_workbook(Book([hive(1), hive(2)]).save(tmp_path))
    book["Hives"].cell(1_048_576, 1).number_format = "0.00"
    book.save(path)
    begun = time.perf_counter()
    reading = read_register(path, TODAY)
    assert time.perf_counter() - begun < 2
    assert len(reading.colonies) == 2
    assert "register.stopped" in {finding.code for finding in reading.findings}


def test_a_workbook_that_misstates_its_size_is_read_whole(tmp_path):
    source, path = Book([hive(number) for number in range(1, 30)]).save(tmp_path), tmp_path / "misstated.xlsx"
    with ZipFile(source) as old, ZipFile(path, "w") as new:
        for name in old.namelist():
            new.writestr(name, old.read(name).replace(b'ref="A1:K30"', b'ref="A1:A1"'))
    assert len(read_register(path, TODAY).colonies) == 29


def test_error_values_and_formulas_without_results_are_broken_cells(tmp_path):
    path = tmp_path / "formulas.xlsx"
    book = openpyxl.Workbook()
    book.active.append(["#REF!", "=1+1", "text", None, 5])
    book.active["C1"].data_type = "s"
    book.save(path)
    (line,) = read_tables(path)[0].lines
    assert line.cells == (
        Broken("#REF!", "an error value"),
        Broken("=1+1", "a formula saved without its result"),
        "text",
        None,
        5,
    )


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
@pytest.mark.parametrize("mark", [";", ",", "\t"])
def test_text_tables_are_read_in_any_usual_encoding_and_with_any_usual_mark(tmp_path, encoding, mark):
    path = tmp_path / "hives.csv"
    path.write_bytes(CSV.replace(";", mark).encode(encoding))
    reading = read_register(path, TODAY)
    assert [(c.hive, c.site, c.queen_year, c.brood_tenths) for c in reading.colonies] == [
        ("1", "Heron Wood", 2024, 50),
        ("2", "Tŷ Gwyn", 2025, 5),
    ]


def test_a_text_table_from_an_old_windows_program_keeps_its_signs(tmp_path):
    path = tmp_path / "hives.csv"
    path.write_bytes(CSV.replace("Tŷ Gwyn", "Côte – ½ mile").encode("cp1252"))
    colony = read_register(path, TODAY).colonies[1]
    assert (colony.site, colony.brood_tenths) == ("Côte – ½ mile", 5)


def test_hidden_sheets_are_not_read_and_said(tmp_path):
    path = tmp_path / "hidden.xlsx"
    book = openpyxl.load_workbook(Book([hive(1)]).save(tmp_path))
    old = book.copy_worksheet(book["Hives"])
    old.title, old.sheet_state = "last year", "hidden"
    book.save(path)
    reading = read_register(path, TODAY)
    assert len(reading.colonies) == 1
    assert [f.where.sheet for f in reading.findings if f.code == "register.hidden"] == ["last year"]


def test_columns_are_lettered_as_spreadsheets_do():
    # ECMA-376 part 1, 18.3.1.4: columns A to XFD, 16,384 of them.
    assert [column_letter(at) for at in (0, 25, 26, 51, 701, 702, 16_383)] == [
        "A",
        "Z",
        "AA",
        "AZ",
        "ZZ",
        "AAA",
        "XFD",
    ]
