"""The old spreadsheet on the command line: shown, and written only when accepted."""

from __future__ import annotations

from pathlib import Path

from beeledger.base.clock import FixedClock
from beeledger.database.opening import open_ledger
from beeledger.queries.counts import farm_size
from tests.builders.sample_farm import EVENING
from tests.cli.commanding import Shell
from tests.exchange.register.farm_book import Book, hive

TODAY = ("--today", "2026-05-05")
ROWS = [
    hive(1),
    hive(2, "Heron Wood", brood=7.5, supers=0),
    hive(3, seen="31/02/2026"),
    hive(4, "Bell Acre", colour="Red"),
]


def _book(folder: Path, rows: list[dict[str, object]] | None = None) -> Path:
    return Book(ROWS if rows is None else rows).save(folder)


def _size(file: Path) -> tuple[int, int]:
    ledger = open_ledger(file, FixedClock(EVENING), create=False)
    try:
        with ledger.read() as session:
            size = farm_size(session)
    finally:
        ledger.close()
    return size.sites, size.colonies


def test_without_accept_nothing_is_written_and_refused_rows_are_1(shell: Shell, tmp_path: Path) -> None:
    file = tmp_path / "farm.beeledger"
    answer = shell("import", _book(tmp_path), "--into", file, *TODAY)
    assert answer.code == 1
    assert not file.exists()
    assert "4 sites and 3 hives read; findings: 1 refused" in answer.out
    assert "Would write: Imported register.xlsx: 4 sites, 3 colonies, 3 looks" in answer.out
    assert "refused: Hives, row 4, column G (Last looked at)" in answer.err


def test_without_accept_and_with_nothing_refused_it_is_0(shell: Shell, tmp_path: Path) -> None:
    file = tmp_path / "farm.beeledger"
    assert shell("import", _book(tmp_path, [hive(1)]), "--into", file, *TODAY).code == 0
    assert not file.exists()


def test_accepted_it_is_written_into_a_new_ledger(shell: Shell, tmp_path: Path) -> None:
    file = tmp_path / "farm.beeledger"
    answer = shell("import", _book(tmp_path), "--into", file, "--accept", *TODAY)
    assert answer.code == 0
    assert _size(file) == (4, 3)
    assert shell("check", file).code == 0


def test_the_json_has_exactly_what_was_promised(shell: Shell, tmp_path: Path) -> None:
    answer = shell("import", _book(tmp_path), "--into", tmp_path / "farm.beeledger", "--json", *TODAY)
    assert answer.code == 1
    assert set(answer.data) == {"sites", "colonies", "findings"}
    assert answer.data["sites"][0] == {"name": "Pound Furlong", "grid": "SO3920075100", "capacity": 36}
    assert answer.data["colonies"][1] == {
        "hive": "2", "site": "Heron Wood", "queen_year": 2025, "seen": "2026-04-14", "brood": 7.5, "supers": 0,
        "temper": 2,
    }  # fmt: skip
    refused = [row for row in answer.data["findings"] if row["grade"] == "refused"]
    assert [(row["sheet"], row["row"]) for row in refused] == [("Hives", 4)]
    assert set(refused[0]) == {"sheet", "row", "column", "grade", "what", "mend"}


def test_what_the_ledger_has_already_is_refused_and_told_beforehand(shell: Shell, tmp_path: Path) -> None:
    file, book = tmp_path / "farm.beeledger", _book(tmp_path, [hive(1)])
    assert shell("import", book, "--into", file, "--accept", *TODAY).code == 0
    for words in ((), ("--accept",)):
        answer = shell("import", book, "--into", file, "--json", *TODAY, *words)
        assert answer.code == 1
        assert "hive 1 is in the ledger already" in [row["what"] for row in answer.data["findings"]]
    assert _size(file) == (4, 1)


def test_doubtful_rows_are_left_out_when_asked(shell: Shell, tmp_path: Path) -> None:
    file = tmp_path / "farm.beeledger"
    words = ("--into", file, "--accept", "--without-doubtful", *TODAY)
    assert shell("import", _book(tmp_path), *words).code == 0
    assert _size(file)[1] == 2, "the red queen of a blue year stays out"


def test_a_renamed_text_file_is_told_in_a_sentence(shell: Shell, tmp_path: Path) -> None:
    file = tmp_path / "hives.xlsx"
    file.write_text("my hives are all well", encoding="utf-8")
    answer = shell("import", file, "--into", tmp_path / "farm.beeledger", "--json")
    assert answer.code == 1
    assert set(answer.data) == {"error", "remedy"}
    assert "Traceback" not in answer.err
