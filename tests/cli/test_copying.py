"""A ledger is copied from a file to a server, and the copy proved, on the command line."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from tests.cli.commanding import Shell


def test_a_ledger_goes_to_a_server_and_the_answer_proves_it(
    shell: Shell, sample_file: Path, new_target: Callable[..., str]
) -> None:
    server = new_target("postgresql", migrated=False)
    answer = shell("copy", sample_file, server, "--json", "--today", "2026-05-14")
    assert answer.code == 0
    assert answer.data["alike"] is True
    assert answer.data["check"] == "clean"
    tables = {table["table"]: table for table in answer.data["tables"]}
    assert tables["colony"]["rows"] >= 40
    assert answer.data["rows"] == sum(table["rows"] for table in tables.values())
    assert shell("check", server).code == 0
    again = shell("copy", sample_file, server)
    assert again.code == 1
    assert "is not empty" in again.err


def test_a_copy_onto_a_ledger_that_is_there_is_refused_in_a_sentence(
    shell: Shell, sample_file: Path, tmp_path: Path
) -> None:
    there = tmp_path / "there.beeledger"
    there.write_bytes(sample_file.read_bytes())
    before = there.read_bytes()
    answer = shell("copy", sample_file, there)
    assert answer.code == 1
    assert "already" in answer.err
    assert there.read_bytes() == before


def test_a_copy_says_that_the_desks_must_open_it(shell: Shell, sample_file: Path, tmp_path: Path) -> None:
    answer = shell("copy", sample_file, tmp_path / "there.beeledger", "--today", "2026-05-14")
    assert answer.code == 0
    assert "counts, sums and hashes alike on both sides" in answer.out
    assert "From now on open the copy on every desk" in answer.out
