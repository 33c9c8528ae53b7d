"""Every document of the catalogue, printed from the command line."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from beeledger.cli.papers import PAPERS
from beeledger.reporting.catalogue import DOCUMENTS, Document, Form
from beeledger.reporting.pictures import page_count
from tests.cli.commanding import Shell

TODAY = ("--today", "2026-05-14")


def test_there_is_a_way_to_print_each_document() -> None:
    assert set(PAPERS) == {each.key for each in DOCUMENTS}


@pytest.mark.parametrize("about", DOCUMENTS, ids=lambda about: about.key)
def test_the_newest_is_printed_when_none_is_named(
    shell: Shell, sample_file: Path, tmp_path: Path, about: Document
) -> None:
    out = tmp_path / "out"
    answer = shell(
        "print", about.key, "--from", sample_file, "--out", out, "--form", "both", "--json", *TODAY
    )
    assert answer.code == 0
    files = [Path(name) for name in answer.data["files"]]
    assert [file.suffix for file in files] == [f".{form.value}" for form in about.forms]
    assert page_count(files[0].read_bytes()) >= 1
    if Form.WORKBOOK in about.forms:
        assert openpyxl.load_workbook(files[1]).worksheets[0].max_row > 3


def test_one_is_chosen_by_its_name_and_written_to_the_file_named(
    shell: Shell, sample_file: Path, tmp_path: Path
) -> None:
    file = tmp_path / "rape.xlsx"
    answer = shell(
        "print",
        "movement-report",
        "--from",
        sample_file,
        "--id",
        "long acre rape 2025",
        "--out",
        file,
        *TODAY,
    )
    assert answer.code == 0
    rows = [str(cell.value) for row in openpyxl.load_workbook(file).worksheets[0].iter_rows() for cell in row]
    assert any("Long Acre rape 2025" in text for text in rows)


def test_a_name_nobody_knows_is_told_with_some_that_are_known(
    shell: Shell, sample_file: Path, tmp_path: Path
) -> None:
    answer = shell("print", "batch-record", "--from", sample_file, "--id", "XX99", "--out", tmp_path, *TODAY)
    assert answer.code == 1
    assert "There is no batch XX99. The first batches: TB25-" in answer.err


def test_labels_are_not_written_as_a_workbook(shell: Shell, sample_file: Path, tmp_path: Path) -> None:
    answer = shell("print", "label-sheet", "--from", sample_file, "--out", tmp_path / "x.xlsx", *TODAY)
    assert answer.code == 1
    assert "Labels is not written as a workbook." in answer.err
    assert not (tmp_path / "x.xlsx").exists()


def test_a_folder_that_cannot_be_written_is_told(shell: Shell, sample_file: Path, tmp_path: Path) -> None:
    wall = tmp_path / "wall"
    wall.write_text("a file", encoding="utf-8")
    answer = shell("print", "round-summary", "--from", sample_file, "--out", wall / "out", *TODAY)
    assert answer.code == 1
    assert "cannot be written" in answer.err


def test_a_recall_is_asked_for_by_a_mark_as_it_is_read_out(
    shell: Shell, sample_file: Path, tmp_path: Path
) -> None:
    out = tmp_path / "out"
    asked = ("print", "recall-paper", "--from", sample_file, "--out", out, "--json", *TODAY)
    file = Path(shell(*asked).data["files"][0])
    mark = file.stem.removeprefix("recall ")
    spoken = mark.replace("-", " ").lower()
    again = shell(*asked, "--id", spoken)
    assert (again.code, Path(again.data["files"][0]).name) == (0, f"recall {mark}.pdf")
    wrong = shell(*asked, "--id", f"{mark[:-1]}{(int(mark[-1]) + 1) % 10}")
    assert wrong.code == 1
    assert "check digits do not agree" in wrong.out + wrong.err
