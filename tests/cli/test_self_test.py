"""The self-test says that all is well where it is, and what is wrong where it is not."""

from __future__ import annotations

import pytest

from beeledger.cli import self_test
from beeledger.cli.working_day import STEPS
from beeledger.database import backup as safety
from beeledger.database.checking.check import LINES
from beeledger.reporting import pictures
from tests.cli.commanding import Shell


@pytest.fixture(autouse=True)
def _without_the_window(monkeypatch: pytest.MonkeyPatch) -> None:
    """The last step is a program of its own; the installed wheel is tested with it."""
    monkeypatch.setattr(self_test, "STEPS", STEPS[:-1])


def test_a_sound_program_does_a_days_work_and_says_so_line_by_line(shell: Shell) -> None:
    answer = shell("self-test")
    assert answer.code == 0, answer.out
    *lines, last = answer.out.splitlines()
    assert [line[0] for line in lines] == ["✓"] * len(STEPS[:-1])
    assert last == "The program does its work here."


def test_a_backup_that_does_not_come_back_is_a_cross_and_1(shell: Shell, monkeypatch) -> None:
    monkeypatch.setattr(safety, "restore", lambda copy, file, clock: file)
    answer = shell("self-test", "--json")
    assert answer.code == 1
    crossed = [(step["words"], step["detail"]) for step in answer.data["steps"] if not step["good"]]
    assert crossed == [
        ("a backup is written, checked and restored", "ValueError: the ledger is not as it was backed up")
    ]


def test_labels_that_no_scanner_reads_are_a_cross(shell: Shell, monkeypatch) -> None:
    monkeypatch.setattr(pictures, "codes_on", lambda pdf: [])
    answer = shell("self-test", "--json")
    assert answer.code == 1
    (crossed,) = [step for step in answer.data["steps"] if not step["good"]]
    assert crossed["detail"].startswith("ValueError: the codes say []")


def test_without_a_ledger_nothing_else_is_tried(shell: Shell, monkeypatch, tmp_path) -> None:
    monkeypatch.setattr("beeledger.cli.working_day.Day.file", tmp_path / "no folder" / "trial.beeledger")
    answer = shell("self-test")
    assert answer.code == 1
    lines = answer.out.splitlines()
    assert lines[0].startswith("✗ a new ledger is made")
    assert "There is no folder" in lines[0]
    assert {line[0] for line in lines[1:-1]} == {"·"}


def test_the_whole_check_is_tried_what_is_due_included(shell: Shell) -> None:
    answer = shell("self-test", "--json")
    (checked,) = [step for step in answer.data["steps"] if step["words"] == "the ledger checks clean"]
    assert checked["detail"] == f"{len(LINES) + 1} lines"
