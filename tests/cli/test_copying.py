"""A ledger is copied from a file to a server, and the copy proved, on the command line."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from beeledger.base.clock import FixedClock
from beeledger.database.opening import open_ledger
from beeledger.database.papers import bytes_of, folder_for, place_of, take_in
from beeledger.operations.act import perform
from beeledger.operations.attachments import NewPaper, attach_file
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


def test_the_files_of_papers_go_to_the_server_and_home_again(
    shell: Shell, sample_file: Path, new_target: Callable[..., str], tmp_path: Path, clock: FixedClock
) -> None:
    photograph = tmp_path / "hive.jpg"
    photograph.write_bytes(b"a photograph of a hive" * 999)
    with closing(open_ledger(sample_file, clock)) as ledger:
        taken = take_in(ledger, photograph)
        perform(ledger, attach_file, NewPaper(taken, ("site", 1)))
    server, home = new_target("postgresql", migrated=False), tmp_path / "home.beeledger"
    there = shell("copy", sample_file, server, "--json", "--today", "2026-05-14")
    assert (there.code, there.data["papers"], there.data["check"]) == (0, 1, "clean")
    assert shell("copy", server, home, "--today", "2026-05-14").code == 0
    for target in (server, home):
        with closing(open_ledger(target, clock)) as ledger, ledger.read() as session:
            assert bytes_of(session, taken.sha256) == photograph.read_bytes()


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


def test_a_paper_whose_file_is_gone_does_not_stop_the_copy_and_its_check_names_it(
    shell: Shell, sample_file: Path, tmp_path: Path, clock: FixedClock
) -> None:
    names = ("notice.pdf", "lost.pdf")
    with closing(open_ledger(sample_file, clock)) as ledger:
        for name in names:
            (tmp_path / name).write_bytes(name.encode() * 99)
            taken = take_in(ledger, tmp_path / name)
            perform(ledger, attach_file, NewPaper(taken, ("site", 1)))
    place_of(folder_for(sample_file), taken.sha256).unlink()
    target = tmp_path / "there.beeledger"
    answer = shell("copy", sample_file, target, "--json", "--today", "2026-05-14")
    assert (answer.code, answer.data["papers"], answer.data["check"]) == (1, 1, "breached")
    assert ["lost.pdf" in finding["record"] for finding in answer.data["findings"]] == [True]
    with closing(open_ledger(target, clock)) as made:
        assert made.last_act() > 0
