"""Checking, backing up and restoring from the command line."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from pathlib import Path

from tests.cli.commanding import Shell


def test_a_sound_ledger_checks_clean(shell: Shell, sample_file: Path) -> None:
    answer = shell("check", sample_file, "--json")
    assert answer.code == 0
    assert answer.data["clean"] is True
    assert {line["breaches"] for line in answer.data["lines"]} == {0}


def test_a_breach_is_named_and_is_1(shell: Shell, sample_file: Path) -> None:
    with sqlite3.connect(sample_file) as file:
        file.execute("UPDATE honey_transfer SET grams = grams + 1 WHERE id = 1")
    file.close()
    answer = shell("check", sample_file)
    assert answer.code == 1
    assert "1 breach  the sum of the acts gives the present rows" in answer.out
    assert "honey_transfer" in answer.err


def test_a_backup_put_back_is_the_ledger_as_it_was(shell: Shell, sample_file: Path, tmp_path: Path) -> None:
    backed = shell("backup", sample_file, "--to", tmp_path / "stick", "--json", "--today", "2026-05-14")
    assert backed.code == 0
    with sqlite3.connect(sample_file) as file:
        file.execute("DELETE FROM due")
    file.close()
    restored = shell("restore", backed.data["backup"], "--into", sample_file, "--json")
    assert restored.code == 0
    assert Path(restored.data["aside"]).exists()
    with sqlite3.connect(sample_file) as file:
        ((due,),) = file.execute("SELECT count(*) FROM due").fetchall()
    file.close()
    assert due > 0


def test_what_is_no_ledger_is_told_in_a_sentence(shell: Shell, tmp_path: Path) -> None:
    file = tmp_path / "notes.beeledger"
    file.write_text("not a database", encoding="utf-8")
    for words in (("check", file), ("backup", file)):
        answer = shell(*words)
        assert answer.code == 1
        assert "notes.beeledger is no BeeLedger ledger." in answer.err
    missing = shell("check", tmp_path / "nowhere.beeledger", "--json")
    assert missing.code == 1
    assert missing.data["error"].startswith("There is no ledger at")
    assert not (tmp_path / "nowhere.beeledger").exists()


def test_a_backup_that_is_none_leaves_the_ledger_alone(
    shell: Shell, sample_file: Path, tmp_path: Path
) -> None:
    before = sample_file.read_bytes()
    file = tmp_path / "backup.db"
    file.write_text("no", encoding="utf-8")
    assert shell("restore", file, "--into", sample_file).code == 1
    assert sample_file.read_bytes() == before


def test_a_servers_ledger_is_backed_up_and_restored_into_an_empty_database(
    shell: Shell, new_target: Callable[..., str], tmp_path: Path
) -> None:
    server, empty = new_target("postgresql"), new_target("postgresql", migrated=False)
    backed = shell("backup", server, "--to", tmp_path / "stick", "--json", "--today", "2026-05-14")
    assert backed.code == 0
    restored = shell("restore", backed.data["backup"], "--into", empty, "--json")
    assert (restored.code, restored.data["aside"]) == (0, None)
    assert shell("check", empty).code == 0
    again = shell("restore", backed.data["backup"], "--into", empty)
    assert again.code == 1
    assert "is not empty" in again.err
